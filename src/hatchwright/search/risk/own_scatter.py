"""The shop's scatter from its own readings: drilled holes, filed sides, rings as they were laid, and trial cuts.

Method: docs/theory/risk.md, eq. 10 and table 2.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

import numpy as np
from msgspec import Struct

from hatchwright.errors import JobError
from hatchwright.job.scatter import Scatter
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.layout import Edge, Layout
from hatchwright.making.trial.trial import Trial, cutter_and_template
from hatchwright.metrology.registration import FEWEST_POINTS, Registration, registered
from hatchwright.remedy import EntryChange
from hatchwright.said import inch
from hatchwright.search.risk.judged_gaps import COVERAGE
from hatchwright.shapes.profile import Loop
from hatchwright.units import MM_PER_IN, Unit

_PLACES = {"in": 4, "mm": 3}
"""Decimals of a scatter as it is entered, rounded up [-]."""


class Found(Struct, frozen=True):
    """One scatter from readings.

    Args:
        entry: of the section of the scatter, such as "drill".
        deviation_in: standard deviation [in].
        freedom: degrees of freedom [-].
        readings: how many there were.
    """

    entry: str
    deviation_in: float
    freedom: int
    readings: int

    @property
    def freedom_entry(self) -> str:
        """Under which its degrees of freedom are entered."""
        return "ring" if self.entry == "ring_place" else self.entry


def scatter_made(layout: Layout) -> tuple[Found, ...]:
    """What the as-made readings of a job say of the shop's scatter; nothing where too little was measured.

    The error of measuring is not taken off, and what comes out smaller than it is told as large as it: what is entered
    is rather too large.
    """
    job = layout.job
    if job.as_made is None:
        return ()
    drawn = lay_out(job.model_copy(update={"as_made": None, "samples": ()}), layout.shop)
    return tuple(_made(layout, drawn))


def _made(layout: Layout, drawn: Layout) -> Iterator[Found]:
    fit = _fit(layout)
    if fit is not None and fit.freedom > 0:
        squares = float((fit.residuals_in**2).sum())
        yield _found(
            "drill", math.sqrt(squares / fit.freedom), _read_in(layout), fit.freedom, len(fit.residuals_in)
        )
    as_made = layout.job.as_made
    if as_made is not None and as_made.opening is not None:
        u_in = layout.parts[0].edges[0].uncertainty_in / COVERAGE
        yield _filing(layout.opening, drawn.wanted, u_in)
        if fit is not None and _is_around(layout):
            yield _laid("placement", layout.opening, drawn.wanted, fit, u_in)
    made, planned = (_outer_edge(one) for one in (layout, drawn))
    if made and planned and made.own_u is not None and fit is not None and _is_around(layout):
        yield _laid("ring_place", made.loop, planned.loop, fit, made.uncertainty_in / COVERAGE)


def _fit(layout: Layout) -> Registration | None:
    """Drawn holes laid onto measured ones; None with fewer than two."""
    holes = [hole for hole in layout.holes if hole.is_made and hole.drawn_in is not None]
    if len(holes) < FEWEST_POINTS:
        return None
    return registered(
        np.array([hole.drawn_in for hole in holes]),
        np.array([hole.place for hole in holes]),
        own_in=np.array([hole.uncertainty_in / COVERAGE for hole in holes]),
    )


def _found(entry: str, deviation_in: float, read_in: float, freedom: int, readings: int) -> Found:
    """No scatter comes out smaller than what it was read with can tell [in]."""
    return Found(entry, max(deviation_in, read_in), freedom, readings)


def _read_in(layout: Layout) -> float:
    """Standard uncertainty of the places of the measured holes, the root of the mean of the squares [in]."""
    squares = [hole.uncertainty_in**2 for hole in layout.holes if hole.is_made and hole.drawn_in is not None]
    return math.sqrt(sum(squares) / len(squares)) / COVERAGE


def _filing(made: Loop, wanted: Loop, u_in: float) -> Found:
    """Sides about their lines, what is common to all, and place, taken out: one degree of freedom is left of four."""
    left, low, right, high = np.subtract(made.bounds, wanted.bounds).tolist()
    across, along = (right - left) / 2.0, (high - low) / 2.0
    return _found("filing", abs(across - along), u_in, 1, 4)


def _laid(entry: str, made: Loop, planned: Loop, fit: Registration, u_in: float) -> Found:
    """How far an outline lies from where the holes say that it should, about nought: two degrees of freedom."""
    middle, wanted = (np.array(loop.bounds).reshape(2, 2).mean(axis=0) for loop in (made, planned))
    off = middle - fit.placed(wanted[None, :])[0]
    return _found(
        entry, float(np.sqrt((off**2).mean())), u_in / math.sqrt(2.0), 2, 2
    )  # a middle of two sides


def _is_around(layout: Layout) -> bool:
    """Whether the measured holes lie on all sides of the opening: those of one side say little of its middle."""
    made = np.array([hole.place for hole in layout.holes if hole.is_made]).reshape(-1, 2)
    if len(made) < FEWEST_POINTS:
        return False
    x, y = layout.center_in
    low, high = made.min(axis=0), made.max(axis=0)
    return bool(low[0] < x < high[0] and low[1] < y < high[1])


def _outer_edge(layout: Layout) -> Edge | None:
    part = layout.part("doubler")
    return next((edge for edge in part.edges if edge.name == "doubler outer edge"), None) if part else None


def scatter_of_trial(trial: Trial, layout: Layout) -> Found:
    """The standard uncertainty of the offset of the next cut, since it is the next that is cut in the skin and the mean
    of a trial scatters less; by its effective degrees of freedom cut down to a whole number.

    Raises:
        JobError: the cut lies so far off that it was another cutter's, as T201 stops it.
    Method: docs/theory/trial.md, u_next and eq. 4.
    """
    offset = trial.offset
    apart_in, left_in = (
        abs(trial.over_size_in) / 2.0,
        cutter_and_template(layout.job)[0].filing_allowance.inch,
    )
    if 0.0 < left_in < apart_in:
        raise JobError.about(
            "trial", "risk.other_cutter", unit=trial.unit, apart=inch(apart_in), left=inch(left_in)
        )
    freedom = min(9999.0, max(1.0, offset.next_cut_freedom + 1e-9))
    return Found("offset", offset.next_cut_in, math.floor(freedom), offset.count)


def pooled(found: Iterable[Found]) -> tuple[Found, ...]:
    """Several sets put together, entry by entry: squares and degrees of freedom add up.

    Method: docs/theory/risk.md, eq. 10.

    >>> pooled([Found("drill", 0.003, 10, 6), Found("drill", 0.004, 10, 6)])[0].deviation_in.__round__(6)
    0.003536
    """
    of: dict[str, list[Found]] = {}
    for one in found:
        of.setdefault(one.entry, []).append(one)
    return tuple(
        Found(
            entry,
            math.sqrt(
                sum(one.freedom * one.deviation_in**2 for one in some) / sum(one.freedom for one in some)
            ),
            min(9999, sum(one.freedom for one in some)),
            sum(one.readings for one in some),
        )
        for entry, some in of.items()
    )


def entries_of(found: Iterable[Found], scatter: Scatter | None, unit: Unit) -> tuple[EntryChange, ...]:
    """What is entered for them, each length rounded up; what stands in the section otherwise stays."""
    changes = []
    for one in found:
        old = getattr(scatter, one.entry, None)
        freedom = getattr(scatter and scatter.freedom, one.freedom_entry, None)
        changes.append(
            EntryChange(f"scatter.{one.entry}", old.text if old else "", typed(one.deviation_in, unit))
        )
        changes.append(
            EntryChange(f"scatter.freedom.{one.freedom_entry}", str(freedom or ""), str(one.freedom))
        )
    return tuple(changes)


def typed(deviation_in: float, unit: Unit) -> str:
    """A scatter as it is typed, rounded up and never nothing.

    >>> typed(0.00612, "in"), typed(0.00612, "mm"), typed(0.0, "in")
    ('.0062', '0.156', '.0001')
    """
    places = _PLACES[unit]
    scaled = deviation_in * (MM_PER_IN if unit == "mm" else 1.0) * 10**places
    value = max(1, math.ceil(scaled - 1e-6)) / 10**places
    text = f"{value:.{places}f}"
    return text.removeprefix("0") if unit == "in" else text
