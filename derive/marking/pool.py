"""Many files marked at once by warm workers, each file within its own limits of time and memory.

The pool is pebble's: it ends a worker that runs over its time and starts another. A file over which a worker is lost
twice is given up; the others go on.
"""

from __future__ import annotations

import os
import resource
import signal
import warnings
from collections.abc import Iterator, Sequence
from concurrent.futures import CancelledError, Future, as_completed
from concurrent.futures import TimeoutError as OverTime
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass
from multiprocessing import get_context

from pebble import ProcessExpired, ProcessPool

from derive.marking.records import Marked
from derive.marking.scheme import Scheme
from derive.marking.working import Marker, unmarked
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
    # Linear algebra on forty points gains nothing from threads, and two workers already use two cores.
    for name in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"):
        os.environ[name] = "1"
    warnings.simplefilter("ignore")
    if memory:
        resource.setrlimit(resource.RLIMIT_AS, (memory, memory))
    _marker = Marker(exercise)


def mark_one(path: str, name: str, largest: int) -> Marked:
    """Mark one file in this worker."""
    assert _marker is not None
    try:
        return _marker.file(path, name, largest)
    except MemoryError:
        return unmarked(_marker.scheme, name, sentence("look.too_much"))
    except Exception as defect:  # noqa: BLE001  one file must never take the others with it
        return unmarked(_marker.scheme, name, sentence("look.defect", {"kind": type(defect).__name__}))


def marked_files(
    entries: Sequence[Entry], exercise: Document, scheme: Scheme, limits: Limits
) -> Iterator[tuple[Entry, Marked]]:
    """Every entry with its result, as they are finished. Lost or late files come back as for a person to see.

    When a worker is lost, the files that may have been in its hands are done once more, each by itself, so that
    only the one that ends its worker is given up.
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
        left = [e for e in waiting if e not in done]
        suspects, waiting = [*lost, *left[: limits.hands]], left[limits.hands :]
        for entry in suspects:
            yield entry, _alone(entry, exercise, scheme, limits)


def _alone(entry: Entry, exercise: Document, scheme: Scheme, limits: Limits) -> Marked:
    """One file with a worker of its own."""
    for _, result in _round([entry], exercise, scheme, limits, 1):
        if result is not None:
            return result
    return unmarked(scheme, entry.name, sentence("look.lost_worker"))


def _round(
    entries: Sequence[Entry], exercise: Document, scheme: Scheme, limits: Limits, workers: int
) -> Iterator[tuple[Entry, Marked | None]]:
    """Files with their results, None where the worker was lost; ends early where the pool itself is lost."""
    pool = ProcessPool(
        max_workers=min(workers, len(entries)), initializer=begin, initargs=(exercise, limits.memory),
        context=get_context("spawn"))
    try:
        futures: dict[Future[Marked], Entry] = {_handed_on(pool, e, limits): e for e in entries}
        for future in as_completed(futures):
            entry = futures[future]
            try:
                yield entry, _result(future, entry, scheme, limits)
            except (BrokenProcessPool, CancelledError):
                return
    except RuntimeError:  # the pool broke while files were still being handed to it
        return
    finally:
        pool.stop()  # type: ignore[no-untyped-call]
        pool.join()


def _handed_on(pool: ProcessPool, entry: Entry, limits: Limits) -> Future[Marked]:
    asked = (entry.path, entry.name, limits.largest)
    future: Future[Marked] = pool.schedule(mark_one, args=asked, timeout=limits.seconds)
    return future


def _result(future: Future[Marked], entry: Entry, scheme: Scheme, limits: Limits) -> Marked | None:
    """What a worker gave back; None where it was lost."""
    try:
        return future.result()
    except OverTime:
        return unmarked(scheme, entry.name, sentence("look.too_long", {"seconds": f"{limits.seconds:g}"}))
    except ProcessExpired:
        return None
