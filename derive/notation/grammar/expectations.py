"""From the token where the grammar stopped to a piece of a plain sentence: what was expected there."""

from __future__ import annotations

from collections.abc import Sequence

from lark.exceptions import UnexpectedToken

from derive.notation.failures import ReadError
from derive.notation.tokens.pieces import Piece
from derive.notation.tree import Span

_AFTER = {
    "PLUS": "something after the plus sign",
    "MINUS": "something after the minus sign",
    "PLUSMINUS": "something after the ± sign",
    "TIMES": "a factor after the multiplication sign",
    "SLASH": "something after the slash to divide by",
    "CARET": "an exponent after the ^",
    "LOWER": "a lower limit after the _",
    "NEGATE": "something after the minus sign",
    "REL": "something after the relation sign",
    "OPEN": "something inside the brackets",
    "COMMA": "something after the comma",
    "LEFT_BAR": "something between the upright bars",
    "OPENER": "a statement after the opening word",
    "OR": "another possibility after ‘or’",
    "FROM": "where the range begins, after ‘from’",
    "TO": "where the range ends, after ‘to’",
    "OVER": "a range after ‘over’, such as 0 ≤ x ≤ L",
    "RUNS": "‘from … to …’ after this word",
    "FRACTION": "two pairs of braces after \\frac",
    "EVALUATED": "limits after the upright bar, such as |_0^d",
    "SEPARATOR": "a statement after this",
}
_INSTEAD = {
    "PLUS": "something before the plus sign",
    "TIMES": "a factor before the multiplication sign",
    "SLASH": "something before the slash",
    "CARET": "a base before the ^",
    "LOWER": "a name before the _",
    "COMMA": "no comma here",
    "RIGHT_BAR": "something between the upright bars",
    "CLOSE": "something inside the brackets",
    "PRIMES": "a name before this prime",
    "EVALUATED": "something before the upright bar",
    "REL": "something before the relation sign",
}
_NEED_A_LEFT = frozenset(("TIMES", "SLASH", "CARET", "LOWER"))
_UNCLOSED = {
    "RIGHT_BAR": "a second upright bar to close this one",
}


def expectation(tokens: Sequence[Piece], found: UnexpectedToken, end: Span) -> ReadError:
    """The failure in words. `found.accepts` is what the grammar would have taken."""
    token = found.token
    at = next((i for i, t in enumerate(tokens) if t is token), len(tokens))
    before = tokens[at - 1] if at else None
    accepts = set(found.accepts or ())
    here = tokens[at].span if at < len(tokens) else Span(end.end, end.end)
    operand_wanted = "NUMBER" in accepts
    if operand_wanted and token.type in _NEED_A_LEFT:
        return ReadError(here, _INSTEAD[token.type])
    if before is not None and before.type in _AFTER and operand_wanted:
        return ReadError(before.span, _AFTER[before.type])
    if operand_wanted and token.type in _INSTEAD:
        return ReadError(here, _INSTEAD[token.type])
    if operand_wanted and before is None:
        return ReadError(here, "a statement here")
    if "RIGHT_BAR" in accepts and token.type != "RIGHT_BAR":
        bar = next((t for t in reversed(tokens[:at]) if t.type == "LEFT_BAR"), None)
        return ReadError(bar.span if bar else here, _UNCLOSED["RIGHT_BAR"])
    return ReadError(here, _other(token.type, before, accepts))


def _other(kind: str, before: Piece | None, accepts: set[str]) -> str:
    """What to say where an operand came to its end and something odd follows it."""
    if before is not None and before.type in ("RUNS", "FRACTION", "EVALUATED", "LOWER", "CARET"):
        return _AFTER[before.type]
    if accepts == {"OPEN"}:
        return _AFTER["FRACTION"]
    if kind == "REL":
        return "no relation sign inside these brackets"
    if kind == "COMMA":
        return "the end of the bracket instead of a comma"
    if kind == "CARET":
        return "brackets that say which power is meant, as in (a^b)^c or a^(b^c)"
    if kind == "LOWER":
        return "an upper limit as well, as in [x]_0^d"
    if "TO" in accepts:
        return "‘to’ and the end of the range"
    if "CARET" in accepts and "NUMBER" not in accepts:
        return "an upper limit after the lower one, such as _0^d"
    if kind == "$END":
        return "more after this"
    return "a plus, minus or relation sign before this"
