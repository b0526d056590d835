"""The same marking on the workers of a running dask.distributed scheduler, for a course that outgrows one machine.

Workers need the package and nothing else: contents travel with the tasks. A worker that is lost has its files done
by another; what comes back is the same as from the pool of one machine.
"""

from __future__ import annotations

import warnings
from collections.abc import Iterator
from typing import Any

from derive.marking.pool import Entry, Limits
from derive.marking.records import Marked
from derive.marking.scheme import Scheme
from derive.marking.working import Marker, content, marked_or_why, unmarked
from derive.messages import sentence
from derive.records import Document, Problem

# Of a worker's losses the scheduler lays one to a file after so many; a batch may well lose more machines than that.
_RETRIES = 5
# Seconds that a scheduler may need to see that a worker is gone and hand its files on.
_LOST_AFTER = 60.0
_UNDER_WAY = ("pending", "lost")  # a result that was lost with its worker is reckoned anew
PATIENCE = 10.0  # seconds that a scheduler may take to answer
_markers: dict[Document, Marker] = {}


class NoScheduler(Exception):
    """The scheduler could not be reached, or the extra that speaks to it is not installed."""


def mark_content(exercise: Document, data: bytes, name: str) -> Marked:
    """Mark one content on whatever machine this is, keeping the exercise ready for the next."""
    warnings.simplefilter("ignore")
    marker = _markers.get(exercise)
    if marker is None:
        _markers.clear()
        marker = _markers[exercise] = Marker(exercise)
    return marked_or_why(marker.scheme, name, lambda: marker.text(data, name))


class Cluster:
    """An engine for `mark_class`: hands every file to a scheduler and gives the results back as they come."""

    def __init__(self, address: str) -> None:
        self.address = address

    def __call__(
        self, entries: list[Entry], exercise: Document, scheme: Scheme, limits: Limits
    ) -> Iterator[tuple[Entry, Marked]]:
        """Every entry with its result; one that no worker finishes in its time comes back for a person to see."""
        try:
            from distributed import Client
        except ImportError as error:
            raise NoScheduler(sentence("cluster.not_installed")) from error
        try:
            client = Client(self.address, timeout=PATIENCE)
        except (OSError, ValueError) as error:
            raise NoScheduler(sentence("cluster.not_reached", {"address": self.address})) from error
        with client:
            shared = client.scatter(exercise, broadcast=True, hash=True)
            waiting: dict[Any, Entry] = {}
            for entry in entries:
                data = content(entry.path, limits.largest)
                if isinstance(data, Problem):
                    yield entry, unmarked(scheme, entry.name, data.message)
                else:
                    future = client.submit(mark_content, shared, data, entry.name, pure=False, retries=_RETRIES)
                    waiting[future] = entry
            try:
                yield from _as_finished(waiting, scheme, limits)
            finally:
                client.cancel(list(waiting))


def _as_finished(waiting: dict[Any, Entry], scheme: Scheme, limits: Limits) -> Iterator[tuple[Entry, Marked]]:
    """Results as they come. When nothing has come for longer than a file may take, the rest is given up: a queue
    may be long, but while it moves something is always being finished."""
    from distributed import wait

    patience = _LOST_AFTER + limits.seconds
    while waiting:
        try:
            done = wait(list(waiting), timeout=patience, return_when="FIRST_COMPLETED").done
        except TimeoutError:
            for entry in waiting.values():
                yield entry, unmarked(scheme, entry.name, sentence("look.too_long", {"seconds": f"{patience:g}"}))
            return
        for future in done:
            # What a lost worker had finished and not yet given back is under way again. Its status may change at any
            # moment, so that it is asked once.
            if (status := future.status) not in _UNDER_WAY:
                entry = waiting.pop(future)
                yield entry, _result(future, entry, scheme, status)


def _result(future: Any, entry: Entry, scheme: Scheme, status: str) -> Marked:
    if status != "finished":
        return unmarked(scheme, entry.name, sentence("look.lost_worker"))
    found: Marked = future.result()
    return found
