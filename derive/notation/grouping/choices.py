"""The places where a line is read in two ways, taken in turn: the plain reading first.

Building a tree asks a `Chooser` at each such place. The first build takes every default; each further
build repeats one of the earlier ones up to some place and takes another option there. Nothing is copied
or stored but the list of options taken, so the ways are made lazily and their number stays bounded.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import TypeVar

from derive.notation.failures import ReadError
from derive.notation.tree import Span

T = TypeVar("T")

# A line with many slashes has many readings; sixty builds reach all readings that differ from the plain
# one in one place or in one kind of place, and take a few milliseconds.
MOST_BUILDS = 60


@dataclass(slots=True)
class Taken:
    """One question that was asked while building, and its answer. `result` is what came of it."""

    kind: str
    typed: str
    span: Span
    options: int
    option: int
    result: object = None


@dataclass(slots=True)
class Chooser:
    """Answers the questions of one build from a script; beyond the script, the default."""

    line: str
    script: tuple[int, ...] = ()
    every: str = ""               # take the second option at every question of this kind
    trail: list[Taken] = field(default_factory=list)
    _answers: dict[tuple[str, str], int] = field(default_factory=dict)

    def choose(self, kind: str, span: Span, options: Sequence[T]) -> T:
        """One of the options. The same typed piece is read the same way throughout a line."""
        if len(options) == 1:
            return options[0]
        typed = self.line[span.start:span.end]
        known = self._answers.get((kind, typed))
        if known is not None and known < len(options):
            return options[known]
        at = len(self.trail)
        option = self.script[at] if at < len(self.script) else 0
        if kind == self.every and at >= len(self.script):
            option = 1
        option = min(option, len(options) - 1)
        self._answers[kind, typed] = option
        self.trail.append(Taken(kind, typed, span, len(options), option))
        return options[option]

    def came_to(self, span: Span, result: object) -> None:
        """Remember what the latest question about this place led to."""
        for taken in reversed(self.trail):
            if taken.span == span:
                taken.result = result
                return


def ways(line: str, build: Callable[[Chooser], T]) -> Iterator[tuple[T, list[Taken]] | ReadError]:
    """Every result of `build`, the default first, then those with one other answer, then two, and so on.

    A way that cannot be built is yielded as its failure: the default's tells best what is wrong.
    """
    waiting: deque[tuple[tuple[int, ...], str]] = deque([((), "")])
    kinds: list[str] = []
    for build_number in range(MOST_BUILDS):
        if not waiting:
            return
        script, every = waiting.popleft()
        chooser = Chooser(line, script, every)
        try:
            result = build(chooser)
        except ReadError as failure:
            yield failure
        else:
            yield result, chooser.trail
        if every:
            continue
        answers = tuple(taken.option for taken in chooser.trail)
        if build_number == 0:
            kinds = list(dict.fromkeys(taken.kind for taken in chooser.trail))
            several = [k for k in kinds if sum(t.kind == k for t in chooser.trail) > 1]
            waiting.extend(((), kind) for kind in several)
        for at in range(len(script), len(answers)):
            for other in range(1, chooser.trail[at].options):
                waiting.append(((*answers[:at], other), ""))
