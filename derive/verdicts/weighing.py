"""What the states of a context say of a pair of sides."""

from __future__ import annotations

from collections.abc import Sequence

from derive.states.context import Context, Premise
from derive.states.evidence import Evidence, weigh
from derive.states.projection import Cloud
from derive.states.setting import Matter


def evidence(m: Matter, context: Context | None = None, extra: Sequence[Premise] = ()) -> tuple[list[Evidence], Cloud]:
    """What the states of a context say of every part of a pair."""
    context = context or m.context
    parts = [(context.resolved(a), context.resolved(b)) for a, b in m.lowered.parts]
    cloud = m.setting.states.of(context, [t for part in parts for t in part], extra)
    return [weigh(a, b, m.pair.sign, cloud) for a, b in parts], cloud
