"""What letters typed together are, told by the page as a whole.

`Rx` beside `Ry` is a component, and no product; `½mu²` beside `½mv²` is a product, and no Greek letter; `vT = √(m g/c)`
gives a speed of its own where no T is about.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence

from derive.notation.lists.vocabulary import JOINING, PROSE
from derive.notation.names import canonical

# A letter: no figure, no power and no fraction.
_L = r"[^\W\d_²³⁴½⅓⅔¼¾⅛₀-₉]"
_APART = rf"(?<!{_L})"
# One of the two heads a relation: `Rx = T cos β`. `kx + ky` is a sum of products.
_HEAD = re.compile(rf"(?:^|[,;:(]|\b(?:and|so|hence|gives|with|where)\b)\s*({_L})[xy]\s*[=≥≤<>](?!>)", re.MULTILINE)
_COMPONENT = re.compile(rf"{_APART}({_L})([xy])(?!{_L}|['’′(₀-₉\d_])")
# The same of a body or of a moment, `v0x`, `vx0`.
_OF_ONE = re.compile(rf"{_APART}([vupFNRTa])(?:([\d₀-₉])([xy])|([xy])([\d₀-₉]))(?!{_L}|['’′(₀-₉\d_])")
_MU = re.compile(rf"{_APART}mu(?!{_L}|[₀-₉\d_])")
# A coefficient of friction stands before what it is taken times of; a speed stands last in its product.
_TIMES_SOMETHING = re.compile(rf"{_APART}mu(?:\s*[*·(\[]|\s+(?!and\b|so\b|or\b){_L}|{_L}|[₀-₉\d_])|[μµ]")
_APART_BEFORE = re.compile(rf"{_APART}m\s*[·*]?\s+u(?!{_L})|{_APART}mu(?:²|\s*\^\s*2)")
_FREQUENCY_TOLD = re.compile(r"(?:^|[,;:]|\b(?:and|with|where)\b)\s*(ω[drs])(?:²|\s*\^\s*2)?\s*=", re.MULTILINE)
_SPEED = re.compile(rf"{_APART}m[vVw](?!{_L})")
# A mass, a stiffness or a rate has no components: `kx = mg` beside `ky`.
_NO_VECTORS = frozenset("mMkKcbgd")
# Nobody takes a speed or a force times a place, and times another one too.
_VECTORS = frozenset("vuwVFNRTp")
_MOVING = frozenset("vup")
# Letters with a mark that nobody takes for a factor, at the head of a relation (common practice): the speed of escape,
# at the bottom; towards the centre; forces of a spring, of friction, upthrust; work and energies by what has it; times
# of a burn, of a fall, on the way up; the farthest and the nearest of an orbit; volumes.
_MARKED = frozenset(letter + mark for letter, marks in (
    ("v", "efibcrpwm"), ("u", "ir"), ("a", "cn"), ("F", "bkcpedDr"), ("f", "ks"), ("W", "fgsnkF"), ("U", "gsef"),
    ("K", "ifr"), ("E", "ifk"), ("x", "fm"), ("y", "fim"), ("h", "m"), ("L", "if"), ("p", "f"), ("ω", "fi"),
    ("N", "f"), ("t", "bfhmrudsp"), ("T", "f"), ("r", "ap"), ("V", "swd")) for mark in marks)
_AT_A_HEAD = (
    r"(?:^|[,;:=(∴⇒→]|\b(?:and|so|hence|gives|with|where|at|for|speed|velocity|energy|force|work|time|height|distance"
    r"|radius|volume|period)\b)\s*[ΔΣ]?")
_PAIR = re.compile(rf"{_AT_A_HEAD}({_L}{{2}})(?:²|\s*(?:\^|\*\*)\s*2)?\s*[=≥≤≈<>](?!>)", re.MULTILINE)
# What has a value at first and one in the end, told apart by i and f where both are met.
_FIRST_OR_LAST = re.compile(rf"{_APART}[mΔΣ]?([vuEKUWLωxyhθTVP])([if])(?!{_L}|[₀-₉\d_])")
# `at t = tb`: no time is so many times itself.
_AT_ITS_TIME = re.compile(rf"{_APART}t\s*=\s*(t{_L})(?!{_L}|[₀-₉\d_(])")
# What supports push with at two places, told apart by these: RA and RB.
_AT_SUPPORTS = re.compile(rf"{_APART}([RHV])([A-D])(?!{_L}|[₀-₉\d_])")
_TERMINAL = re.compile(r"\b(?:terminal|limiting)\b", re.IGNORECASE)
# Forces by friction, from the ground and by gravity: what they would be products of is never multiplied.
_FORCES = ("Ff", "Fn", "FN", "Fg")
# Densities of water, ice, a fluid, a solid, oil and a body, and coefficients of kinetic and of static friction.
_MATERIAL = ("ρw", "ρi", "ρf", "ρs", "ρo", "ρb", "μk", "μs")
# Energies that are written with two or three letters and are no products: Ek, KE.
ENERGIES = ("GPE", "EPE", "KE", "PE", "Ek", "Ep")
# Angular frequencies: damped, natural, resonant, of a sum and a difference.
_FREQUENCIES = ("ωd", "ωn", "ωr", "ωs")
TOGETHER = (*ENERGIES, *_FORCES, *_MATERIAL, *_FREQUENCIES)
_MOST_LINES = 200


def components_in(lines: Sequence[str]) -> tuple[str, ...]:
    """The components that are typed without an underscore: x and y of one letter are met, and one heads a relation or
    the letter is that of a vector."""
    whole = "\n".join(lines[:_MOST_LINES])
    met = set(_COMPONENT.findall(whole))
    heads = dict.fromkeys((*_HEAD.findall(whole), *sorted({s for s, _ in met} & _VECTORS)))
    both = (f"{s}{axis}" for s in heads if s not in _NO_VECTORS and {(s, "x"), (s, "y")} <= met for axis in "xy")
    return (*both, *_numbered_in(whole))


def _numbered_in(whole: str) -> tuple[str, ...]:
    """`v0x`, `vx0`: where x and y of it are met, or a relation says what such a speed or momentum is; `U = F0x` is a
    product, and so is `v0x/L`."""
    met = {found.group(): (found[1], found[2] or found[5], found[3] or found[4]) for found in _OF_ONE.finditer(whole)}
    said = {typed for typed in met if typed[0] in _MOVING and re.search(
        rf"{_AT_A_HEAD}{typed}\s*=", whole, re.MULTILINE)}
    return tuple(canonical(typed) for typed, (stem, number, axis) in met.items() if typed in said or any(
        (stem, number, other) in met.values() for other in "xy" if other != axis))


def _alone(whole: str) -> set[str]:
    """The letters that stand by themselves somewhere."""
    return set(re.findall(rf"{_APART}({_L})(?!{_L}|[₀-₉\d_])", whole))


def products_in(lines: Sequence[str]) -> frozenset[str]:
    """What spells products here: `mu` where it is a mass times a speed, as `mv` is beside it; `ωr` where r stands by
    itself elsewhere."""
    lines = lines[:_MOST_LINES]
    whole = "\n".join(lines)
    turned = frozenset(f"ω{r}" for r in _alone(whole) & {*"drs"}) - {*_FREQUENCY_TOLD.findall(whole)}
    if any(map(_TIMES_SOMETHING.search, lines)):
        return turned
    apart = any(map(_APART_BEFORE.search, lines))
    spelt = any(_MU.search(x) and (apart or _SPEED.search(x)) for x in lines)
    return turned | {"mu"} if spelt else turned


# What people put an index to without an underscore, and which: a body, a place, the first and the last.
_STEMS = "vuaxyzrsFNTpEKUVmωρ"
_RUN = re.compile(rf"(?<![_\\]){_L}+")
_INDEXED = re.compile(
    rf"(?:^|[,;:(=]|\b(?:and|so|hence|gives|with|where|let|speed|velocity|at)\b)\s*([{_STEMS}][A-Zfi])"
    r"\s*[=≥≤<>≈→](?!>)", re.MULTILINE)
_BESIDE = re.compile(rf"{_APART}[{_STEMS}]([A-Zfi])(?!{_L})")
_SPEEDS = frozenset("uvV")
# Of these a single name is made; `F R = I α` beside `a = α R` is no force R.
_LENGTHS_AND_MASSES = frozenset("RLMA")


# `at B`, `ball A hits ball B`, `A to B:`, `B:` at the head of a line: a letter for a place or a body, and no quantity.
_PLACED = re.compile(
    r"(?:\b(?:at|to|from|of|about|between|and|for|on|past|through|point|points|mass|block|crate|ball|body|bodies|boat|barge"
    r"|buoy|particle|particles|object|position|end|car|truck|trolley|sphere|disc|disk|supports?|pier|pivot|hinge|joint|hits|reaches|passes)\s+|^\s*)"
    r"[A-Z](?![\w'’′²³₀-₉])(?!\s*[=+\-−*/^<>≤≥≈·(])", re.MULTILINE)


def indexed_in(lines: Sequence[str], known: Collection[str] = (), declared: bool = False) -> frozenset[str]:
    """The letters with an index that are typed without an underscore: as the page shows, and, where nothing is
    declared, by custom."""
    typed = "\n".join(lines[:_MOST_LINES])
    places = "".join(sorted({found.strip()[-1] for found in _PLACED.findall(typed)}))
    ways = rf"{_APART}[{places}]{{2}}(?!{_L})" if places else r"(?!)"  # AC, from the one to the other
    whole = re.sub(ways, " ", _PLACED.sub(" ", typed))
    return _shown_to_be_indexed(whole, known) | (frozenset() if declared else _marked_by_custom(whole))


def _marked_by_custom(whole: str) -> frozenset[str]:
    """`vf = vi + a t`, `Wf = -μ m g s`, and `vt = m g/b` of a terminal velocity: what nobody takes for a product,
    unless both letters stand by themselves somewhere."""
    heads, both = set(_PAIR.findall(whole)), set(_FIRST_OR_LAST.findall(whole))
    found = heads & _MARKED | {*_AT_ITS_TIME.findall(whole)} | {
        s + mark for s, _ in both for mark in "if" if {(s, "i"), (s, "f")} <= both}
    alone, held = _alone(whole), set(_AT_SUPPORTS.findall(whole))
    places = {place for _, place in held} - alone
    found |= {s + place for s, place in held if place in places and len({p for q, p in held if q == s} & places) > 1}
    terminal = frozenset(("vt",)) if "vt" in heads and _TERMINAL.search(whole) else frozenset()
    return terminal | {pair for pair in found if not alone.issuperset(pair)}


def _shown_to_be_indexed(whole: str, known: Collection[str]) -> frozenset[str]:
    """Those that head a relation, and whose index is nowhere by itself, nor beside a letter that has none."""
    heads = {
        pair for pair in _INDEXED.findall(whole)
        if pair not in known and pair[1] not in known and pair not in ENERGIES}
    if not heads:
        return frozenset()
    runs = [run for run in _RUN.findall(whole) if not _is_a_word(run)]
    stems = {
        index: {run[k - 1] if k else "" for run in runs for k, letter in enumerate(run) if letter == index}
        for index in {pair[1] for pair in heads}.union(_BESIDE.findall(whole))}
    headed = [
        stems[i] for i in {pair[1] for pair in heads}
        if stems[i] <= set(_STEMS) and (len(stems[i]) == 1 or i not in _LENGTHS_AND_MASSES - {"A"})]
    # `mA vA + mB vB` beside `vB = 0`: what has the same letters before it is such an index too, or those of speeds.
    return frozenset(
        stem + i for i, own in stems.items() for stem in own
        if own and i not in known and any(own <= other or own | other <= _SPEEDS for other in headed))


def _is_a_word(run: str) -> bool:
    return (len(run) > 1 and run.lower() in PROSE | JOINING) or (len(run) > 3 and run[1:].islower())
