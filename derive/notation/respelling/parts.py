"""The parts of a complex number in words and letters: `Re(X e^(i ω t))`, `real part of z`, `Im z`."""

from __future__ import annotations

from dataclasses import replace

from derive.notation.lexemes.scanning import ENDS_CLAUSE, Lexeme
from derive.notation.names import Scope
from derive.notation.tree import Span

_LETTERS = {"Re": "ℜ", "Im": "ℑ"}
_WORDS = {"real": "ℜ", "imaginary": "ℑ"}
_ENDS = ENDS_CLAUSE | {"rel", "plus", "minus", "plusminus", "arrow"}


def with_parts(lexemes: list[Lexeme], scope: Scope) -> list[Lexeme]:
    """With one sign for each, and a bracket around the product that it is taken of."""
    out = _in_signs(lexemes, scope)
    for at in range(len(out) - 2, -1, -1):
        after = out[at + 1]
        if out[at].text in ("ℜ", "ℑ") and after.kind != "open":
            end = _end_of_product(out, at + 1)
            first, last = after.span.start, out[end - 1].span.end
            around = Lexeme("open", "(", Span(first, first)), Lexeme("close", ")", Span(last, last))
            out[at + 1:end] = [around[0], *out[at + 1:end], around[1]]
    return out


def _in_signs(lexemes: list[Lexeme], scope: Scope) -> list[Lexeme]:
    out: list[Lexeme] = []
    for at, x in enumerate(lexemes):
        after = lexemes[at + 1] if at + 1 < len(lexemes) else None
        said = [y.text.lower() for y in out[-2:]]
        if x.text.lower() == "of" and said[-1:] == ["part"] and said[0] in _WORDS and after is not None:
            out[-2:] = [_sign(replace(out[-2], span=Span(out[-2].span.start, x.span.end)), _WORDS[said[0]])]
        elif x.text in _LETTERS and not scope.knows(x.text) and after is not None and _is_operand(after):
            out.append(_sign(x, _LETTERS[x.text]))
        else:
            out.append(x)
    return out


def _sign(x: Lexeme, sign: str) -> Lexeme:
    return replace(x, kind="run", text=sign, value=None, places=(x.span,))


def _is_operand(x: Lexeme) -> bool:
    return x.kind == "open" or (x.kind == "run" and x.spaced)


def _end_of_product(lexemes: list[Lexeme], at: int) -> int:
    depth = 0
    for k in range(at, len(lexemes)):
        kind = lexemes[k].kind
        if not depth and k > at and (kind in _ENDS or kind == "close"):
            return k
        depth += (kind == "open") - (kind == "close")
    return len(lexemes)
