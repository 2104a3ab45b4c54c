"""The one worker process that analyses strength for the page, so that no drawing waits for it.

It is started when the first page asks, takes the least of the machine's time, and ends with the program.
"""

from __future__ import annotations

import multiprocessing
import os
import signal
import threading
from collections.abc import Callable
from datetime import datetime
from multiprocessing.connection import Connection
from typing import Any

from hatchwright.errors import SolveError
from hatchwright.strength.opening_analysis import OpeningAnalysis
from hatchwright.workflow.strength_screen import (
    StrengthPapers,
    StrengthRequest,
    StrengthView,
    print_strength,
    view_strength,
)
from hatchwright.workflow.worker_environment import set_worker_environment

_YIELDS = 19

_turn = threading.Lock()
_line: Connection | None = None
_latest = 0
_earlier: OpeningAnalysis | None = None
"""In the worker: the last analysis, whose factorised sheets serve again while the geometry stays the same."""


def strength_view(asked: StrengthRequest) -> StrengthView | None:
    """Analyse a job in the worker.

    Args:
        asked: the job.
    Returns:
        StrengthView | None: None when a later question overtook this one before it was begun.
    Raises:
        SolveError: the worker was ended from outside.
    """
    global _latest
    _latest = mine = _latest + 1
    with _turn:
        if mine != _latest:
            return None
        view: StrengthView = _ask(_view, asked)
        return view


def strength_papers(asked: StrengthRequest, *, stamp: datetime, paper: str) -> StrengthPapers:
    """Set the report of a job on paper in the worker.

    Args:
        asked: the job.
        stamp: when it is made.
        paper: "letter" or "a4".
    Returns:
        StrengthPapers: or why there are none.
    Raises:
        SolveError: the worker was ended from outside.
    """
    with _turn:
        made: StrengthPapers = _ask(print_strength, asked, stamp, paper)
        return made


def _ask(call: Callable[..., Any], *values: Any) -> Any:
    global _line
    try:
        if _line is None:
            _line = _start()
        _line.send((call, values))
        return _line.recv()
    except (EOFError, OSError):
        _line = None  # the next question starts another
        raise SolveError(
            "the analysis was ended from outside", where="strength", remedy="Ask again"
        ) from None


def _start() -> Connection:
    set_worker_environment()
    context = multiprocessing.get_context("spawn")
    here, there = context.Pipe()
    context.Process(target=_work, args=(there,), daemon=True, name="strength").start()
    there.close()
    return here


def _work(line: Connection) -> None:
    """Answer one question after the other until the program at the other end is gone."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    if hasattr(os, "nice"):
        os.nice(_YIELDS)
    try:
        while True:
            call, values = line.recv()
            line.send(call(*values))
    except (EOFError, OSError):
        return


def _view(asked: StrengthRequest) -> StrengthView:
    global _earlier
    view, _earlier = view_strength(asked, _earlier)
    return view
