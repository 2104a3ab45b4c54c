"""R703, R704: the largest opening that would fit in the bay, and the rivets that one row would hold."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np
from msgspec import Struct

from hatchwright.finding import Finding
from hatchwright.judged import FLOAT_NOISE, Bound, Judgement, Measure, Status
from hatchwright.layout.layout import Layout
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.remedy import Change
from hatchwright.rules.answer import held, stated
from hatchwright.rules.edge_distance import FLUSH_READINGS
from hatchwright.rules.rivets_per_inch import JudgedSide, judged_sides
from hatchwright.rules.rule import judged_by, mended_by, rule
from hatchwright.rules.wording import is_flush
from hatchwright.said import Said, Value, inch, room, said
from hatchwright.words.readings import reading_called
from hatchwright.workings import Quantity, Working

_LIMITS = ("clearance_to_adjacent_structure", "edge_min_countersunk", "edge_min_single_row_protruding")


class Overlaps(Struct, frozen=True):
    """Width that the doubler needs beside the opening; never less than two least edge distances [in].

    Args:
        least_in: two least edge distances.
        one_row_in: with one row, at the job's own edge distances.
        as_drawn_in: as drawn, the least of the four sides.
    """

    least_in: float
    one_row_in: float
    as_drawn_in: float


def free_field(layout: Layout) -> tuple[float, float, float, float]:
    """The free field around the opening's center, between the flanges that close it on each side.

    Returns:
        tuple: x_from, y_from, x_to, y_to; infinite where no flange closes it [in].
    """
    x, y = layout.center_in
    x_low, y_low, x_high, y_high = -math.inf, -math.inf, math.inf, math.inf
    for flange in layout.job.bay.flanges:
        x_from, y_from, x_to, y_to = flange.bounds_in
        if x_to <= x:
            x_low = max(x_low, x_to)
        elif x_from >= x:
            x_high = min(x_high, x_from)
        elif y_to <= y:
            y_low = max(y_low, y_to)
        elif y_from >= y:
            y_high = min(y_high, y_from)
    return x_low, y_low, x_high, y_high


def overlaps(survey: Survey) -> Overlaps | None:
    """Width that the doubler needs beside the opening.

    A rivet too near to an edge (R101, R102) leaves no room that could be reckoned with.

    Returns:
        Overlaps | None: None without rivets or doubler.
    """
    layout = survey.layout
    edges = {row.edge.name: row for row in survey.edges}
    opening_edge, outer_edge = edges.get("opening edge"), edges.get("doubler outer edge")
    rivets = layout.holes_of("rivet")
    if opening_edge is None or outer_edge is None or not rivets:
        return None
    protruding = survey.limit("edge_min_single_row_protruding").value
    chosen = survey.chosen("R102")
    by_circular = chosen is not None and chosen.reading == FLUSH_READINGS[1]
    flush = protruding if by_circular else survey.limit("edge_min_countersunk").value
    least_in = min((flush if is_flush(hole) else protruding) * hole.diameter_in for hole in rivets)
    drawn, opening = outer_edge.edge.loop.bounds, layout.wanted.bounds
    as_drawn_in = min(
        opening[0] - drawn[0], drawn[2] - opening[2], opening[1] - drawn[1], drawn[3] - opening[3]
    )
    near = [
        max(least_in, float(row.distance_in[np.array([hole.kind == "rivet" for hole in row.holes])].min()))
        for row in (opening_edge, outer_edge)
    ]
    return Overlaps(2.0 * least_in, sum(near), max(2.0 * least_in, as_drawn_in))


@rule(
    "R703",
    Shelf.HOLDS,
    reads=("bay", "edges", "holes", "mandate", "row_spacings", "wanted"),
    cause="room",
    needs_every_hole=True,
)
@judged_by(limits=_LIMITS)
@mended_by(Change.DOUBLER_SIZE, Change.OPENING_SIZE)
def largest_that_fits(survey: Survey) -> Iterator[Finding]:
    """R703: largest opening that fits the bay."""
    layout, widths = survey.layout, overlaps(survey)
    if widths is None or not layout.job.bay.flanges:
        return
    least = survey.limit("clearance_to_adjacent_structure")
    x_low, y_low, x_high, y_high = free_field(layout)
    x_min, y_min, x_max, y_max = layout.wanted.bounds
    for axis, free_in, wanted_in in (
        ("X", x_high - x_low, x_max - x_min),
        ("Y", y_high - y_low, y_max - y_min),
    ):
        if not math.isfinite(free_in):
            continue
        as_drawn_in, one_row_in = (
            free_in - 2.0 * least.value - 2.0 * overlap_in
            for overlap_in in (widths.as_drawn_in, widths.one_row_in)
        )
        measure = Measure(
            "opening",
            wanted_in,
            with_=(
                ("room", free_in, "in"),
                ("clearance", least.value, "in"),
                ("overlap", widths.as_drawn_in, "in"),
                ("overlap, one row", widths.one_row_in, "in"),
            ),
        )
        bounds = (Bound(as_drawn_in, least.source, least.grade, "room - 2 clearance - 2 overlap"),)
        judged = Judgement(measure, bounds, at_least=False)
        subject = _largest(axis, as_drawn_in, one_row_in if survey.row_spacings else None)
        advice = (said("largest.directive"),) if layout.job.mandate.kind == "directive" else ()
        yield held(judged, subject, *advice, said("largest.ask"))


def _largest(axis: str, as_drawn_in: float, one_row_in: float | None) -> Said:
    """What fits; an opening of no size fits nowhere, and is not told as one."""
    fits: dict[str, Value] = {"axis": axis, "drawn": room(as_drawn_in)}
    if one_row_in is not None and one_row_in > 0.0:
        fits["one_row"] = room(one_row_in)
        return said("largest.two_ways" if as_drawn_in > 0.0 else "largest.only_one_row", **fits)
    return said("largest.as_drawn" if as_drawn_in > 0.0 else "largest.none", **fits)


@rule(
    "R704",
    Shelf.HOLDS,
    reads=("bay", "edges", "holes", "row_spacings", "sides", "skin", "wanted"),
    cause="room",
    needs_every_hole=True,
)
@judged_by(limits=("pitch_min_single_row", *_LIMITS))
@mended_by(Change.DOUBLER_SIZE, Change.OPENING_SIZE)
def rivets_in_one_row(survey: Survey) -> Iterator[Finding]:
    """R704: rivets that fit in one row."""
    layout, widths = survey.layout, overlaps(survey)
    if widths is None or not layout.job.bay.flanges or not survey.row_spacings:
        return
    x_low, y_low, x_high, y_high = free_field(layout)
    x_min, y_min, x_max, y_max = layout.wanted.bounds
    clear_in = survey.limit("clearance_to_adjacent_structure").value
    tight = {
        axis: gaps_in
        for axis, gaps_in in (("X", (x_min - x_low, x_high - x_max)), ("Y", (y_min - y_low, y_high - y_max)))
        if math.isfinite(sum(gaps_in)) and min(gaps_in) - widths.as_drawn_in < clear_in - FLOAT_NOISE
    }
    if not tight:
        return
    sides = {side.side.name[0]: side for side in judged_sides(survey)}
    for axis, gaps_in in tight.items():
        fits = _one_row_fits(survey, axis, min(gaps_in), widths)
        if fits.status is not Status.PASS:
            yield fits
        elif axis in sides:
            yield _rivets_in_it(survey, axis, sides[axis], gaps_in, widths)
        else:
            # Nobody says how many rivets are asked for, so that nobody can say whether they fit.
            skin, least = layout.job.skin, survey.limit("pitch_min_single_row")
            no_table = said("rivet_count.no_table", alloy=skin.alloy, temper=skin.temper)
            yield stated(Status.UNKNOWN, no_table, least, said("rivet_count.ask"))


def _one_row_fits(survey: Survey, axis: str, gap_in: float, widths: Overlaps) -> Finding:
    """Whether the land of one row clears the flange; of rivets in a row that does not nothing is said."""
    least = survey.limit("clearance_to_adjacent_structure")
    measure = Measure(
        "gap", gap_in, with_=(("overlap, one row", widths.one_row_in, "in"), ("clearance", least.value, "in"))
    )
    bounds = (Bound(widths.one_row_in + least.value, least.source, least.grade, "overlap + clearance"),)
    judged = Judgement(measure, bounds)
    subject = said("one_row.too_wide", axis=axis, gap=inch(gap_in), overlap=inch(widths.one_row_in))
    return held(judged, subject, said("one_row.none_clears"))


def _rivets_in_it(
    survey: Survey, axis: str, side: JudgedSide, gaps_in: tuple[float, float], widths: Overlaps
) -> Finding:
    least = survey.limit("pitch_min_single_row")
    diameter_in = min(hole.diameter_in for hole in survey.layout.holes_of("rivet"))
    length_in = side.side.cut_in + widths.one_row_in
    fit = math.floor(length_in / (least.value * diameter_in) + FLOAT_NOISE) + 1
    counted = Working.resting_on(
        least,
        f"n = (cut + overlap) / {least.value:g} D, rounded down, + 1",
        Quantity("n", float(fit), "rivets"),
        Quantity("cut", side.side.cut_in, "in"),
        Quantity("overlap", widths.one_row_in, "in"),
        Quantity("D", diameter_in, "in"),
    )
    measure = Measure("n", float(fit), unit="rivets")
    judged = Judgement(measure, (Bound(float(side.needed), least.source, least.grade),), more=(counted,))
    low_in, high_in = (gap_in - widths.one_row_in for gap_in in gaps_in)
    subject = said(
        "one_row.fit",
        axis=axis,
        low=room(low_in),
        high=room(high_in),
        n=fit,
        needed=side.needed,
        reading=reading_called(side.judged.by.reading),
    )
    return held(judged, subject, said("one_row.does_not_hold"))
