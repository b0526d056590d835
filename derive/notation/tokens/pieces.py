"""Finished tokens, and the lexer that only hands them on: which token a letter is depends on the declared names."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from lark.lexer import Lexer, Token

from derive.notation.tree import Span


class Piece(Token):
    """A token that carries its lexeme (or its joint) and its place in the typed line."""

    payload: Any
    span: Span
    spaced: bool

    @classmethod
    def make(cls, kind: str, text: str, span: Span, payload: object = None, spaced: bool = False) -> Piece:
        piece = cls(kind, text)
        piece.payload, piece.span, piece.spaced = payload, span, spaced
        return piece


class HandedOn(Lexer):
    """Lexing has been done: the parser is given a list of tokens and this class passes them on."""

    def __init__(self, lexer_conf: object) -> None:
        pass

    def lex(self, data: Sequence[Token]) -> Iterator[Token]:  # type: ignore[override]
        yield from data
