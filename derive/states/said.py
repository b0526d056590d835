"""Where a statement stands and how it becomes a matter for judgement: what every role has in common."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace

from derive.notation.tree import names_in
from derive.records import RawLine, Reading, Verdict
from derive.states import moving
from derive.states.context import Context, tied_names
from derive.states.setting import Matter, Setting
from derive.terms.claims import Pair, lower_pair
from derive.terms.world import TIME, imaginary_name, real_name


@dataclass(frozen=True, slots=True)
class Source:
    """Where a statement stands: its line's label and number, the reason given, the words around it, the line as typed,
    and the sentence that stands above it as a line of its own; the names that lines above have given a value at their
    head, and the words of those that have some, by number (`circular: m v²/r = G M m/r²`)."""

    label: str
    number: int
    reason: str = ""
    cites: tuple[str, ...] = ()
    words: str = ""
    typed: str = ""
    heading: str = ""
    told: frozenset[str] = frozenset()
    headed: Mapping[int, str] = field(default_factory=dict)


# What labels of premises from the exercise begin with.
GIVEN = "given "

Outcome = tuple[tuple[Verdict, ...], Setting]


def source_of(line: RawLine, reading: Reading | None, before: str = "") -> Source:
    """Where a line stands and what its writer says of it; `before` its label goes “given ” for one of the exercise."""
    label = f"{before}({line.label})" if line.label else f"{before}line {line.number}"
    cites = tuple(f"({c})" for c in (reading.cites if reading else line.cites) or line.cites)
    return Source(label, line.number, (reading.reason if reading else "") or line.reason, cites,
                  reading.words if reading else "", line.text)


def everywhere(setting: Setting, change: Callable[..., Context]) -> Setting:
    """The setting with a change to its context, and to that of an opened approximation."""
    setting = setting.within(change(setting.context))
    if setting.regime is not None:
        setting = replace(setting, regime=replace(setting.regime, context=change(setting.regime.context)))
    return setting


def matter(pair: Pair, setting: Setting, source: Source, word: str = "") -> Matter:
    """A pair of sides with all that the rules may ask of it."""
    lowered = lower_pair(pair, setting.context.world)
    for key, time in lowered.instants:
        setting = everywhere(setting, lambda c, k=key, t=time: c.at_instant(k, t))
    symbols = setting.context.world.symbols
    known = {n for n, s in symbols.items() if s.declared or not n.endswith("'")} | tied_names(setting.context)
    if setting.regime is not None:
        known |= tied_names(setting.regime.context)
    names = names_in(pair.relation())
    still = not (setting.context.world.moving or setting.context.world.functions)
    parted = setting.context.world.parted
    names = tuple(part for n in names for part in ((real_name(n), imaginary_name(n)) if n in parted else (n,)))
    new = tuple(n for n in names if n not in known and (n != TIME or still))  # without motion t is a name like others
    return Matter(setting, pair, lowered, source.label, source.number, source.reason, source.cites,
                  f"{source.words} {word}".strip(), new)


def moved_on(before: Setting, after: Setting) -> Setting:
    """Where a statement has added to the context, see again what must move."""
    if after.context.premises == before.context.premises or all(
        p.implied for p in after.context.premises[len(before.context.premises):]
    ):
        return after
    return after.within(moving.settled(after.context, after.states))
