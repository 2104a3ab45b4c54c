"""How long a worker process lives: never longer than the program that it works for."""

from __future__ import annotations

import multiprocessing
import os
import signal
import threading
from collections.abc import Sequence
from multiprocessing.connection import Connection, wait

_OF_THE_TERMINAL = ("SIGINT", "SIGHUP")


def end_with_parent(*lines: Connection) -> None:
    """Leave the signals of the terminal to the parent, and end as soon as it has ended, by whatever signal and
    whatever is being done here.

    Called in a process that `multiprocessing` started.

    Args:
        lines: ends of pipes; it ends too when the parent closes the other end of one.
    """
    for name in _OF_THE_TERMINAL:
        if hasattr(signal, name):
            signal.signal(getattr(signal, name), signal.SIG_IGN)
    parent = multiprocessing.parent_process()
    assert parent is not None
    threading.Thread(target=_end_at_the_first, args=((parent.sentinel, *lines),), daemon=True).start()


def _end_at_the_first(ends: Sequence[int | Connection]) -> None:
    wait(ends)
    os._exit(1)
