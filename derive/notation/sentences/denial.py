"""What `unless` says: the contrary of the condition behind it, `if not`, `except where`."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from derive.notation.failures import ReadError
from derive.notation.lexemes.scanning import Lexeme
from derive.notation.tree import Both, Claim, Either, Relation, Sign, Span

UNLESS = "unless"
_CONTRARY: dict[str, Sign] = {"=": "≠", "≠": "=", "<": "≥", "≥": "<", ">": "≤", "≤": ">"}
_ALSO_SAID = frozenset((("if", "not"), *(("except", word) for word in ("if", "when", "where", "for", "at"))))


def with_denials(lexemes: Sequence[Lexeme]) -> list[Lexeme]:
    """`v = 0 except when x = 0`, `if not A = 0`: with the word for it."""
    out: list[Lexeme] = []
    for x in lexemes:
        if out and (out[-1].text.lower(), x.text.lower()) in _ALSO_SAID:
            out[-1] = replace(out[-1], text=UNLESS, span=Span(out[-1].span.start, x.span.end))
        else:
            out.append(x)
    return out


def denied(claim: Claim, span: Span) -> Claim:
    """The contrary of a condition: of `A = B = 0`, that one of them is not; raises ReadError where there is none."""
    if isinstance(claim, Both | Either):
        turned = Either if isinstance(claim, Both) else Both
        return turned(tuple(denied(part, span) for part in claim.parts), span=claim.span)
    if not set(claim.signs) <= _CONTRARY.keys():
        raise ReadError(span, "what is not so, as in ‘unless v = 0’")
    # All of a chain hang on its last side: A = B = 0 is A = 0 and B = 0.
    last = claim.sides[-1]
    equal = len(claim.sides) > 2 and set(claim.signs) == {"="}
    rights = (last,) * len(claim.signs) if equal else claim.sides[1:]
    pairs = list(zip(claim.sides, rights, strict=False))
    parts = tuple(
        Relation(pair, (_CONTRARY[sign],), span=claim.span) for pair, sign in zip(pairs, claim.signs, strict=True))
    return parts[0] if len(parts) == 1 else Either(parts, span=claim.span)
