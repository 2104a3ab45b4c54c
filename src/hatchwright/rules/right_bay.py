"""R908 to R911: whether this is the right bay, as square as it should be, and with the rivets that were assumed."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

import numpy as np

from hatchwright.finding import Finding
from hatchwright.job.existing import ExistingFastener
from hatchwright.job.other_side import MirroredJob
from hatchwright.job.skin import Mandate
from hatchwright.judged import OFF, Bound, Judgement, Measure, Status, bound, lengths, the_same
from hatchwright.layout.survey import Survey
from hatchwright.metrology.propagated import Propagated, as_read, less
from hatchwright.register import Shelf
from hatchwright.rules.answer import held, held_as, stated
from hatchwright.rules.rule import judged_by, rule
from hatchwright.said import Said, inch, said
from hatchwright.tables.cited import Cited
from hatchwright.units import Length
from hatchwright.workings import Grade, Source

if TYPE_CHECKING:
    from hatchwright.layout.site.center import Center

SAME_BAY_IN = 0.25
"""A bay that differs from the mandate's picture by more is not taken for the same; common practice, no source [in]."""

SQUARE_IN = 1.0 / 16.0
"""Sides or diagonals of a bay may differ by this much; common practice, no source [in]."""

FILED_IN = 1.0 / 32.0
"""A filed opening that differs by more is not of the size asked for; common practice, no source [in]."""

Rows = tuple[Propagated | None, Propagated | None]
"""Those on both sides of a center, None on a side where there is none."""

_LAW = Cited(0.0, "", Source("14CFR39", "39.19"), Grade.PUBLISHED)


def _practice(value_in: float, place: str) -> Cited:
    return Cited(value_in, "in", Source("PRACTICE", place), Grade.PRACTICE)


_PICTURE = _practice(SAME_BAY_IN, "bay against the mandate's picture")
_SURVEY = _practice(SQUARE_IN, "four-corner survey")
_FILED = _practice(FILED_IN, "size of a filed opening")
_EXISTING = _practice(0.0, "existing rows")

MANDATED_SIZE = "R911"
"""The code that holds the opening to the size that was called for."""


@rule("R908", Shelf.PLACE, reads=("aircraft", "bay", "mandate", "site"), comes_first=True)
@judged_by(_PICTURE)
def right_bay(survey: Survey) -> Iterator[Finding]:
    """R908: the right bay."""
    job, center_in = survey.layout.job, survey.layout.center_in
    for k, (axis, shown) in enumerate((("X", job.mandate.bay_x), ("Y", job.mandate.bay_y))):
        at = [as_read(row.name, row.at_in, 0.0) for row in job.bay.rows if row.axis == k]
        before, behind = _beside(at, center_in[k])
        if (before is None or behind is None) and job.site:
            from hatchwright.layout.site.center import center_of

            before, behind = _surveyed(center_of(job.site, survey.layout.frame), k, center_in[k])
        if shown is None:
            continue
        if before is None or behind is None:
            yield _not_found(
                said("right_bay.rows_not_entered", axis=axis, shown=inch(shown.inch)),
                shown.inch,
                said("right_bay.enter_rows", axis=axis),
                enter=("bay.rows",),
            )
        elif isinstance(job, MirroredJob):
            side = said(f"side.{job.aircraft.side}")
            yield _not_found(
                said("right_bay.other_side", axis=axis, found=inch(behind.value - before.value)),
                shown.inch,
                said("right_bay.measure_there", side=side, shown=inch(shown.inch)),
            )
        else:
            yield _found(axis, less(behind, before), shown.inch)


def _beside(at: list[Propagated], center_in: float) -> Rows:
    """The rows next to the center, one on each side, None where there is none."""
    before = max((one for one in at if one.value <= center_in), key=lambda one: one.value, default=None)
    behind = min((one for one in at if one.value >= center_in), key=lambda one: one.value, default=None)
    return before, behind


def _surveyed(center: Center, axis: int, drawn_in: float) -> Rows:
    """The rows next to the center as surveyed, of an opening that was drawn before its bay was known.

    Without a center that was taped, the drawn one speaks; two rows alone are the bay wherever that lies.
    """
    at = [line.at() for line in center.lines if line.axis == axis and not line.bound]
    before, behind = _beside(at, center.best.at_in[axis] if center.best else drawn_in)
    if (before is None or behind is None) and len(at) == 2:
        before, behind = sorted(at, key=lambda one: one.value)
    return before, behind


def _off(
    found: tuple[str, float],
    wanted: tuple[str, float],
    most: Cited,
    *,
    u_in: float = 0.0,
    fails_as: Status = Status.STOP,
) -> Judgement:
    """Hold one size to another that it may differ from by so much, smaller or larger; each by its name [in]."""
    measure = Measure(OFF, abs(found[1] - wanted[1]), u_in, with_=((*found, "in"), (*wanted, "in")))
    return Judgement(measure, (bound(most),), at_least=False, fails_as=fails_as)


def _not_found(subject: Said, shown_in: float, advice: Said, *, enter: tuple[str, ...] = ()) -> Finding:
    return stated(Status.UNKNOWN, subject, _PICTURE, advice, limit=shown_in, unit="in", enter=enter)


def _found(axis: str, found: Propagated, shown_in: float) -> Finding:
    found_in = found.value
    subject = said(
        "right_bay.found",
        axis=axis,
        found=inch(found_in, beside_in=shown_in),
        shown=inch(shown_in, beside_in=found_in),
    )
    advice = said("right_bay.wrong_bay")
    judged = _off(("found", found_in), ("shown", shown_in), _PICTURE, u_in=found.u)
    return held(judged, subject, advice)


@rule("R909", Shelf.SETTLE, reads=("bay",), step="measure")
@judged_by(_SURVEY)
def out_of_square(survey: Survey) -> Iterator[Finding]:
    """R909: bay out of square; of its pairs the one that differs most speaks for all."""
    bay = survey.layout.job.bay
    corners = bay.corners
    if corners is None:
        if any(row.x for row in bay.rows) and any(row.y for row in bay.rows):
            subject, advice = said("square.not_measured"), said("square.measure")
            yield stated(Status.CAUTION, subject, _SURVEY, advice, unit="in", enter=("bay.corners",))
        return
    sides, diagonals = [side.inch for side in corners.sides], [d.inch for d in corners.diagonals]
    pairs = [("square.sides", sides[:2]), ("square.other_sides", sides[2:]), ("square.diagonals", diagonals)]
    pairs = [(name, pair) for name, pair in pairs if len(pair) == 2]
    one, other = np.array([pair for _, pair in pairs]).T
    measure = Measure(OFF, np.abs(one - other), with_=lengths(one=one, other=other))
    judged = Judgement(measure, (bound(_SURVEY),), at_least=False, fails_as=Status.CAUTION)
    worst = judged.worst()
    subject = said(pairs[worst][0], one=inch(one[worst]), other=inch(other[worst]))
    yield held(judged.at(worst), subject, said("square.from_one_corner"))


@rule("R910", Shelf.PLACE, reads=("bay",))
@judged_by(_EXISTING)
def existing_as_assumed(survey: Survey) -> Iterator[Finding]:
    """R910: existing rivets as assumed."""
    job = survey.layout.job
    if isinstance(job, MirroredJob):
        return  # none has been found on this side: R915 asks for the survey
    for index, there in enumerate(job.bay.fasteners, start=1):
        for row in job.bay.rows:
            if row.diameter and abs(there.at[row.axis].inch - row.at_in) <= row.diameter.inch / 2.0:
                yield _as_assumed(index, there, row.name, row.diameter)


def _as_assumed(index: int, there: ExistingFastener, row: str, diameter: Length) -> Finding:
    assumed = Bound(diameter.inch, _EXISTING.source, _EXISTING.grade)
    return held(
        the_same(Measure("found", there.diameter.inch), assumed, fails_as=Status.CAUTION),
        said("existing.on_row", number=index, row=row, found=there.diameter.text, assumed=diameter.text),
        said("existing.look_at_row"),
        place=(there.at[0].inch, there.at[1].inch),
        cause=row,
    )


@rule(MANDATED_SIZE, Shelf.PLACE, reads=("as_made", "mandate", "opening", "wanted"))
@judged_by(_LAW, _FILED)
def mandated_size(survey: Survey) -> Iterator[Finding]:
    """R911: the mandated size."""
    layout = survey.layout
    mandate, made = layout.job.mandate, layout.job.as_made
    if mandate.kind != "owner" and mandate.opening_x is None and mandate.opening_y is None:
        subject = said("mandated.not_entered", kind=said(f"mandate.{mandate.kind}"))
        advice = said("mandated.enter")
        yield stated(
            Status.CAUTION, subject, _LAW, advice, unit="in", enter=("mandate.opening_x", "mandate.opening_y")
        )
    for axis, low, high, asked in (("X", 0, 2, mandate.opening_x), ("Y", 1, 3, mandate.opening_y)):
        if asked is None:
            continue
        drawn, filed = layout.wanted.bounds, layout.opening.bounds
        yield _drawn_size(axis, drawn[high] - drawn[low], asked.inch, mandate)
        if made and made.opening:
            yield _filed_size(
                axis, filed[high] - filed[low], asked.inch, made.edge_u_in(made.opening), mandate
            )


def _sized(
    axis: str, sizes: tuple[str, float, float], most: Cited, mandate: Mandate, *, u_in: float = 0.0
) -> tuple[Judgement, Said]:
    """How an opening's size, drawn or filed, is held to the size asked for, and what is told of it."""
    which, size_in, asked_in = sizes
    fails_as = Status.STOP if mandate.kind == "directive" else Status.CAUTION
    judged = _off((which, size_in), ("asked", asked_in), most, u_in=u_in, fails_as=fails_as)
    size = {which: inch(size_in, beside_in=asked_in)}
    return judged, said(f"mandated.{which}", axis=axis, **size, asked=inch(asked_in, beside_in=size_in))


def _drawn_size(axis: str, drawn_in: float, asked_in: float, mandate: Mandate) -> Finding:
    judged, subject = _sized(axis, ("drawn", drawn_in, asked_in), _LAW, mandate)
    departs = "mandated.departure" if mandate.kind == "directive" else "mandated.not_that_size"
    return held(judged, subject, said(departs))


def _filed_size(axis: str, filed_in: float, asked_in: float, u_in: float, mandate: Mandate) -> Finding:
    """As filed no size is met to the last thousandth: within practice it is for whoever asked to say."""
    judged, subject = _sized(axis, ("filed", filed_in, asked_in), _FILED, mandate, u_in=u_in)
    if judged.status is Status.PASS and mandate.kind != "owner":
        near_enough = said(
            "mandated.near_enough", off=inch(abs(asked_in - filed_in)), kind=said(f"mandate.{mandate.kind}")
        )
        return held_as(judged, Status.CAUTION, subject, near_enough)
    return held(judged, subject, said("mandated.resolve"))
