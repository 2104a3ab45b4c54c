"""R106: the fasteners that are there, against the edge of the new opening."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from hatchwright.finding import Finding
from hatchwright.judged import FLOAT_NOISE, Judgement, Measure, Status, bound, judge
from hatchwright.layout.gaps import gap_to_row
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.remedy import ASK
from hatchwright.rules.answer import held, stated
from hatchwright.rules.rule import rule
from hatchwright.said import Said, said
from hatchwright.shapes.distance import distances
from hatchwright.shapes.profile import Profile
from hatchwright.tables.cited import Cited
from hatchwright.tables.rivets import rivet_diameters


@dataclass(frozen=True, slots=True)
class There:
    """A fastener, or a row of them, that is there already.

    Args:
        distance_in: from its center to the opening's edge, negative inside the opening [in].
        diameter_in: of its shank [in].
        place: point concerned [in].
    """

    named: Said
    distance_in: float
    diameter_in: float
    place: tuple[float, float]


@rule("R106", Shelf.HOLDS, limits=("edge_min_single_row_protruding",), reads=("bay", "opening", "parts"))
def existing_to_opening(survey: Survey) -> Iterator[Finding]:
    """R106: edge distance of existing fasteners."""
    least = survey.limit("edge_min_single_row_protruding")
    every = (*_fasteners(survey), *_rows(survey))
    if every:
        yield from _judged(every, least, survey.layout.parts[0].edges[0].uncertainty_in)
    yield from _unclear_rows(survey, least)


def _fasteners(survey: Survey) -> Iterator[There]:
    existing = survey.layout.job.bay.existing
    if not existing:
        return
    points = np.array([(there.at[0].inch, there.at[1].inch) for there in existing])
    signed = (-distances(Profile((survey.layout.opening,)), points).inward_in).tolist()
    for number, (there, distance_in) in enumerate(zip(existing, signed, strict=True), start=1):
        place = (there.at[0].inch, there.at[1].inch)
        yield There(said("existing.fastener", number=number), distance_in, there.diameter.inch, place)


def _rows(survey: Survey) -> Iterator[There]:
    """Rows of known diameter that pass beside the opening."""
    for row in survey.layout.job.bay.rows:
        gap_in, place = gap_to_row(survey.layout.opening, row)
        if row.diameter and gap_in > 0.0:
            yield There(said("existing.row", row=row.name), gap_in, row.diameter.inch, place)


def _judged(every: tuple[There, ...], least: Cited, u_in: float) -> Iterator[Finding]:
    """All that do not pass; of those that do the closest speaks for all."""
    distance_in = np.array([there.distance_in for there in every])
    diameter_in = np.array([there.diameter_in for there in every])
    e = Measure("e", distance_in, np.full(len(every), u_in), per=("D", diameter_in, "in"))
    asked = Judgement(e, (bound(least, diameter_in, "D"),))
    ranks, margins_in = asked.ranks(), asked.margins()
    in_waste = judge(distance_in, -diameter_in / 2.0, u=u_in, at_least=False) == 0
    for i in np.flatnonzero(ranks).tolist():
        there, one = every[i], asked.at(i)
        if in_waste[i]:
            yield stated(
                Status.CAUTION,
                said("R106.in_cutout", there=there.named),
                one,
                said("R106.see_what_it_holds"),
                value=there.distance_in,
                limit=one.limit,
                unit="in",
                working=one.working,
                place=there.place,
                shortfall=one.shortfall,
                uncertainty=u_in,
                cause="cutout",
            )
        else:
            is_cut = there.distance_in < there.diameter_in / 2.0 - FLOAT_NOISE
            yield held(
                one,
                said("R106.cut_through" if is_cut else "R106.to_edge", there=there.named),
                *((said("R106.do_not_cut"),) if is_cut else ()),
                ASK,
                place=there.place,
                cause="cut through" if is_cut else "edge",
            )
    passing = np.flatnonzero(ranks == 0)
    if len(passing):
        i = int(passing[np.argmin(margins_in[passing])])
        yield held(asked.at(i), said("R106.to_edge", there=every[i].named), place=every[i].place)


def _unclear_rows(survey: Survey, least: Cited) -> Iterator[Finding]:
    """Rows that run through the opening, and those beside it whose diameter was not entered."""
    largest_in = least.value * rivet_diameters()[-1].value
    for index, row in enumerate(survey.layout.job.bay.rows):
        gap_in, place = gap_to_row(survey.layout.opening, row)
        cause = "row through"
        enter: tuple[str, ...] = ()
        advice: tuple[Said, ...]
        if gap_in <= 0.0:
            subject = said("R106.row_through", row=row.name)
            advice = (said("R106.row_is_cut"), ASK)
        elif row.diameter is None and gap_in < largest_in:
            subject = said("R106.to_edge", there=said("existing.row", row=row.name))
            advice, enter = (said("existing.enter_diameter"),), (f"bay.rows.{index}.diameter",)
            cause = "diameter"
        else:
            continue
        yield stated(
            Status.UNKNOWN,
            subject,
            least,
            *advice,
            value=gap_in,
            unit="in",
            place=place,
            cause=cause,
            enter=enter,
        )
