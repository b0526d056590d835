"""Which of the writer's rounded numbers are still those of something, where a case has changed what they came from."""

from __future__ import annotations

import numpy as np

from derive.states.context import Context, Premise
from derive.states.setting import Setting
from derive.terms.tape import taped

# A number that is off by more of itself was rounded for something else.
_ROUNDED_OFF = 0.03


def still_rounded(setting: Setting, context: Context) -> tuple[Premise, ...]:
    """The numbers that lines have rounded, but for those of what is another in a case (`if μ = 0.35: s = …`)."""
    kept = []
    for p in setting.rounded:
        cloud = setting.states.of(context, (p.term,))
        tape, env = taped(p.term), dict(cloud.columns)
        if not cloud.size:
            kept.append(p)
            continue
        with np.errstate(all="ignore"):
            off, size = np.abs(tape.run(env)[0]), tape.magnitudes(env)[0]
        if bool((off < _ROUNDED_OFF * size).any()):
            kept.append(p)
    return tuple(kept)
