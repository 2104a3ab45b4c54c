"""Turns for one at a time, in the order in which they were asked for, so that nobody waits for who came later."""

from __future__ import annotations

import threading
from collections import deque
from collections.abc import Callable, Iterator
from contextlib import contextmanager

LOOKS_EVERY_S = 0.2
"""How often it is asked whether somebody still waits."""


class Turns:
    """A line of threads, of which the first has its turn."""

    def __init__(self) -> None:
        self._moved = threading.Condition()
        self._line: deque[object] = deque()

    @contextmanager
    def turn(self, is_wanted: Callable[[], bool] = lambda: True) -> Iterator[bool]:
        """Wait for a turn and have it; False when it was not wanted any more before it came.

        Args:
            is_wanted: whether the turn is still waited for; asked again and again.
        """
        mine = object()
        with self._moved:
            self._line.append(mine)
        try:
            yield self._has_come(mine, is_wanted)
        finally:
            with self._moved:
                self._line.remove(mine)
                self._moved.notify_all()

    def _has_come(self, mine: object, is_wanted: Callable[[], bool]) -> bool:
        while is_wanted():
            with self._moved:
                if self._moved.wait_for(lambda: self._line[0] is mine, LOOKS_EVERY_S):
                    return True
        return False
