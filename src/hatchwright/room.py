"""Room: how much memory this process can still get, as far as the system tells."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

from hatchwright.errors import RoomError

LEAST_MB = 400.0
"""What a command must be able to address before it loads its libraries, of which some end the program themselves where
they get too little [MB]."""

_MB = 1e6
_CGROUP = Path("/sys/fs/cgroup")


def room_mb() -> float | None:
    """Memory that this process can still get, the least that the system tells; None where it tells nothing [MB]."""
    return min((left / _MB for left in (*_addressable(), *_free())), default=None)


def refuse_little_room() -> None:
    """Refuse to begin anything where the shell lets a process address too little.

    Raises:
        RoomError: naming what there is and what is needed.
    """
    for left in _addressable():
        if left / _MB < LEAST_MB:
            raise RoomError.saying("error.little_room", left=round(left / _MB), least=round(LEAST_MB))


def _addressable() -> Iterator[float]:
    """What is left of the room that the process may address, where the shell limits it [bytes]."""
    with suppress(ImportError, OSError, ValueError):
        import resource  # not on every system

        most, _ = resource.getrlimit(resource.RLIMIT_AS)
        if most != resource.RLIM_INFINITY:
            pages = int(Path("/proc/self/statm").read_text(encoding="ascii").split()[0])
            yield float(most - pages * os.sysconf("SC_PAGE_SIZE"))


def _free() -> Iterator[float]:
    """What is left of the machine, and of what the group of the process may have [bytes]."""
    with suppress(OSError, ValueError, StopIteration):
        lines = Path("/proc/meminfo").read_text(encoding="ascii").splitlines()
        yield 1024.0 * float(next(line for line in lines if line.startswith("MemAvailable:")).split()[1])
    with suppress(OSError, ValueError):  # "max" where the group has no limit
        most = int((_CGROUP / "memory.max").read_text(encoding="ascii"))
        yield float(most - int((_CGROUP / "memory.current").read_text(encoding="ascii")))
