"""Shorthand that hurried writers type without its signs: `9.81 ms-2` for m s⁻², `vx = …` for v_x, `d2x/dt2`.

Settled on the lexemes of a line, before anything is built of them.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise, takewhile

from derive.notation.grouping.amounts import unit_run
from derive.notation.lexemes.letters import FUNCTIONS
from derive.notation.lexemes.scanning import ENDS_CLAUSE, ENDS_OPERAND, Lexeme
from derive.notation.lists.unit_names import unit_named
from derive.notation.lists.vocabulary import JOINING, OPENING, PROSE
from derive.notation.names import ARROW, Scope, canonical
from derive.notation.respelling.vector_units import is_along_a_direction
from derive.notation.tree import Num, Span

_COMPONENTS = frozenset(
    (*(stem + axis for stem in ("v", "a", "u", "F", "R", "N", "p", "T") for axis in "xy"), "vz", "Fz", "an", "An"))
# Times by what comes to pass then (it stops, falls, ends, is half), written without a mark (common practice).
_TIMES = frozenset("t" + what for what in "sfehb")


def with_unit_powers(lexemes: list[Lexeme], scope: Scope) -> list[Lexeme]:
    """A power sign put before the -2 of `9.81 ms-2`, `12 kg m-3`: a whole figure close after a chain of units."""
    out: list[Lexeme] = []
    for at, lexeme in enumerate(lexemes):
        if lexeme.kind == "minus" and _raises_unit(lexemes, at, scope):
            place = Span(lexeme.span.start, lexeme.span.start)
            out.append(Lexeme("caret", "^", place))
            out.append(replace(lexeme, spaced=False))
        else:
            out.append(lexeme)
    return out


def _raises_unit(lexemes: Sequence[Lexeme], at: int, scope: Scope) -> bool:
    figure = lexemes[at + 1] if at + 1 < len(lexemes) else None
    if figure is None or figure.kind != "number" or figure.spaced or lexemes[at].spaced or figure.text not in "1234":
        return False
    after = lexemes[at + 2] if at + 2 < len(lexemes) else None
    if after is not None and not after.spaced and after.kind in ("run", "number", "slash", "caret", "raised", "open"):
        return False
    first = at
    while first and lexemes[first - 1].kind == "run" and unit_run(lexemes[first - 1]) is not None:
        first -= 1
    units = lexemes[first:at]
    number = lexemes[first - 1] if first else None
    letters = sum(len(u.text) for u in units)
    return letters >= 2 and number is not None and number.kind == "number" and not any(
        scope.knows(canonical(u.text)) for u in units)


_OVER = re.compile(r"(?P<before>.*)d(?P<order>[23])(?P<name>\D.*)?\Z")
_UNDER = re.compile(r"d(?P<name>\D.*?)(?P<order>[23])(?P<after>\D.*)?\Z")


def with_orders(lexemes: list[Lexeme], scope: Scope) -> list[Lexeme]:
    """Power signs put into `d2x/dt2`: the order of a derivative, where nothing is called d2."""
    if any(scope.knows(f"d_{order}") for order in "23"):
        return lexemes
    out = list(lexemes)
    for at in range(len(out) - 3, -1, -1):
        over, slash, under = out[at:at + 3]
        if over.kind != "run" or slash.kind != "slash" or under.kind != "run":
            continue
        above, below = _OVER.match(over.text), _UNDER.match(under.text)
        if above and below and above["order"] == below["order"]:
            before = [_part(over, 0, above.start("order") - 1)] if above["before"] else []
            out[at:at + 3] = [
                *before, _part(over, above.start("order") - 1, above.start("order")), *_power(over, above),
                *_rest(over, above, "name"), slash,
                _part(under, 0, below.start("order")), *_power(under, below), *_rest(under, below, "after")]
    return out


def _part(run: Lexeme, start: int, end: int) -> Lexeme:
    """A stretch of a run as a run of its own."""
    places = run.places[start:end]
    span = Span(places[0].start, places[-1].end)
    return Lexeme("run", run.text[start:end], span, run.spaced and not start, None, places)


def _power(run: Lexeme, found: re.Match[str]) -> list[Lexeme]:
    place = run.places[found.start("order")]
    order = found["order"]
    sign = Lexeme("caret", "^", Span(place.start, place.start))
    return [sign, Lexeme("number", order, place, False, Num(Fraction(int(order))))]


def _rest(run: Lexeme, found: re.Match[str], group: str) -> list[Lexeme]:
    return [_part(run, found.start(group), found.end(group))] if found[group] else []


_FACTORS = frozenset(("number", "close", "raised", "lowered"))


def with_points(lexemes: list[Lexeme], scope: Scope) -> list[Lexeme]:
    """`F = m.a`, `m².a`, `F = m . a`: a full stop close before a name, or one apart from both, multiplies; `i.e.` has
    another one behind it."""
    out = list(lexemes)
    for at in range(1, len(out) - 1):
        before, stop, after = out[at - 1:at + 2]
        close = stop.kind == "stop" and stop.spaced == after.spaced
        ends = at + 2 == len(out) or out[at + 2].kind != "stop"
        if close and ends and (before.kind in _FACTORS or _is_letter(before, scope)) and _is_letter(after, scope):
            out[at] = replace(stop, kind="times", text="·")
    return out


def with_ratios(lexemes: list[Lexeme], scope: Scope) -> list[Lexeme]:
    """`m1 : m2 = 2 : 1`: a colon between two names, and between two figures beyond the equals sign, divides."""
    out = list(lexemes)
    for at in range(3, len(out) - 3):
        left, right = out[at - 3:at], out[at + 1:at + 4]
        ends = at + 4 == len(out) or out[at + 4].kind in ("comma", "join", "arrow", "semicolon", "stop")
        names = left[1].kind == "colon" and all(_is_letter(x, scope) for x in (left[0], left[2]))
        figures = [x.kind for x in right] == ["number", "colon", "number"]
        if out[at].text == "=" and names and figures and ends:
            for k in (at - 2, at + 2):
                out[k] = replace(out[k], kind="slash", text="/")
    return out


def _is_letter(x: Lexeme, scope: Scope) -> bool:
    """A name by its look: one letter, perhaps with a subscript, or declared."""
    name = canonical(x.text) if x.kind == "run" else ""
    return bool(name) and (scope.knows(name) or len(name.partition("_")[0]) == 1)


def with_trial(lexemes: list[Lexeme], scope: Scope) -> list[Lexeme]:
    """`try x: X e^(i ω t)`: the colon after what it is tried for is an equals sign, where the line has none."""
    first = next((at for at, x in enumerate(lexemes) if x.kind != "join"), 0)
    word, name, colon = (*lexemes[first:first + 3], None, None, None)[:3]
    if word is None or name is None or colon is None or OPENING.get(word.text.lower()) != "try":
        return lexemes
    known = scope.knows(canonical(name.text)) or len(canonical(name.text).partition("_")[0]) == 1
    if name.kind != "run" or not known or colon.kind != "colon" or any(x.kind in ("rel", "arrow") for x in lexemes):
        return lexemes
    return [*lexemes[:first + 2], replace(colon, kind="rel", text="="), *lexemes[first + 3:]]


def with_large(lexemes: list[Lexeme], scope: Scope) -> list[Lexeme]:
    """`for large t v ≈ u`, `v ≈ u at large t`, `large t: v ≈ u`: t → ∞."""
    out = list(lexemes)
    if len(out) > 3 and out[0].text.lower() == "large" and out[2].kind in ("colon", "comma"):
        out = [replace(out[0], text="for"), *out]
    for at in range(len(out) - 2, 0, -1):
        word, name = out[at], out[at + 1]
        if word.text.lower() != "large" or out[at - 1].text.lower() not in ("for", "at") or not _is_letter(name, scope):
            continue
        after = out[at + 2] if at + 2 < len(out) else None
        place = name.span
        runs = [name, Lexeme("arrow", "→", place, True), Lexeme("run", "∞", place, True, None, (place,))]
        wordy = after is not None and len(after.text) > 1 and after.text.lower() in PROSE | JOINING
        goes_on = after is not None and after.kind not in ENDS_CLAUSE and not wordy
        out[at - 1:at + 2] = [out[at - 1], *runs, *([Lexeme("comma", ",", place)] if goes_on else [])]
    return out


_WHERE = frozenset(("there", "here", "then", "now"))


def with_places_first(lexemes: list[Lexeme], scope: Scope) -> list[Lexeme]:
    """`v at bottom = √(2 g h)`, `v at B = …`, `U there = …`: at the bottom: v = √(2 g h)."""
    alone = len(lexemes) > 3 and lexemes[1].text in _WHERE
    placed = alone or (len(lexemes) > 4 and lexemes[1].text == "at")
    if not placed or not _is_letter(lexemes[0], scope):
        return lexemes
    last = 1 if alone else 3 if lexemes[2].text == "the" else 2
    place, sign = lexemes[last], lexemes[last + 1]
    called = place.text.lower() in PROSE and len(place.text) > 2
    lettered = len(place.text) == 1 and place.text.isascii() and place.text.isupper()
    if sign.text != "=" or not (alone or called or lettered) or scope.knows(canonical(place.text)):
        return lexemes
    colon = Lexeme("colon", ":", Span(sign.span.start, sign.span.start))
    return [*lexemes[1:last + 1], colon, lexemes[0], *lexemes[last + 1:]]


_OR_MORE = {("at", "least"): "≥", ("or", "more"): "≥", ("at", "most"): "≤", ("or", "less"): "≤"}


def with_ends_of_ranges(lexemes: list[Lexeme]) -> list[Lexeme]:
    """`V² = v² + 4 g r = 5 g r at least`: the last equals sign is said of the end of a range."""
    last = tuple(x.text.lower() for x in lexemes[-2:])
    equals = [k for k, x in enumerate(lexemes) if x.text == "="]
    if last not in _OR_MORE or not equals or equals[-1] > len(lexemes) - 4:
        return lexemes
    sign = replace(lexemes[equals[-1]], text=_OR_MORE[last])
    return [*lexemes[:equals[-1]], sign, *lexemes[equals[-1] + 1:-2]]


def without_asides(lexemes: list[Lexeme], scope: Scope) -> list[Lexeme]:
    """`u = w - v (e = 1)`, `(since w ≠ 0, v = u)`: a bracket around a relation that stands apart is a statement in
    passing, and a bracket around the whole line is none. `on a wet road (μ = 0.3) d = 38 m`, `a barge (m = 400 kg) is
    pulled with …`: in a sentence it says for which value, or tells one that nobody knows."""
    out = list(lexemes)
    pairs, opened = [], []
    for at, lexeme in enumerate(out):
        if lexeme.kind == "open":
            opened.append(at)
        elif lexeme.kind == "close" and opened:
            pairs.append((opened.pop(), at))
    for start, end in sorted(pairs, reverse=True):
        inside = out[start + 1:end]
        if start == 0 and end + 1 == len(out) and _states(inside):
            return without_asides(inside, scope)
        after = out[end + 1] if end + 1 < len(out) else None
        apart = start and out[start].spaced and out[start - 1].kind in ENDS_OPERAND
        if apart and _is_turned_down(inside):
            del out[start:end + 1]
        elif apart and (after is None or after.kind in ENDS_CLAUSE) and _states(inside):
            comma = [] if inside[0].text.lower() in OPENING else [replace(out[start], kind="comma", text=",")]
            out[start:end + 1] = [*comma, replace(inside[0], spaced=True), *inside[1:]]
        elif after is not None and apart and _is_word(out[start - 1], scope) and _states(inside):
            known = inside[0].kind == "run" and scope.knows(canonical(inside[0].text))
            if not (known or scope.quick):
                continue
            before, behind = replace(out[start], kind="comma", text=","), replace(out[end], kind="comma", text=",")
            if known:
                before = replace(before, kind="run", text="for", places=(before.span,) * 3)
                behind = replace(behind, kind="colon", text=":")
            out[start:end + 1] = [before, replace(inside[0], spaced=True), *inside[1:], behind]
        elif start and not out[start].spaced and out[start - 1].kind == "run" and _names_place(inside):
            del out[start + 1:start + 3]  # y(t=0) for y(0)
    return out


# What is said of a root that is none for the question (common practice, no source).
_TURNED_DOWN = frozenset((
    "rejected", "reject", "impossible", "unphysical", "discard", "discarded", "invalid", "nonsense"))
_NOT_SO = frozenset((("no", "sense"), ("not", "possible"), ("not", "physical"), ("not", "valid"), ("no", "meaning")))


def _is_turned_down(inside: Sequence[Lexeme]) -> bool:
    """`t = 4 s (t = -1 s makes no sense)`: what the writer does not say."""
    said = [x.text.lower() for x in inside]
    return "=" in said and (not _TURNED_DOWN.isdisjoint(said) or not _NOT_SO.isdisjoint(pairwise(said)))


def _is_word(run: Lexeme, scope: Scope) -> bool:
    """A word of a sentence by its look: of three letters or more, small but for the first, in no declared name."""
    text = run.text
    plain = len(text) > 2 and text.isascii() and text.isalpha() and text[1:].islower()
    vowel = any(c in "aeiouy" for c in text[1:])
    return plain and vowel and text not in FUNCTIONS and not scope.knows(canonical(text)) and unit_named(text) is None


def _names_place(inside: Sequence[Lexeme]) -> bool:
    """`t = 0` in a bracket close behind a name: one equals sign, after a name."""
    signs = [x.text for x in inside if x.kind in ("rel", "comma")]
    return len(inside) > 2 and inside[0].kind == "run" and inside[1].text == "=" and len(signs) == 1


def _states(inside: Sequence[Lexeme]) -> bool:
    """Does a relation stand within, at no further depth, with something on either side?"""
    depth = 0
    for at, lexeme in enumerate(inside):
        depth += (lexeme.kind == "open") - (lexeme.kind == "close")
        if lexeme.kind == "rel" and not depth:
            return 0 < at < len(inside) - 1
    return False


def with_commas(lexemes: list[Lexeme]) -> list[Lexeme]:
    """`m=800kg h=15m`, `m = 2 kg   v = 3 m/s`: values one after the other, each close together or far from the next."""
    out: list[Lexeme] = []
    for at, lexeme in enumerate(lexemes):
        sign = lexemes[at + 1] if at + 1 < len(lexemes) else None
        if out and sign is not None and lexeme.kind == "run" and sign.text == "=" and _next_value(lexemes, at, sign):
            out.append(Lexeme("comma", ",", Span(lexeme.span.start, lexeme.span.start)))
        out.append(lexeme)
    return out


_FAR = 2  # columns between values that nothing else parts


def _next_value(lexemes: Sequence[Lexeme], at: int, sign: Lexeme) -> bool:
    """Does a value end here (`= 800 kg`), and the name of another stand after it?"""
    told = list(takewhile(lambda x: x.kind != "rel", reversed(lexemes[:at])))[::-1]
    first = at - len(told) - 1
    unit = [x for x in told[1:] if x.kind == "run"]
    nothing = len(told) == 1 and told[0].text == "0"  # u2=0
    measured = bool(told) and told[0].kind == "number" and bool(unit) and all(unit_run(x) is not None for x in unit)
    if first < 1 or lexemes[first].text != "=" or not (measured or nothing) or any(
            x.kind not in ("run", "slash", "caret", "number", "minus", "raised", "times") for x in told[1:]):
        return False
    close = not (told[0].spaced or (unit and unit[0].spaced) or sign.spaced) and lexemes[at].spaced
    return close or lexemes[at].span.start - lexemes[at - 1].span.end >= _FAR


HAT = "\u0302"
_HATS = {"i": "î", "j": "ĵ", "k": "k̂"}
_LETTERS_OF_BODIES = frozenset("vamuxyFTNRpWIωd")


def with_unit_vectors(lexemes: list[Lexeme], scope: Scope) -> list[Lexeme]:
    """`a = 3i + 4j` without declarations, or beside declared vectors: i and j side by side as terms are the unit
    vectors, and one of them by itself is where the line names a vector (`dv/dt = -10 j`)."""
    latin = any(one.text == "i" and other.kind == "stop" and not other.spaced for one, other in pairwise(lexemes))
    alone = [x.text for x in lexemes if x.kind == "run" and x.text in _HATS and not latin]  # i.e.
    if not alone or any(scope.knows(n) for n in alone):
        return lexemes
    if not scope.quick and not any(s.vector for s in scope.symbols.values()):
        return lexemes
    known = any(_is_vector(x, scope) for x in lexemes)
    if not {"i", "j"} <= set(alone) and not is_along_a_direction(lexemes, known) and (
            not known or _stands_before_others(lexemes) or _divides(lexemes) or _multiplies_a_vector(lexemes, scope)):
        return lexemes
    return [
        replace(x, text=unicodedata.normalize("NFD", _HATS[x.text]), places=(x.span,) * 2)
        if x.kind == "run" and x.text in alone else x for x in lexemes]


def _is_vector(lexeme: Lexeme, scope: Scope) -> bool:
    return lexeme.kind == "run" and (ARROW in lexeme.text or scope.is_vector(canonical(lexeme.text.strip("d"))))


def _stands_before_others(lexemes: Sequence[Lexeme]) -> bool:
    """`F = (-k x, -k y)`: no direction stands before a letter that is none."""
    return any(one.text in _HATS and other.kind == "run" and other.text not in _HATS
               and other.text.lower() not in JOINING for one, other in pairwise(lexemes))


def _divides(lexemes: Sequence[Lexeme]) -> bool:
    """`F = -k/r²`, `r = m h²/k`: no direction is divided, nor divides."""
    return any({a.text, b.text} & {*_HATS} and "slash" in (a.kind, b.kind) for a, b in pairwise(lexemes))


def _multiplies_a_vector(lexemes: Sequence[Lexeme], scope: Scope) -> bool:
    """`F = -k r`, `F = -k (r - s)`: what stands beside a vector or a bracket is a number."""
    return any(
        one.text in _HATS and (other.kind == "open" or _is_vector(other, scope)) for one, other in pairwise(lexemes))


def with_arrows(lexemes: list[Lexeme], scope: Scope) -> list[Lexeme]:
    """`r⃗ = r r̂` without declarations: what has an arrow is the vector, and what has none its size. Elsewhere the arrow
    says nothing that is not known."""
    runs = [x for x in lexemes if x.kind == "run"]
    if not any(ARROW in x.text for x in runs):
        return lexemes
    arrowed = {x.text[:x.text.index(ARROW)][-1:] for x in runs if ARROW in x.text}
    hatted = any(HAT in x.text for x in runs)
    bare = any(x.text.replace(letter + ARROW, "").find(letter) >= 0 for x in runs for letter in arrowed)
    known = any(scope.knows(letter + ARROW) for letter in arrowed) or any(
        scope.knows(canonical(x.text)) for x in runs if ARROW in x.text)
    declared = any(scope.is_vector(letter) for letter in arrowed)
    if scope.quick and not declared and (hatted or bare or known):
        return lexemes
    return [_without_arrow(x) if x.kind == "run" else x for x in lexemes]


def _without_arrow(run: Lexeme) -> Lexeme:
    places = tuple(p for char, p in zip(run.text, run.places, strict=True) if char != ARROW)
    return replace(run, text=run.text.replace(ARROW, ""), places=places)


def components_named(lexemes: Sequence[Lexeme], scope: Scope) -> Iterator[str]:
    """`vx = v cos α`, `ΣFy = 0`, `stops at ts = u/a`: what stands alone before the equals sign is a component, which
    declarations would have named, or a time."""
    if len(lexemes) < 2:
        return
    short = _COMPONENTS | _TIMES
    yield from _of_bodies(lexemes, scope) if scope.quick else ()
    before: Lexeme | None = None
    for run, sign in pairwise(lexemes):
        stem = run.text.lstrip("ΣΔ")
        alone = sign.text == "=" and (before is None or before.kind in _BEFORE_A_NAME or before.text in _WORDS_BEFORE)
        if run.kind == "run" and alone and stem in short and not all(map(scope.knows, stem)):
            yield canonical(run.text)
        before = run


_BEFORE_A_NAME = ("colon", "comma", "join", "semicolon")
_WORDS_BEFORE = frozenset((*JOINING, *OPENING, "at", "after", "when", "=", "t"))


def _of_bodies(lexemes: Sequence[Lexeme], scope: Scope) -> Iterator[str]:
    """`mA vA + mB vB`, `vA = (3, 0)`: where A and B both stand as marks of bodies, they are no factors."""
    runs = [x.text for x in lexemes if x.kind == "run" and len(x.text) == 2 and x.text[0] in _LETTERS_OF_BODIES]
    marks = {run[1] for run in runs} & {"A", "B", "C"}
    inside = [x.kind for x in takewhile(lambda x: x.kind != "close", lexemes[2:])]
    components = lexemes[1].text == "=" and inside[:1] == ["open"] and "comma" in inside  # and not `dA = (b x/h) dx`
    first = lexemes[0].text if components else ""
    for run in runs:
        if run[1] in marks and not scope.knows(run[1]) and (len(marks) > 1 or run == first):
            yield canonical(run)
