"""In which order the readings of a line are tried.

Dimensions settle whether letters after a number are a unit, as far as dimensions are known. Where nothing was
declared, the size of the number and the letters' earlier use do. Truth is not looked at here.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import replace

from derive.notation.grouping.unit_letters import RARELY_UNITS
from derive.notation.names import TIME, Scope
from derive.notation.tree import (
    Claim,
    Expr,
    Name,
    Num,
    Power,
    Product,
    Relation,
    Span,
    Statement,
    Unit,
    Value,
    names_in,
    rebuilt,
    walk,
)
from derive.quantities.dimension_words import has_a_word
from derive.quantities.dimensions import Dimensions, is_a_value_with_unit
from derive.quantities.unit_ends import could_be_coefficient, has_names_for_a_unit
from derive.quantities.unit_table import dimension
from derive.quantities.units import UnreadUnit, parse_unit_text, unit
from derive.quantities.usual import could_be, is_usual
from derive.quantities.weights import is_so_many_g
from derive.records import Choice, LineVerdict, Reading, Standing

# Lines of a page that tell whether values with units are about.
_LOOKED_BACK = 40
# Letters that in mechanics are far more often names than these units, whatever stands before them.
ELECTRIC = frozenset(("V", "A", "C", "F", "H", "S", "T", "K", "Ω"))
# Units that are weights and frictions rather, where no value is given outright.
_WEIGHTS = frozenset(("mg", "μg"))
_CHANGED = re.compile(r"(?<![^\W\d_])d([^\W\d_])(?![^\W\d_])")
_WEIGHT = re.compile(r"\d\s*([mμ])g")
# Units made of two letters that are met as such however the letters are used elsewhere.
_COMPOUNDS = ({"m", "s"}, {"N", "m"}, {"N", "s"}, {"J", "s"})
# What single letters usually stand for, as far as units of one letter could be theirs.
_CUSTOM = {
    dimension(kg=1): ("m", "M"), dimension(s=1): ("t", "τ", "T"), dimension(m=1): tuple("xyzsdhHlLrRD"),
    dimension(kg=1, m=1, s=-2): ("F", "N", "W"), dimension(kg=1, m=2, s=-2): ("E", "W", "U"),
}


def likeliest_first(
    readings: Sequence[Reading], dimensions: Dimensions, scope: Scope, above: Sequence[LineVerdict] = ()
) -> list[Reading]:
    """Readings in which every statement can be homogeneous first, then those whose units are likely as units and
    whose names as names; otherwise in the reader's order. `above` are the lines read so far."""
    readings = _as_called_above(_as_read_before(_of_something_else(_with_one_time(readings)), above), above)
    if len(readings) == 1:
        return list(readings)
    numeric = any(_has_units(x.reading) for x in above[-_LOOKED_BACK:] if x.reading is not None)
    measured = numeric or not scope.quick
    return sorted(readings, key=lambda r: (
        _brings_in_for_a_unit(r, scope, measured), not scope.quick and has_names_for_a_unit(r, dimensions),
        _misfits(r, dimensions, scope), _unlikely(r, scope, numeric)))


def _brings_in_for_a_unit(reading: Reading, scope: Scope, numeric: bool) -> bool:
    """`E = ½ m v² = 18 N` among values with units, with an N that nobody has met: what ends in a number and a unit is a
    value, though it be one that does not fit."""
    nodes = [n for s in reading.statements for n in walk(s)]
    equated = [n for n in nodes if isinstance(n, Relation) and set(n.signs) == {"="}]
    before = [side for n in equated for side in n.sides[:-1]]
    numeric = numeric or any(map(is_a_value_with_unit, before))
    ends = [n.sides[-1] for n in equated if any(
        is_a_value_with_unit(side) or (names_in(side) and all(map(scope.knows, names_in(side))))
        for side in n.sides[:-1])]
    known = {n.sides[0].ident for n in nodes if gives_a_value(n)} | {"g"}  # type: ignore[attr-defined]
    return any(
        _holds(end, choice.span) and _made_up(choice, end, nodes, numeric, lambda n: n in known or scope.knows(n))
        for choice in reading.choices if choice.kind == "unit" for end in ends)


def _made_up(choice: Choice, end: Expr, nodes: Sequence[object], numeric: bool, knows: Callable[[str], bool]) -> bool:
    """Is a side a number and names in the place of a unit, some of which nobody has met? Those of `1.5 m/s` are none on
    a page of plain numbers either; and `20 m/s` are no 20 masses a second."""
    inside = [n for n in nodes if _within(n, choice.span)]
    names = {n.ident for n in inside if isinstance(n, Name)}
    new = {n for n in names if not knows(n)}
    mixed = any(isinstance(n, Unit) for n in inside)
    sure = numeric or (len(names) > 1 and new == names)
    return bool(names) and sure and set(names_in(end)) == names and (mixed or bool(new))


def _as_called_above(readings: Sequence[Reading], above: Sequence[LineVerdict]) -> Sequence[Reading]:
    """`g = G M(r)/r²` below `M(r) = M r³/R³`: what a line has given as a function, and no product."""
    given = {
        s.claim.sides[0] for x in above if x.reading is not None for s in x.reading.statements
        if isinstance(s.claim, Relation) and _is_called(s.claim.sides[0])}
    asked = [sum(n in given for s in r.statements for n in walk(s)) for r in readings]
    if not any(asked):
        return readings
    found = [r for r, count in zip(readings, asked, strict=True) if count == max(asked)]  # `g(r) = G M(r)/r²`
    return sorted(found, key=lambda r: -sum(isinstance(n, Value) for s in r.statements for n in walk(s)))


def _is_called(node: object) -> bool:
    return isinstance(node, Value) or (isinstance(node, Name) and node.ident.endswith(")"))  # M(r), beside an M


def _with_one_time(readings: Sequence[Reading]) -> Sequence[Reading]:
    """Without those in which t is now the time and now tonnes, or tonnes in an exponent: `3 e^(-2 t) + 2 e^(-3 t)`; nor
    are there square tonnes: `3 t²`."""
    def mixes(reading: Reading) -> bool:
        nodes = [n for s in reading.statements for n in walk(s)]
        heads = {id(n.sides[0]) for n in nodes if isinstance(n, Relation)}  # `m = 12 t, t = 3 s`
        raised = any(n.base == Unit("t") or Unit("t") in walk(n.exponent) for n in nodes if isinstance(n, Power))
        timely = Unit("t") in nodes and any(n == Name("t") and id(n) not in heads for n in nodes)
        return raised or timely or any(isinstance(n, Relation) and _weighs_in_grams(n) for n in nodes)

    return [r for r in readings if not mixes(r)] or readings


def _of_something_else(readings: Sequence[Reading]) -> Sequence[Reading]:
    """Without those in which something is so many times itself: of an N that is nothing, `N = 300 N` would be so."""
    def of_itself(node: object) -> bool:
        name = node.sides[0] if isinstance(node, Relation) and len(node.sides) == 2 else None
        side = node.sides[1] if isinstance(node, Relation) else None
        return isinstance(name, Name) and isinstance(side, Product) and len(side.factors) == 2 and (
            isinstance(side.factors[0], Num) and side.factors[1] == name)

    return [r for r in readings if not any(of_itself(n) for s in r.statements for n in walk(s))] or readings


def _weighs_in_grams(relation: Relation) -> bool:
    """`M g · 4 = 3000 g · 12` with grams on one side: a g on either side is one, unless a number is put in for it."""
    sides = [list(walk(side)) for side in relation.sides]
    grams = [side for side in sides if Unit("g") in side]
    put_in = any(isinstance(n, Num) and 9 < n.value <= 10 for side in grams for n in side)
    return 0 < len(grams) < len(sides) and not put_in and all(
        Name("g") in side and names_in(relation.sides[k]) != ("g",)
        for k, side in enumerate(sides) if side not in grams) and all(
        sum(isinstance(n, Num) for n in side) > 1 for side in grams)


_HOLDING = (Standing.FOLLOWS, Standing.FOLLOWS_IF, Standing.APPROXIMATES, Standing.TAKEN)


def _as_read_before(readings: Sequence[Reading], above: Sequence[LineVerdict]) -> Sequence[Reading]:
    """The readings in which `cos ω t` is what it was in a line above that holds: nobody means another thing by it."""
    if len(readings) == 1:
        return readings
    settled = {
        (c.kind, c.typed): c.taken for x in above if x.reading is not None
        and all(v.standing in _HOLDING for v in x.verdicts) for c in x.reading.choices if c.kind == "argument"}
    kept = [r for r in readings if all(settled.get((c.kind, c.typed), c.taken) == c.taken for c in r.choices)]
    return kept or readings


def _misfits(reading: Reading, dimensions: Dimensions, scope: Scope) -> tuple[int, int]:
    """How many statements fit only if plain numbers stand for quantities, or not even so; and how many not even so."""
    strictly = [
        s.claim for s in reading.statements if s.claim is not None and dimensions.examine_strictly(s.claim) is not None
        and not (scope.quick and _measures_its_name(s.claim, scope))]
    return len(strictly), sum(dimensions.examine(c) is not None for c in strictly)


def _measures_its_name(claim: Claim, scope: Scope) -> bool:
    """`t = 10 ln 2 = 6.93 s`, though t stood in `e^(-0.1 t)`, `D = 0.6 v² = 240 N`: a page of numbers may give its
    results units."""
    if not isinstance(claim, Relation) or not isinstance(claim.sides[0], Name) or names_in(claim.sides[-1]) or any(
            isinstance(n, Unit) for side in claim.sides[:-1] for n in walk(side)):
        return False
    units = {n.ident for n in walk(claim.sides[-1]) if isinstance(n, Unit)}
    numbers = [n for n in walk(claim.sides[-1]) if isinstance(n, Num)]
    if len(units) != 1 or not numbers:
        return False
    unheard = not any(map(scope.knows, units)) and not could_be_coefficient(numbers[0])
    return unheard or _is_customary(claim.sides[0].ident, units)


def _has_units(reading: Reading) -> bool:
    return any(_measures(n) for s in reading.statements for n in walk(s))


def _measures(node: object) -> bool:
    """Is it a unit of something? Below `θ = 60°` alone, `T = 2mg` is no mass."""
    found = unit(node.ident) if isinstance(node, Unit) else None
    return found is not None and found.dimension != dimension()


def _unlikely(reading: Reading, scope: Scope, numeric: bool) -> int:
    """How many places are read against the likelier way."""
    nodes = [n for s in reading.statements for n in walk(s)]
    numeric = numeric or any(_measures(n) and not _in_doubt(n, reading, nodes) for n in nodes)
    return sum(
        (c.kind == "unit" and _read_unlikely(c, reading.statements, scope, numeric)) or (
            c.kind == "slash" and c.plain and scope.quick and _TIGHT_BELOW.fullmatch(c.typed) is not None)
        for c in reading.choices)


def _in_doubt(node: object, reading: Reading, nodes: Sequence[object]) -> bool:
    """Is a unit, as read here, a letter behind a number that is no value told: could it be a name as well, so that it
    does not show that values are about?"""
    return any(
        c.kind == "unit" and _within(node, c.span) and not any(_is_value(n, c.span) for n in nodes)
        for c in reading.choices)


# `v²/2g`, `p²/2m`: what stands close behind the figure is below the line with it. `1/2mv²`, `m/2v²` are halves.
_LETTER = r"[^\W\d_²³⁴½⅓⅔¼¾₀-₉]"
_TIGHT_BELOW = re.compile(
    rf"[^/]*{_LETTER}[^/]*/\d+(?!(?:sin|cos|tan|cot|ln|log|exp|sqrt|e\^)){_LETTER}+[\d₀-₉]*", re.IGNORECASE)


def _read_unlikely(choice: Choice, statements: Sequence[Statement], scope: Scope, numeric: bool) -> bool:
    """Where values with units are about, letters after a number are a unit too; where there are none, a small whole
    number before a letter that is a name, or mostly is one, is a coefficient."""
    nodes = [n for s in statements for n in walk(s)]
    inside = [n for n in nodes if _within(n, choice.span)]
    numbers = [n for n in inside if isinstance(n, Num)]
    names = {n.ident for n in inside if isinstance(n, Name)}
    outside = {n.sides[0].ident for n in nodes if gives_a_value(n)}  # type: ignore[attr-defined]
    coefficient = bool(numbers) and could_be_coefficient(numbers[0]) and not numeric
    value_of = next((n.sides[0].ident for n in nodes if _is_value(n, choice.span)), "")  # type: ignore[attr-defined]
    plainly = _told_by_its_place(choice, nodes, inside, scope, numeric) if scope.quick else ""
    if plainly:
        return bool(names) == (plainly == "unit")
    if names:
        if value_of and (numeric or _is_customary(value_of, names)):
            return True
        if not numbers and _is_a_factor(choice, names, nodes):
            return False
        new = {n for n in names if (not scope.knows(n) and n not in outside) or not scope.quick}
        return bool(new) and not coefficient and (numeric or not new & ELECTRIC)
    letters = {n.ident for n in inside if isinstance(n, Unit)}
    if not numbers and scope.quick and _is_a_factor(choice, letters, nodes):
        return True
    value = bool(value_of and numbers) and not could_be_coefficient(numbers[0])
    if scope.quick and letters & outside and not value and not _is_customary(value_of, letters) and not any(
            _is_of_its_kind(n, choice.span) for n in nodes):
        return True  # `t = √(2 s/a), s = 3 m`; but `k = 800 N/m, m = 50 g`
    spelt = bool(letters) and all(len(u) > 1 and all(map(scope.knows, u)) for u in letters)
    if scope.quick and spelt and numbers and could_be_coefficient(numbers[0]) and not _is_customary(value_of, letters):
        return True  # `T = 2mg` where m and g are about
    if scope.quick and coefficient and letters and letters <= _WEIGHTS and not value_of:
        return True  # `u²/2μg`, `μN = 3mg`
    if scope.quick and letters & ELECTRIC and all(map(scope.knows, letters)) and value_of not in letters:
        return True  # `K2 = 1.44 K`, `a = 2 F/m`
    if scope.quick and coefficient and letters & ELECTRIC and (len(letters) > 1 or not value_of):
        return True  # `v = √(2K/m)`, `a = 2F/m`, and nothing is about that has a temperature or a capacity
    apart = _are_apart(letters, choice)
    if not scope.quick or letters in _COMPOUNDS or not (all(map(scope.knows, letters)) or (apart and coefficient)):
        return False
    return apart or (coefficient and not _is_customary(value_of, letters))


def _told_by_its_place(
    choice: Choice, nodes: Sequence[object], inside: Sequence[object], scope: Scope, numeric: bool
) -> str:
    """What letters are by where they stand, name or unit; '' where that does not tell."""
    if choice.typed.startswith(("π", "pi")):
        return "unit"  # `T = π s = 3.14 s`
    if _is_no_measure_of(choice.span, nodes, inside, scope):
        return "name"  # `T2 = (√3/2) W = 0.866 W`
    if any(map(scope.knows, _CHANGED.findall(choice.typed))):
        return "name"  # `2 dF/F`
    if Unit("L") in inside and sum(isinstance(n, Unit) for n in inside) == 1 and _stands_in_a_formula(
            choice.span, nodes):
        return "name"  # `f = v/(2L)`, where litres would be of nothing
    if choice.kind == "unit" and (_measures_nothing(choice.typed) or is_so_many_g(choice.typed, choice.span, nodes)):
        return "name"
    weight = _WEIGHT.fullmatch(choice.typed)
    sides = [s.span for n in nodes if isinstance(n, Relation) for s in n.sides]
    if weight is not None and scope.knows(weight[1]) and choice.span not in sides:
        return "name"  # `d = v²/(2μg)` below `μ = 0.6`
    return "unit" if numeric and any(_measured_throughout(n, choice.span) for n in nodes) else ""


def _is_no_measure_of(span: Span | None, nodes: Sequence[object], inside: Sequence[object], scope: Scope) -> bool:
    """Would one letter be a unit of nothing that the name at the head of its chain stands for, and is itself a name
    that is about?"""
    letters = {n.ident for n in inside if isinstance(n, Unit | Name)}
    found = unit(next(iter(letters))) if len(letters) == 1 and all(map(scope.knows, letters)) else None
    heads = [n.sides[0] for n in nodes if isinstance(n, Relation) and any(s.span == span for s in n.sides[1:])]
    return found is not None and any(isinstance(h, Name) and not could_be(h.ident, found.dimension) for h in heads)


_LETTERS_APART = re.compile(r"[\d./()·* ]*((?:[a-zA-Z][²³]?[·*/ ]+)+[a-zA-Z][²³]?)\)?")


def _measures_nothing(typed: str) -> bool:
    """`2 g h` and `2 h/g` with an h that was given, `2 m g`: letters one by one of which some are mostly names, and
    which together are no unit of anything."""
    row = _LETTERS_APART.fullmatch(typed)
    letters = set(re.findall(r"[a-zA-Z]", row[1])) if row else set()
    divided = "/" in (row[1] if row else "")
    if not letters & ({"g", "h"} if divided else RARELY_UNITS) or len(letters) < 2:
        return False
    found = parse_unit_text(row[1])  # type: ignore[index]
    return (letters == {"m", "g"} and not divided) or isinstance(found, UnreadUnit) or not has_a_word(found[0])


def _are_apart(letters: set[str], choice: Choice) -> bool:
    """`N = 1.2 m g`, and nobody makes a metre gram."""
    behind = choice.typed.lstrip("0123456789./()·* ")  # `(2/3) g h`
    return len(letters) > 1 and not set("/-⁻") & set(behind)


def _is_a_factor(choice: Choice, letters: set[str], nodes: Sequence[object]) -> bool:
    """`m g (h)`; `r² (m/l)`, and nobody measures anything in metres per litre."""
    if len(letters) == 1:
        return _stands_after_a_name(choice.span, nodes)
    found = parse_unit_text(choice.typed.strip("()[] "))
    known = not isinstance(found, UnreadUnit) and has_a_word(found[0])
    return not known and _stands_after_a_name(choice.span, nodes, raised=True)


def _stands_after_a_name(span: Span | None, nodes: Sequence[object], raised: bool = False) -> bool:
    """Is what stands next before a bracket a name (or one `raised`), and no number that could have its unit there, nor
    the time (`0.2 cos(3 t) m`)?"""
    before = [
        (n.span.end, isinstance(n, Name | Power) and n != Name(TIME)) for n in nodes
        if (isinstance(n, Name | Num) or (raised and isinstance(n, Power) and isinstance(n.base, Name)))
        and n.span is not None and span is not None and n.span.end <= span.start]
    return bool(before) and max(before)[1]


def _stands_in_a_formula(span: Span | None, nodes: Sequence[object]) -> bool:
    """Is a side of which this is a part made of names, but for this, with no value beside it?"""
    sides = [side for n in nodes if isinstance(n, Relation) for side in n.sides if _holds(side, span)]
    others = [n for side in sides for n in walk(side) if not _within(n, span)]
    return any(isinstance(n, Name) for n in others) and not any(isinstance(n, Unit) for n in others)


def _is_customary(name: str, letters: set[str]) -> bool:
    """Is one letter, read as a unit, one of what the name usually stands for?"""
    found = unit(next(iter(letters))) if len(letters) == 1 else None
    return found is not None and name.split("_")[0] in _CUSTOM.get(found.dimension, ())


def _is_of_its_kind(node: object, span: Span | None) -> bool:
    """`v0 = 5 m/s`, `a = 2 m/s²`: several letters that make a unit of what the name usually stands for."""
    if not isinstance(node, Relation) or not _is_value(node, span) or not isinstance(node.sides[0], Name):
        return False
    found = Dimensions(declared=False).of(node.sides[1])
    several = sum(isinstance(n, Unit) for n in walk(node.sides[1])) > 1
    return several and found is not None and is_usual(node.sides[0].ident, found)


def _is_value(node: object, span: Span | None) -> bool:
    """Is this `name = number letters`, the way a value is given?"""
    if not isinstance(node, Relation) or node.signs != ("=",) or not isinstance(node.sides[0], Name):
        return False
    return span is not None and node.sides[1].span == span


def _measured_throughout(node: object, span: Span | None) -> bool:
    """`A = 8 m × 30 m = 240 m²`: a chain behind a name in which every letter has a number of its own before it."""
    if not isinstance(node, Relation) or set(node.signs) != {"="} or not isinstance(node.sides[0], Name):
        return False
    later = node.sides[1:]
    return len(later) > 1 and any(_holds(s, span) for s in later) and all(
        0 < sum(isinstance(n, Name | Unit) for n in walk(s)) <= _numbers_before(s) for s in later)


def _numbers_before(side: Expr) -> int:
    """The numbers of a side that are no exponents."""
    exponents = sum(isinstance(n, Power) and isinstance(n.exponent, Num) for n in walk(side))
    return sum(isinstance(n, Num) for n in walk(side)) - exponents


def gives_a_value(node: object) -> bool:
    """`s = 3 m`"""
    if not isinstance(node, Relation) or node.signs != ("=",) or not isinstance(node.sides[0], Name):
        return False
    return not any(isinstance(n, Name) for n in walk(node.sides[1]))


def _holds(node: Expr, span: Span | None) -> bool:
    own = node.span
    return span is not None and own is not None and own.start <= span.start and span.end <= own.end


def _within(node: object, span: Span | None) -> bool:
    own = getattr(node, "span", None)
    return span is not None and own is not None and span.start <= own.start and own.end <= span.end


def with_own_constant(reading: Reading, number: int) -> Reading:
    """Every line that ends in `= const` means a constant of its own."""
    found = [n for s in reading.statements for n in walk(s) if isinstance(n, Name) and n.ident == "const"]
    own: dict[int, object] = {id(n): replace(n, ident=f"const_{number}") for n in found}
    if not own:
        return reading
    return replace(reading, statements=tuple(rebuilt(s, own) for s in reading.statements))  # type: ignore[misc]
