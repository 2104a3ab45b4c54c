"""R106, R205: the fasteners that are there, against the edge of the new opening and against new holes."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import numpy.typing as npt
from msgspec import Struct

from hatchwright.finding import Finding
from hatchwright.judged import FLOAT_NOISE, Judgement, Measure, Status, bound, judge
from hatchwright.layout.gaps import gap_to
from hatchwright.layout.layout import Array, Hole
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.remedy import ASK, Change
from hatchwright.rules.answer import held, stated
from hatchwright.rules.rule import judged_by, mended_by, rule
from hatchwright.rules.wording import numbered
from hatchwright.said import Said, said
from hatchwright.shapes.distance import distances
from hatchwright.shapes.profile import Profile
from hatchwright.tables.cited import Cited
from hatchwright.tables.rivets import rivet_diameters


class There(Struct, frozen=True):
    """A fastener, or a row of them, that is there already.

    Args:
        distance_in: from its center to the opening's edge, negative inside the opening [in].
        diameter_in: of its shank [in].
        u_in: of the distance [in].
        place: point concerned [in].
    """

    named: Said
    distance_in: float
    diameter_in: float
    u_in: float
    place: tuple[float, float]


@rule("R106", Shelf.HOLDS, reads=("bay", "opening", "parts"))
@judged_by(limits=("edge_min_single_row_protruding",))
def existing_to_opening(survey: Survey) -> Iterator[Finding]:
    """R106: edge distance of existing fasteners."""
    least = survey.limit("edge_min_single_row_protruding")
    every = (*_fasteners(survey), *_rows(survey))
    if every:
        yield from _judged(every, least)
    yield from _unclear_rows(survey, least)


def _fasteners(survey: Survey) -> Iterator[There]:
    existing = survey.layout.job.bay.fasteners
    if not existing:
        return
    points = np.array([(there.at[0].inch, there.at[1].inch) for there in existing])
    gaps = distances(Profile((survey.layout.opening,)), points)
    signed, u_in = (-gaps.inward_in).tolist(), survey.layout.parts[0].edges[0].u_at(gaps.foot).tolist()
    for number, (there, distance_in, own_in) in enumerate(zip(existing, signed, u_in, strict=True), start=1):
        place = (there.at[0].inch, there.at[1].inch)
        yield There(said("existing.fastener", number=number), distance_in, there.diameter.inch, own_in, place)


def _rows(survey: Survey) -> Iterator[There]:
    """Rows of known diameter that pass beside the opening."""
    for row in survey.layout.job.bay.rows:
        gap_in, place = gap_to(survey.layout.opening, row)
        u_in = survey.layout.parts[0].edges[0].u_near(place)
        if row.diameter and gap_in > 0.0:
            yield There(said("existing.row", row=row.name), gap_in, row.diameter.inch, u_in, place)


def are_in_waste(distance_in: Array, diameter_in: Array, u_in: Array) -> npt.NDArray[np.bool_]:
    """Whether fasteners come out whole with what is cut out, all arrays of shape (n,).

    Args:
        distance_in: from the opening's edge, less than nothing inside [in].
        u_in: of that [in].
    """
    return np.asarray(judge(distance_in, -diameter_in / 2.0, u=u_in, at_least=False) == 0)


def _judged(every: tuple[There, ...], least: Cited) -> Iterator[Finding]:
    """All that do not pass; of those that do the closest speaks for all."""
    distance_in = np.array([there.distance_in for there in every])
    diameter_in = np.array([there.diameter_in for there in every])
    u_in = np.array([there.u_in for there in every])
    e = Measure("e", distance_in, u_in, per=("D", diameter_in, "in"))
    asked = Judgement(e, (bound(least, diameter_in, "D"),))
    ranks, margins_in = asked.ranks(), asked.margins()
    in_waste = are_in_waste(distance_in, diameter_in, u_in)
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
                uncertainty=there.u_in,
                cause="cutout",
            )
        else:
            is_cut = there.distance_in < there.diameter_in / 2.0 - FLOAT_NOISE
            subject = said("R106.cut_through" if is_cut else "R106.to_edge", there=there.named)
            advice = (said("R106.do_not_cut"),) if is_cut else ()
            yield held(
                one, subject, *advice, ASK, place=there.place, cause="cut through" if is_cut else "edge"
            )
    passing = np.flatnonzero(ranks == 0)
    if len(passing):
        i = int(passing[np.argmin(margins_in[passing])])
        yield held(asked.at(i), said("R106.to_edge", there=every[i].named), place=every[i].place)


def _unclear_rows(survey: Survey, least: Cited) -> Iterator[Finding]:
    """Rows that run through the opening, and those beside it whose diameter was not entered."""
    largest_in = least.value * rivet_diameters()[-1].value
    for index, row in enumerate(survey.layout.job.bay.rows):
        gap_in, place = gap_to(survey.layout.opening, row)
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


@rule("R205", Shelf.HOLDS, reads=("bay", "holes"), marks_holes=True)
@judged_by(limits=("new_to_existing_spacing",))
@mended_by(Change.ROW_DISTANCE, Change.ROW_PLACE, Change.ROW_PITCH, Change.DOUBLER_SIZE)
def spacing_to_existing(survey: Survey) -> Iterator[Finding]:
    """R205: spacing to existing fasteners; one finding for each row, one for all that were entered singly."""
    holes, bay, least = survey.layout.holes, survey.layout.job.bay, survey.limit("new_to_existing_spacing")
    if not holes:
        return
    points = survey.points
    for row in bay.rows:
        if row.diameter:
            apart = np.abs(points[:, row.axis] - row.at_in)
            diameters_in = np.full(len(holes), row.diameter.inch)
            named = [said("existing.row", row=row.name)] * len(holes)
            yield _closest(holes, apart, diameters_in, named, least)
    if existing := bay.fasteners:
        there = np.array([(one.at[0].inch, one.at[1].inch) for one in existing])
        sizes_in = np.array([one.diameter.inch for one in existing])
        apart, nearest = _nearest(holes, points, there, sizes_in, least.value)
        named = [said("existing.fastener", number=k + 1) for k in nearest.tolist()]
        yield _closest(holes, apart, sizes_in[nearest], named, least)
    yield from _rows_of_unknown_size(survey, points, least)


def _nearest(
    holes: tuple[Hole, ...], points: Array, there: Array, sizes_in: Array, times: float
) -> tuple[Array, npt.NDArray[np.intp]]:
    """Of each new hole its distance to the old fastener that leaves it the least room, and which one that is."""
    apart = np.hypot(points[:, None, 0] - there[None, :, 0], points[:, None, 1] - there[None, :, 1])
    ours_in = np.array([hole.diameter_in for hole in holes])
    room = apart - times * np.maximum(ours_in[:, None], sizes_in[None, :])
    nearest = np.argmin(room, axis=1)
    return apart[np.arange(len(holes)), nearest], nearest


def _closest(
    holes: tuple[Hole, ...], apart: Array, sizes_in: Array, named: list[Said], least: Cited
) -> Finding:
    """The worst new hole beside some old fasteners, which speaks for all that do not pass."""
    larger_in = np.maximum([hole.diameter_in for hole in holes], sizes_in)
    p = Measure("p", apart, np.array([hole.uncertainty_in for hole in holes]), per=("D", larger_in, "in"))
    every = Judgement(p, (bound(least, larger_in, "D"),))
    i = every.worst()
    hole, judged, short = holes[i], every.at(i), [i]
    if judged.status is not Status.PASS:
        ranks, margins_in = every.ranks(), every.margins()
        short = sorted(np.flatnonzero(ranks).tolist(), key=lambda k: (k != i, -int(ranks[k]), margins_in[k]))
    subject = said(
        "R205.closest" if len(short) > 1 else "R205.one", hole=numbered(hole), there=named[i], n=len(short)
    )
    numbers = tuple(holes[k].number for k in short)
    return held(judged, subject, ASK, holes=numbers, place=hole.place)


def _rows_of_unknown_size(survey: Survey, points: Array, least: Cited) -> Iterator[Finding]:
    """Rows so near to a new hole that the largest of rivets would be too near, whose own diameter was not entered."""
    largest_in = least.value * rivet_diameters()[-1].value
    for index, row in enumerate(survey.layout.job.bay.rows):
        apart = np.abs(points[:, row.axis] - row.at_in)
        nearest = int(np.argmin(apart))
        if row.diameter is None and apart[nearest] < largest_in:
            hole = survey.layout.holes[nearest]
            yield stated(
                Status.UNKNOWN,
                said("R205.one", hole=numbered(hole), there=said("existing.row", row=row.name), n=1),
                least,
                said("existing.enter_diameter"),
                value=float(apart[nearest]),
                unit="in",
                holes=(hole.number,),
                place=hole.place,
                cause="diameter",
                enter=(f"bay.rows.{index}.diameter",),
            )
