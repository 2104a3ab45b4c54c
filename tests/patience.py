"""Waiting for what must come. A limit here ends what hangs; it never says how fast a machine has to be."""

from __future__ import annotations

import asyncio
import os
import time
from collections.abc import Callable, Iterator

PATIENCE_S = float(os.environ.get("PATIENCE_S", "300"))
"""How long a test waits for what must come: only what hangs takes that long, however busy the machine is. Who mends a
test that waits in vain sets the variable of this name to fewer seconds."""

_LOOKS_EVERY_S = 0.05


def until(is_so: Callable[[], object], what: str = "it") -> None:
    """Wait until something is so.

    Args:
        is_so: asked again and again.
        what: is waited for, in words.
    """
    for _ in _waits(is_so, what):
        time.sleep(_LOOKS_EVERY_S)


async def until_async(is_so: Callable[[], object], what: str = "it") -> None:
    """The same in a loop of events, which goes on meanwhile.

    Args:
        is_so: asked again and again.
        what: is waited for, in words.
    """
    for _ in _waits(is_so, what):
        await asyncio.sleep(_LOOKS_EVERY_S)


def _waits(is_so: Callable[[], object], what: str) -> Iterator[None]:
    end = time.monotonic() + PATIENCE_S
    while not is_so():
        assert time.monotonic() < end, f"{what} never came"
        yield
