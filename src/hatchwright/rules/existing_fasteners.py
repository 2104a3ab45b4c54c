"""R106: the fasteners that are there, against the edge of the new opening."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from hatchwright.finding import Finding
from hatchwright.judged import FLOAT_NOISE, Status, judge_at_least
from hatchwright.layout.gaps import gap_to_row
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.rules.answer import against
from hatchwright.rules.rule import rule
from hatchwright.rules.wording import short_text
from hatchwright.shapes.distance import distances
from hatchwright.shapes.profile import Profile
from hatchwright.tables.cited import Cited
from hatchwright.tables.rivets import rivet_diameters
from hatchwright.workings import Quantity


@dataclass(frozen=True, slots=True)
class There:
    """A fastener, or a row of them, that is there already.

    Args:
        name: as it was entered.
        distance_in: from its centre to the opening's edge, negative inside the opening [in].
        diameter_in: of its shank [in].
        place: point concerned [in].
    """

    name: str
    distance_in: float
    diameter_in: float
    place: tuple[float, float]


@rule("R106", Shelf.HOLDS, limits=("edge_min_single_row_protruding",), reads=("bay", "opening", "parts"))
def existing_to_opening(survey: Survey) -> Iterator[Finding]:
    """R106: edge distance of existing fasteners."""
    least = survey.limit("edge_min_single_row_protruding")
    edge = survey.layout.parts[0].edges[0]
    judged = [_judged(there, least, edge.uncertainty_in) for there in (*_fasteners(survey), *_rows(survey))]
    yield from (found for found in judged if found.status is not Status.PASS)
    passing = [found for found in judged if found.status is Status.PASS]
    if passing:
        yield min(passing, key=lambda found: (found.value or 0.0) - (found.limit or 0.0))
    yield from _unclear_rows(survey, least)


def _fasteners(survey: Survey) -> Iterator[There]:
    existing = survey.layout.job.bay.existing
    if not existing:
        return
    points = np.array([(there.at[0].inch, there.at[1].inch) for there in existing])
    gaps = distances(Profile((survey.layout.opening,)), points)
    signed = np.where(gaps.inside, -gaps.distance_in, gaps.distance_in).tolist()
    for number, (there, distance_in) in enumerate(zip(existing, signed, strict=True), start=1):
        place = (there.at[0].inch, there.at[1].inch)
        yield There(f"existing fastener {number}", distance_in, there.diameter.inch, place)


def _rows(survey: Survey) -> Iterator[There]:
    """Rows of known diameter that pass beside the opening."""
    for row in survey.layout.job.bay.rows:
        gap_in, place = gap_to_row(survey.layout.opening, row)
        if row.diameter and gap_in > 0.0:
            yield There(f"row of {row.name}", gap_in, row.diameter.inch, place)


def _judged(there: There, least: Cited, u_in: float) -> Finding:
    distance_in, diameter_in = there.distance_in, there.diameter_in
    limit_in = least.value * diameter_in
    missing_in = limit_in - distance_in
    status, said = (
        judge_at_least(distance_in, limit_in, uncertainty=u_in),
        f"{there.name} to the opening edge",
    )
    if distance_in <= -diameter_in / 2.0 - u_in + FLOAT_NOISE:
        status, said = Status.CAUTION, f"{there.name} lies in what is cut away"
        advice = "See what it holds, and that nothing is left loose behind."
    elif distance_in < diameter_in / 2.0 - FLOAT_NOISE:
        said = f"{there.name} is cut through by the opening edge"
        advice = "Move or shrink the opening, or ask the holder of the data."
    else:
        advice = f"{short_text(missing_in, u_in)} Move the edge away from it, or ask the holder of the data."
    return against(
        "R106",
        status,
        said,
        value=distance_in,
        limit=limit_in,
        unit="in",
        cited=least,
        formula=f"e >= {least.value:g} D, or the whole of it in the waste",
        values=(Quantity("D", diameter_in, "in"), Quantity("e", distance_in, "in")),
        advice="" if status is Status.PASS else advice,
        place=there.place,
        shortfall=missing_in,
        uncertainty=u_in,
    )


def _unclear_rows(survey: Survey, least: Cited) -> Iterator[Finding]:
    """Rows that run through the opening, and those beside it whose diameter was not entered."""
    largest_in = least.value * rivet_diameters()[-1].value
    for row in survey.layout.job.bay.rows:
        gap_in, place = gap_to_row(survey.layout.opening, row)
        if gap_in <= 0.0:
            subject = f"the row of {row.name} runs through the opening"
            advice = (
                "Some of its fasteners are cut away, others may be cut through: this goes to an engineer."
            )
        elif row.diameter is None and gap_in < largest_in:
            subject = f"the row of {row.name} passes the opening edge, and its diameter is not given"
            advice = "Enter the diameter of its fasteners."
        else:
            continue
        yield against(
            "R106",
            Status.UNKNOWN,
            subject,
            value=gap_in,
            limit=None,
            unit="in",
            cited=least,
            advice=advice,
            place=place,
        )
