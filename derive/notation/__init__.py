"""Text of a line to trees, and trees back to text.

The rooms, each looking only at those before it:

    lists       lists of words and units, sorted by what they do. No behaviour beyond looking up
    lexemes     typed text to lexemes: look-alikes folded together, letters split into names, numbers and signs found
    tokens      lexemes to the tokens of the grammar: which runs of letters are words, and where a statement ends
    grammar     the grammar at work: tokens to raw nodes, and words about what was expected where it stopped
    grouping    raw nodes to trees: how a row of factors is grouped, which letters behind a number are its unit
    sentences   trees to statements: which opening word says what of which relation
    respelling  what hurried writers leave out or say in words, set as signs before a line is read
    printed     trees printed: as plain text that reads back, as LaTeX, as MathML

The face of it all: `names` (Scope, canonical), `reader` (read_line, read_claim, read_expression), `printed.printing`
(as_text), `printed.latex` (as_latex), `printed.mathml` (as_mathml), `page` (notation_page). They are imported from
their own modules, because derive.records needs `tree` before anything else here exists.
"""
