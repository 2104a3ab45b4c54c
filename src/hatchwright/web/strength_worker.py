"""The one worker process that analyses strength for the page."""

from __future__ import annotations

from datetime import datetime

from hatchwright.page.strength_screen import (
    StrengthPapers,
    StrengthRequest,
    StrengthView,
    print_strength,
    view_strength,
)
from hatchwright.strength.opening_analysis import OpeningAnalysis
from hatchwright.web.worker import Worker

WORKER = Worker("strength", is_kept=True)

_earlier: OpeningAnalysis | None = None
"""In the worker: the last analysis, whose factorized sheets serve again while the geometry stays the same."""


def strength_view(asked: StrengthRequest) -> StrengthView | None:
    """Analyze a job in the worker.

    Returns:
        StrengthView | None: None when a later question overtook this one before it was begun.
    Raises:
        WorkerError: the worker was ended from outside, or failed.
    """
    return WORKER.ask_newest(_view, asked)


def strength_papers(asked: StrengthRequest, *, stamp: datetime, paper: str) -> StrengthPapers:
    """Set the report of a job on paper in the worker.

    Args:
        paper: "letter" or "a4".
    Raises:
        WorkerError: the worker was ended from outside, or failed.
    """
    made = WORKER.ask(print_strength, asked, stamp, paper)
    assert made is not None
    return made


def _view(asked: StrengthRequest) -> StrengthView:
    global _earlier
    view, _earlier = view_strength(asked, _earlier)
    return view
