"""Many files marked at once by warm workers, each file within its own limits of time and memory.

The workers are pebble's pools of one: each ends a file that runs over its time and starts anew. A file over which a
worker is lost twice is given up; the others go on.
"""

from __future__ import annotations

import gc
import os
import resource
import signal
import warnings
from collections import deque
from collections.abc import Iterator, Sequence
from concurrent.futures import FIRST_COMPLETED, CancelledError, Future, wait
from concurrent.futures import TimeoutError as OverTime
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass
from itertools import pairwise
from multiprocessing import get_context

from pebble import ProcessExpired, ProcessPool

from derive.marking.records import Marked
from derive.marking.scheme import Scheme
from derive.marking.working import Marker, marked_or_why, unmarked
from derive.messages import sentence
from derive.records import Document


@dataclass(frozen=True, slots=True)
class Limits:
    """What one file may cost: seconds, bytes of it, bytes of a worker's memory; and how many workers there are."""

    seconds: float = 60.0
    largest: int = 1_000_000
    memory: int = 3_000_000_000
    workers: int = 0

    @property
    def hands(self) -> int:
        return self.workers or len(os.sched_getaffinity(0))


@dataclass(frozen=True, slots=True)
class Entry:
    """A file to be marked: the name of its row, and where it lies."""

    name: str
    path: str


_marker: Marker | None = None


def begin(exercise: Document, memory: int) -> None:
    """What a worker does first: bound itself, read the exercise, and keep both for all its files."""
    global _marker
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # the parent decides when to stop
    warnings.simplefilter("ignore")
    if memory:
        resource.setrlimit(resource.RLIMIT_AS, (memory, memory))
    _marker = Marker(exercise)
    # What has been loaded by now stays: looked through again and again, it would cost an eighth of the time.
    gc.freeze()
    gc.set_threshold(50_000, 20, 50)


def mark_one(path: str, name: str, largest: int) -> Marked:
    """Mark one file in this worker."""
    assert _marker is not None
    marker = _marker
    return marked_or_why(marker.scheme, name, lambda: marker.file(path, name, largest))


def marked_files(
    entries: Sequence[Entry], exercise: Document, scheme: Scheme, limits: Limits
) -> Iterator[tuple[Entry, Marked]]:
    """Every entry with its result, as they are finished. Lost or late files come back as for a person to see.

    A file over which a worker is lost is done once more with a worker of its own, so that only one that ends its
    worker is given up.
    """
    waiting = list(entries)
    while waiting:
        lost: list[Entry] = []
        done: set[Entry] = set()
        for entry, result in _round(waiting, exercise, scheme, limits, limits.hands):
            done.add(entry)
            if result is None:
                lost.append(entry)
            else:
                yield entry, result
        for entry in lost:
            yield entry, _alone(entry, exercise, scheme, limits)
        waiting = [e for e in waiting if e not in done]
        if not done:  # no worker can be had
            yield from ((e, unmarked(scheme, e.name, sentence("look.lost_worker"))) for e in waiting)
            return


def _alone(entry: Entry, exercise: Document, scheme: Scheme, limits: Limits) -> Marked:
    """One file with a worker of its own."""
    for _, result in _round([entry], exercise, scheme, limits, 1):
        if result is not None:
            return result
    return unmarked(scheme, entry.name, sentence("look.lost_worker"))


# --- workers --------------------------------------------------------------------------------------------------

# A worker has the next file at hand when it has finished one; what it holds cannot be taken over by another.
_AT_HAND = 2


@dataclass(slots=True)
class _Hand:
    """A worker with the stretch of files that is its own: neighbours begin alike, and a beginning that has been
    judged once is not judged again."""

    pool: ProcessPool
    left: deque[Entry]
    held: int = 0


def _round(
    entries: Sequence[Entry], exercise: Document, scheme: Scheme, limits: Limits, workers: int
) -> Iterator[tuple[Entry, Marked | None]]:
    """Files with their results, None where the worker was lost; ends early where every worker is lost for good."""
    hands = [_Hand(_pool(exercise, limits), deque(part)) for part in _stretches(entries, workers)]
    pools = [h.pool for h in hands]
    given: dict[Future[Marked], tuple[_Hand, Entry]] = {}
    try:
        while True:
            for hand in list(hands):
                if not _filled(hand, hands, given, limits):
                    hands.remove(hand)
            if not given:
                return
            for future in wait(given, return_when=FIRST_COMPLETED).done:
                hand, entry = given.pop(future)
                hand.held -= 1
                yield entry, _result(future, entry, scheme, limits)
    finally:
        for pool in pools:
            pool.stop()  # type: ignore[no-untyped-call]
            pool.join()


def _stretches(entries: Sequence[Entry], workers: int) -> list[Sequence[Entry]]:
    """The files in as many stretches as there are workers, neighbours together."""
    count = min(workers, len(entries))
    ends = [k * len(entries) // count for k in range(count + 1)]
    return [entries[a:b] for a, b in pairwise(ends)]


def _filled(hand: _Hand, hands: Sequence[_Hand], given: dict[Future[Marked], tuple[_Hand, Entry]],
            limits: Limits) -> bool:
    """Hand a worker what it should have at hand: of its own files, then from the far end of the longest stretch that
    is left. False where its pool takes nothing any more."""
    while hand.held < _AT_HAND:
        longest = max(hands, key=lambda h: len(h.left))
        if not (hand.left or longest.left):
            return True
        entry = hand.left.popleft() if hand.left else longest.left.pop()
        try:
            asked = (entry.path, entry.name, limits.largest)
            future: Future[Marked] = hand.pool.schedule(mark_one, args=asked, timeout=limits.seconds)
        except RuntimeError:  # the pool broke
            hand.left.appendleft(entry)
            return False
        given[future] = hand, entry
        hand.held += 1
    return True


# Linear algebra on forty points gains nothing from threads, and the workers already use every core. Read where a worker
# loads numpy, which is before it can be told anything.
_ONE_THREAD = dict.fromkeys(("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"), "1")


def _pool(exercise: Document, limits: Limits) -> ProcessPool:
    os.environ.update(_ONE_THREAD)
    return ProcessPool(max_workers=1, initializer=begin, initargs=(exercise, limits.memory),
                       context=get_context("spawn"))


def _result(future: Future[Marked], entry: Entry, scheme: Scheme, limits: Limits) -> Marked | None:
    """What a worker gave back; None where it was lost."""
    try:
        return future.result()
    except OverTime:
        return unmarked(scheme, entry.name, sentence("look.too_long", {"seconds": f"{limits.seconds:g}"}))
    except (ProcessExpired, BrokenProcessPool, CancelledError):
        return None
