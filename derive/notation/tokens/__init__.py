"""Lexemes to the tokens of the grammar: which runs of letters are words, and where a statement ends."""
