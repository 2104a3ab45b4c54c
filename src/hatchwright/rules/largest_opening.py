"""R703, R704: the largest opening that would fit in the bay, and the rivets that one row would hold."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from hatchwright.errors import TableError
from hatchwright.finding import Finding
from hatchwright.judged import FLOAT_NOISE, Status, judge_at_most
from hatchwright.layout.layout import Layout
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.rules.answer import against
from hatchwright.rules.rivets_per_inch import judged_sides
from hatchwright.rules.rule import rule
from hatchwright.rules.wording import inch
from hatchwright.units import decimal_inch
from hatchwright.workings import Quantity


def room(layout: Layout) -> tuple[float, float, float, float]:
    """The free field round the opening's centre, between the flanges that close it on each side.

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


def overlaps(survey: Survey) -> tuple[float, float] | None:
    """Width of the doubler's overlap with one row, and as drawn.

    Args:
        survey: of a layout with a doubler.
    Returns:
        tuple: one row at the job's own edge distances; the least as drawn. None without rivets or doubler [in].
    """
    layout = survey.layout
    edges = {row.edge.name: row for row in survey.edges}
    opening_edge, outer_edge = edges.get("opening edge"), edges.get("doubler outer edge")
    if opening_edge is None or outer_edge is None or not layout.holes_of("rivet"):
        return None
    drawn, opening = outer_edge.edge.loop.bounds, layout.wanted.bounds
    as_drawn = min(opening[0] - drawn[0], drawn[2] - opening[2], opening[1] - drawn[1], drawn[3] - opening[3])
    is_rivet = np.array([hole.kind == "rivet" for hole in outer_edge.holes])
    nearest = [hole.kind == "rivet" for hole in opening_edge.holes]
    to_opening = float(opening_edge.distance_in[nearest].min())
    to_outer = float(outer_edge.distance_in[is_rivet].min())
    return to_opening + to_outer, as_drawn


@rule(
    "R703",
    Shelf.HOLDS,
    limits=("clearance_to_adjacent_structure",),
    reads=("bay", "edges", "holes", "mandate", "row_spacings", "wanted"),
    cause="room",
)
def largest_that_fits(survey: Survey) -> Iterator[Finding]:
    """R703: largest opening that fits the bay."""
    layout = survey.layout
    widths = overlaps(survey)
    if widths is None or not layout.job.bay.flanges:
        return
    least = survey.limit("clearance_to_adjacent_structure")
    x_low, y_low, x_high, y_high = room(layout)
    x_min, y_min, x_max, y_max = layout.wanted.bounds
    one_row_in, as_drawn_in = widths
    options = _options(layout)
    for axis, free_in, wanted_in in (
        ("X", x_high - x_low, x_max - x_min),
        ("Y", y_high - y_low, y_max - y_min),
    ):
        if not math.isfinite(free_in):
            continue
        fits = {"as drawn": free_in - 2.0 * least.value - 2.0 * as_drawn_in}
        if survey.row_spacings:
            fits["with one row"] = free_in - 2.0 * least.value - 2.0 * one_row_in
        status = judge_at_most(wanted_in, fits["as drawn"])
        yield against(
            "R703",
            status,
            f"largest opening along {axis} between the flanges: "
            + ", ".join(f"{size:.2f} {name}" for name, size in fits.items()),
            value=wanted_in,
            limit=fits["as drawn"],
            unit="in",
            cited=least,
            formula=f"room - 2 x {inch(least.value)} - 2 x overlap",
            values=(
                Quantity("room", free_in, "in"),
                Quantity("overlap, one row", one_row_in, "in"),
                Quantity("overlap, as drawn", as_drawn_in, "in"),
            ),
            advice=""
            if status is Status.PASS
            else f"Too large by {wanted_in - fits['as drawn']:.2f}. {options}".strip(),
            shortfall=wanted_in - fits["as drawn"],
        )
        options = options if status is Status.PASS else ""


def _options(layout: Layout) -> str:
    said = (
        "To ask for: picking up the existing rows, a doubler outside, fewer rows with the strength shown, a smaller "
        "opening, or data from their holder."
    )
    if layout.job.mandate.kind == "directive":
        said += " A mandated size or place may only be departed from by an accepted alternative method (14 CFR 39.19)."
    return said


@rule(
    "R704",
    Shelf.HOLDS,
    limits=("pitch_min_single_row",),
    reads=("bay", "edges", "holes", "row_spacings", "skin", "wanted"),
    cause="room",
)
def rivets_in_one_row(survey: Survey) -> Iterator[Finding]:
    """R704: rivets that fit in one row."""
    layout = survey.layout
    widths = overlaps(survey)
    if widths is None or not layout.job.bay.flanges or not survey.row_spacings:
        return
    x_low, y_low, x_high, y_high = room(layout)
    x_min, y_min, x_max, y_max = layout.wanted.bounds
    least, clear = survey.limit("pitch_min_single_row"), survey.limit("clearance_to_adjacent_structure")
    one_row_in, as_drawn_in = widths
    tight = {
        axis: gaps_in
        for axis, gaps_in in (("X", (x_min - x_low, x_high - x_max)), ("Y", (y_min - y_low, y_high - y_max)))
        if math.isfinite(sum(gaps_in)) and min(gaps_in) - as_drawn_in < clear.value - FLOAT_NOISE
    }
    if not tight:
        return
    try:
        sides = {side.side.name[0]: side for side in judged_sides(survey)}
    except TableError:
        return  # R601 says so
    diameter_in = min(hole.diameter_in for hole in layout.holes_of("rivet"))
    for axis, gaps_in in tight.items():
        side = sides[axis]
        fit = math.floor((side.side.cut_in + one_row_in) / (least.value * diameter_in) + FLOAT_NOISE) + 1
        low, high = (decimal_inch(gap_in - one_row_in, 2) for gap_in in gaps_in)
        yield against(
            "R704",
            Status.STOP if fit < side.needed else Status.PASS,
            f"one row on the sides along {axis} would clear the flanges by {low} and {high}: {fit} rivets fit in it, "
            f"{side.needed} by {side.judged.by.name}",
            value=float(fit),
            limit=float(side.needed),
            unit="rivets",
            cited=least,
            formula=f"n = (cut + overlap) / {least.value:g} D, rounded down, + 1",
            values=(
                Quantity("cut", side.side.cut_in, "in"),
                Quantity("overlap", one_row_in, "in"),
                Quantity("D", diameter_in, "in"),
            ),
            advice="One row does not hold what the cut asks for." if fit < side.needed else "",
            shortfall=float(side.needed - fit),
        )
