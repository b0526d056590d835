"""The grammar at work: tokens to raw nodes, and from a wrong token to words about what was expected."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import cache
from typing import Any, cast

from lark import Lark, Transformer
from lark.exceptions import UnexpectedToken, VisitError
from lark.lexer import Token

from derive.notation.failures import ReadError
from derive.notation.grammar import raw
from derive.notation.grammar.expectations import expectation
from derive.notation.grammar.grammar_files import grammar_text
from derive.notation.lexemes.scanning import Lexeme
from derive.notation.tokens.pieces import HandedOn, Piece
from derive.notation.tree import Num, Sign, Span


def parse_line(tokens: Sequence[Piece], end: Span) -> raw.RawLine:
    """A whole line; `end` is where it ends, for an error there."""
    return cast(raw.RawLine, _parse(tokens, "line", end))


def parse_claim(tokens: Sequence[Piece], end: Span) -> tuple[raw.RawStatement, ...]:
    return cast("tuple[raw.RawStatement, ...]", _parse(tokens, "claim", end))


def parse_expression(tokens: Sequence[Piece], end: Span) -> raw.RawSum:
    return cast(raw.RawSum, _parse(tokens, "expression", end))


def _parse(tokens: Sequence[Piece], start: str, end: Span) -> object:
    try:
        return _parser().parse(cast(Any, list(tokens)), start=start)
    except UnexpectedToken as found:
        raise expectation(tokens, found, end) from None
    except VisitError as found:
        if isinstance(found.orig_exc, ReadError):
            raise found.orig_exc from None
        raise


@cache
def _parser() -> Lark:
    return Lark(grammar_text(), parser="lalr", lexer=HandedOn, start=["line", "claim", "expression"],
                transformer=_ToRaw(), maybe_placeholders=False)


def _over(*parts: Any) -> Span:
    """The span from the first part to the last."""
    return Span(parts[0].span.start, parts[-1].span.end)


def _signs(parts: Sequence[Any]) -> tuple[Sign, ...]:
    return tuple(cast(Sign, "=" if p.value.startswith("equal") else p.value) for p in parts
                 if isinstance(p, Token) and p.type == "REL")


def _things(parts: Sequence[Any]) -> list[Any]:
    """The parts that are no tokens."""
    return [p for p in parts if not isinstance(p, Token)]


class _ToRaw(Transformer[Token, Any]):
    """One method a rule of the grammar, in the grammar's order."""

    # line.lark

    def line(self, parts: list[Any]) -> raw.RawLine:
        row = next(p for p in parts if not isinstance(p, Token))
        first = parts[0].payload if isinstance(parts[0], Piece) else None
        last = parts[-1].payload if isinstance(parts[-1], Piece) else None
        return raw.RawLine(tuple(row), first, last)

    def only_words(self, parts: list[Any]) -> raw.RawLine:
        return raw.RawLine((), parts[0].payload)

    def row(self, parts: list[Any]) -> list[raw.RawStatement]:
        if not isinstance(parts[0], list):
            return [parts[0]]
        so_far: list[raw.RawStatement] = parts[0]
        joint = parts[1].payload if len(parts) == 3 else None
        so_far.append(replace(parts[-1], joint=joint))
        return so_far

    def opened(self, parts: list[Any]) -> raw.RawStatement:
        statement: raw.RawStatement = parts[1]
        return replace(statement, opening=str(parts[0]), span=_over(*parts))

    def plain_statement(self, parts: list[Any]) -> raw.RawStatement:
        return raw.RawStatement(tuple(_things(parts)), _over(*parts))

    def runs(self, parts: list[Any]) -> raw.RawRange:
        side, lower, upper = _things(parts)
        return raw.RawRange(side, lower, upper, _over(*parts))

    def relation(self, parts: list[Any]) -> raw.RawRelation:
        return raw.RawRelation(tuple(_things(parts)), _signs(parts), False, _over(*parts))

    def continued(self, parts: list[Any]) -> raw.RawRelation:
        return raw.RawRelation(tuple(_things(parts)), _signs(parts), True, _over(*parts))

    def claim(self, parts: list[Any]) -> tuple[raw.RawStatement, ...]:
        return tuple(_things(parts))

    def expression(self, parts: list[Any]) -> raw.RawSum:
        return cast(raw.RawSum, parts[0])

    # mathematics.lark

    def sum(self, parts: list[Any]) -> raw.RawSum:
        terms: list[tuple[str, raw.RawTerm]] = []
        sign = ""
        for part in parts:
            if isinstance(part, Token):
                sign = str(part)
            else:
                terms.append((sign, part))
                sign = ""
        return raw.RawSum(tuple(terms), _over(*parts))

    def evaluated(self, parts: list[Any]) -> raw.RawEvaluated:
        body, (lower, upper) = _things(parts)
        return raw.RawEvaluated(body, lower, upper, Span(body.span.start, upper.span.end))

    def evaluated_at(self, parts: list[Any]) -> raw.RawEvaluated:
        body, lower = _things(parts)
        return raw.RawEvaluated(body, lower, None, _over(*parts))

    def between_words(self, parts: list[Any]) -> raw.RawRanged:
        body, lower, upper = _things(parts)
        return raw.RawRanged(body, (lower, upper), _over(*parts))

    def over_range(self, parts: list[Any]) -> raw.RawRanged:
        body, limits = _things(parts)
        if not isinstance(limits, raw.RawNamedLimit):
            raise ReadError(limits.span, "a range after ‘over’, such as 0 ≤ x ≤ L")
        return raw.RawRanged(body, limits, _over(*parts))

    def product(self, parts: list[Any]) -> raw.RawProduct:
        return raw.RawProduct(tuple(parts), _over(*parts))

    def joined(self, parts: list[Any]) -> raw.RawJoined:
        return raw.RawJoined(str(parts[0]), len(parts) == 3, parts[-1], _over(*parts), parts[0].span)

    def power(self, parts: list[Any]) -> raw.RawPower:
        base, exponent = _things(parts)
        return raw.RawPower(base, exponent, _over(*parts))

    def evaluated_group(self, parts: list[Any]) -> raw.RawEvaluatedGroup:
        body, lower, upper = _things(parts)
        return raw.RawEvaluatedGroup(body, lower, upper, _over(*parts))

    def integral(self, parts: list[Any]) -> raw.RawIntegral:
        lower, upper = parts[1]
        return raw.RawIntegral(lower, upper, parts[0].span)

    def integral_over(self, parts: list[Any]) -> raw.RawIntegral:
        raise ReadError(parts[-1].span, "an upper limit as well (∫_0^d), or no limits at all")

    def integral_bare(self, parts: list[Any]) -> raw.RawIntegral:
        return raw.RawIntegral(None, None, parts[0].span)

    def negative_argument(self, parts: list[Any]) -> raw.RawNegativeArgument:
        return raw.RawNegativeArgument(parts[0].span)

    def negative(self, parts: list[Any]) -> raw.RawNegative:
        return raw.RawNegative(parts[1], _over(*parts))

    def limits(self, parts: list[Any]) -> tuple[raw.RawExponent, raw.RawExponent]:
        lower, upper = _things(parts)
        return lower, upper

    def limits_reversed(self, parts: list[Any]) -> tuple[raw.RawExponent, raw.RawExponent]:
        upper, lower = _things(parts)
        return lower, upper

    def number(self, parts: list[Any]) -> raw.RawNumber:
        lexeme: Lexeme = parts[0].payload
        assert isinstance(lexeme.value, Num)
        return raw.RawNumber(lexeme.value, lexeme.span)

    def letters(self, parts: list[Any]) -> raw.RawLetters:
        return raw.RawLetters(parts[0].payload, parts[0].span)

    def root(self, parts: list[Any]) -> raw.RawRoot:
        return raw.RawRoot("cbrt" if parts[0] == "∛" else "sqrt", parts[0].span)

    def group(self, parts: list[Any]) -> raw.RawGroup:
        primes = len(parts[-1]) if parts[-1].type == "PRIMES" else 0
        return raw.RawGroup(parts[1], _over(*parts), str(parts[0]), primes)

    def named_limit(self, parts: list[Any]) -> raw.RawNamedLimit:
        return raw.RawNamedLimit(parts[1], _over(*parts))

    def tuple(self, parts: list[Any]) -> raw.RawTuple:
        return raw.RawTuple(tuple(_things(parts)), _over(*parts))

    def bars(self, parts: list[Any]) -> raw.RawBars:
        return raw.RawBars(parts[1], _over(*parts))

    def fraction(self, parts: list[Any]) -> raw.RawFraction:
        return raw.RawFraction(parts[1], parts[2], _over(*parts))
