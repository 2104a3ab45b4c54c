"""A command that is told to end puts back what it has begun, and then ends as by that signal."""

from __future__ import annotations

import os
import signal
import sys
from types import FrameType
from typing import NoReturn


class Stopped(KeyboardInterrupt):
    """Told to end by a signal other than that of Ctrl-C; goes the same way."""

    def __init__(self, number: int) -> None:
        self.number = number
        super().__init__()


def stop_like_ctrl_c() -> None:
    """From now on every signal that asks this program to end raises `Stopped`, but for those that whoever started it
    wants ignored."""
    for name in ("SIGTERM", "SIGHUP", "SIGBREAK"):
        number = getattr(signal, name, None)
        if number is not None and signal.getsignal(number) is signal.SIG_DFL:
            signal.signal(number, _stop)


def _stop(number: int, frame: FrameType | None) -> NoReturn:
    raise Stopped(number)


def end_as_by_signal(stop: KeyboardInterrupt) -> NoReturn:
    """End as a program ends that lets the signal have its way, so that a shell sees what happened and stops too."""
    number = stop.number if isinstance(stop, Stopped) else signal.SIGINT
    for out in (sys.stdout, sys.stderr):
        out.flush()
    signal.signal(number, signal.SIG_DFL)
    signal.raise_signal(number)
    os._exit(128 + number)  # where the system knows no such end
