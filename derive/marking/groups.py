"""Over a whole class: which first breaks say the same, and which workings are the same but for spacing and names.

Broken lines are compared as mark points are, through each writer's own definitions, whose names are kept apart.
Both findings are facts for a marker; nothing is concluded from them.
"""

from __future__ import annotations

import hashlib
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from derive.marking.pieces import Piece, pieces_of_claim
from derive.marking.records import Marked, Slip
from derive.marking.sameness import TOO_MUCH, Ground, Memory, ground_of, same
from derive.marking.scheme import Scheme
from derive.notation.tree import Claim, Name, Span, rebuilt, walk
from derive.page import Page
from derive.records import RawLine, Unreadable
from derive.states.context import Premise
from derive.terms.term import sub


@dataclass(frozen=True, slots=True)
class Group:
    """Equal slips: what was written, in its different ways, and by whom. Any of `names` is the group's name."""

    names: tuple[str, ...]
    ways: tuple[str, ...]
    kind: str
    members: tuple[tuple[str, str], ...]  # working, its line

    @property
    def name(self) -> str:
        return self.names[0]


@dataclass(frozen=True, slots=True)
class _Written:
    """A way in which a slip was written: its claim with own names set apart, and what defines them."""

    slip: Slip
    piece: Piece | None
    definitions: tuple[Claim, ...]


def equal_slips(workings: Iterable[Marked], scheme: Scheme) -> tuple[Group, ...]:
    """The groups of equal first breaks, the largest first; a slip made once is a group of one."""
    by_way: dict[tuple[str, tuple[str, ...]], list[Marked]] = defaultdict(list)
    for w in workings:
        if w.slip is not None:
            by_way[w.slip.claim or w.slip.text, w.slip.definitions if w.slip.claim else ()].append(w)
    ground = ground_of(scheme.page.setting, scheme.page.givens, scheme.exercise.title, Memory())
    found: list[list[_Written]] = []
    for number, (_, members) in enumerate(sorted(by_way.items())):
        slip = members[0].slip
        assert slip is not None
        written = _read(slip, scheme.page, number)
        home = next((g for g in found if _equal(g[0], written, ground)), None)
        if home is None:
            found.append([written])
        else:
            home.append(written)
    groups = [_group(ways, by_way) for ways in found]
    return tuple(sorted(groups, key=lambda g: (-len(g.members), g.name)))


def _group(ways: Sequence[_Written], by_way: dict[tuple[str, tuple[str, ...]], list[Marked]]) -> Group:
    keys = [(w.slip.claim or w.slip.text, w.slip.definitions if w.slip.claim else ()) for w in ways]
    members = sorted({(m.name, m.slip.place) for k in keys for m in by_way[k] if m.slip is not None})
    kinds = sorted({m.slip.kind for k in keys for m in by_way[k] if m.slip is not None and m.slip.kind})
    texts = dict.fromkeys(" ".join(m.slip.text.split()) for k in keys for m in by_way[k] if m.slip is not None)
    return Group(tuple(_name(k) for k in keys), tuple(sorted(texts)), kinds[0] if len(kinds) == 1 else "",
                 tuple(members))


def _name(way: tuple[str, tuple[str, ...]]) -> str:
    """A short name made of what was written, so that it is the same on every run."""
    return hashlib.sha256("\n".join((way[0], *way[1])).encode()).hexdigest()[:6]


def _read(slip: Slip, page: Page, number: int) -> _Written:
    """The trees of a slip that was kept as text, its writer's own names marked with a number."""
    declared = {s.name for s in page.document.symbols}
    try:
        for text in slip.definitions:
            page = page.after(_line(f"let {text}"))
        definitions = [s.claim for x in page.lines for s in (x.reading.statements if x.reading else ())
                       if s.claim is not None]
        found = page.readings(_line(slip.claim)) if slip.claim else Unreadable(Span(0, 0), "")
    except TOO_MUCH:
        return _Written(slip, None, ())
    if isinstance(found, Unreadable) or not found[0].statements or found[0].statements[0].claim is None:
        return _Written(slip, None, ())
    own = {n.ident for d in definitions for n in walk(d) if isinstance(n, Name)} - declared - {"t"}
    pieces = pieces_of_claim(_apart(found[0].statements[0].claim, own, number))
    return _Written(slip, pieces[0] if pieces else None, tuple(_apart(d, own, number) for d in definitions))


def _line(text: str) -> RawLine:
    return RawLine(1, text, body=Span(0, len(text)))


def _apart(claim: Claim, own: set[str], number: int) -> Claim:
    change: dict[int, object] = {
        id(n): replace(n, ident=f"{n.ident}#{number}") for n in walk(claim) if isinstance(n, Name) and n.ident in own}
    made = rebuilt(claim, change)
    assert not isinstance(made, Name)
    return made  # type: ignore[return-value]


def _equal(one: _Written, other: _Written, ground: Ground) -> bool:
    if one.piece is None or other.piece is None:
        return False
    try:
        premises = tuple(
            Premise("own", sub(a, b), kind="definition")
            for d in (*one.definitions, *other.definitions) for p in pieces_of_claim(d)
            for a, b in p.parts(ground.context.world))
    except TOO_MUCH:
        return False
    context = ground.context.adding(*premises)
    number = ground.memory.number_of((ground.number, premises))
    return same(one.piece, other.piece, replace(ground, context=context, number=number))


def alike(workings: Iterable[Marked]) -> tuple[tuple[str, ...], ...]:
    """Workings that are the same but for spacing and names."""
    by_shape: dict[str, list[str]] = defaultdict(list)
    for w in workings:
        if w.shape:
            by_shape[w.shape].append(w.name)
    return tuple(sorted(tuple(sorted(names)) for names in by_shape.values() if len(names) > 1))
