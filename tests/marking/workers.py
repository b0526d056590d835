"""Workers that hang, grow or die: they stand in for a working that would make them do so."""

import os
import time

from derive.marking import pool, working


def hang_grow_or_die(path, name, largest):
    """Mark a file, unless its name says otherwise."""
    if "hang" in name:
        time.sleep(600)
    if "die" in name:
        os.kill(os.getpid(), 9)
    if "grow" in name:
        try:
            return len(bytearray(20_000_000_000))
        except MemoryError:
            return working.unmarked(pool._marker.scheme, name, "too much")
    return pool._marker.file(path, name, largest)
