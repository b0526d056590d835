"""A unit behind a formula in figures and one letter, which is that of what it gives: `F = 10 + 2x N`,
`F = 300 e^(-x/2) N`, `U = (x³ - 3x) J`.

Set in a bracket behind the whole, on the lexemes; otherwise its N would be a name that multiplies the last term.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from derive.notation.grouping.amounts import unit_run
from derive.notation.lexemes.scanning import ENDS_CLAUSE, Lexeme
from derive.notation.lists.vocabulary import JOINING, OPENING
from derive.notation.names import Scope, canonical
from derive.notation.tree import Span

# What a force, an energy or a power goes with, in figures.
_LETTERS = frozenset("xyzsrvt")
_FUNCTIONS = frozenset(("e", "exp", "sin", "cos", "π", "pi"))
_RECKONED_WITH = frozenset(("number", "plus", "minus", "times", "slash", "caret", "raised", "open", "close"))
_UNITS = {"F": ("N", "kN"), "f": ("N",), **dict.fromkeys(("U", "E", "W"), ("J", "kJ")), "P": ("W", "kW"),
          **dict.fromkeys(("v", "u"), ("m/s",)), "a": ("m/s²", "m/s^2", "m/s2"), "ω": ("rad/s",)}


def with_units_of_formulas(lexemes: list[Lexeme], scope: Scope) -> list[Lexeme]:
    """The lexemes with such a unit in a bracket, as in `F = (10 + 2x) [N]`."""
    start = next((k + 1 for k, x in enumerate(lexemes) if x.text == "="), 0)
    end = next((k for k in range(start, len(lexemes)) if _ends(lexemes[k])), len(lexemes))
    first = next((k for k in range(end - 1, start, -1) if lexemes[k].spaced), start)
    unit = lexemes[first:end]
    if first == start or not scope.quick or _typed(unit) not in _units_of(lexemes[:start - 1]) or any(
            x.kind == "run" and (scope.knows(canonical(x.text)) or unit_run(x) is None) for x in unit):
        return lexemes
    formula = lexemes[start:first]
    if not _is_a_formula(formula):
        return lexemes
    bracketed = formula[0].kind == "open" and _closes(formula) == len(formula) - 1
    whole = formula if bracketed else [
        _sign("open", "(", formula[0].span.start), *formula, _sign("close", ")", formula[-1].span.end)]
    behind = [_sign("open", "[", unit[0].span.start), replace(unit[0], kind="unit", spaced=False), *unit[1:],
              _sign("close", "]", unit[-1].span.end)]
    return [*lexemes[:start], *whole, *behind, *lexemes[end:]]


def _typed(unit: Sequence[Lexeme]) -> str:
    """`m/s²` of its lexemes."""
    return "".join("²" if x.kind == "raised" and x.text == "2" else x.text for x in unit)


def _ends(some: Lexeme) -> bool:
    return some.kind in ENDS_CLAUSE or some.kind == "rel" or some.text in JOINING or some.text in OPENING


def _units_of(head: Sequence[Lexeme]) -> tuple[str, ...]:
    """The units of what a line gives: of the F of `F = …`, `F(x) = …`."""
    if not head or head[0].kind != "run" or any(_ends(x) for x in head):
        return ()
    called = len(head) == 4 and head[1].text == "(" and head[3].text == ")" and head[2].text in _LETTERS
    return _UNITS.get(canonical(head[0].text).partition("_")[0], ()) if len(head) == 1 or called else ()


def _is_a_formula(some: Sequence[Lexeme]) -> bool:
    """Figures and one letter, in which a term or a power of that letter is met."""
    runs = {x.text for x in some if x.kind == "run"}
    letters = runs - _FUNCTIONS
    return len(letters) == 1 and letters <= _LETTERS and any(x.kind == "number" for x in some) and all(
        x.kind == "run" or x.kind in _RECKONED_WITH for x in some)


def _closes(some: Sequence[Lexeme]) -> int:
    """Where the bracket that opens first is closed."""
    depth = 0
    for k, x in enumerate(some):
        depth += (x.kind == "open") - (x.kind == "close")
        if not depth:
            return k
    return -1


def _sign(kind: str, text: str, at: int) -> Lexeme:
    return Lexeme(kind, text, Span(at, at), kind == "open")  # type: ignore[arg-type]
