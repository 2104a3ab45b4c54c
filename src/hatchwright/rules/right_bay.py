"""R703, R908 to R911: whether this is the right bay, and what would fit in it."""

from __future__ import annotations

import math
from collections.abc import Iterator

from hatchwright.finding import Finding, Grade, Quantity, Source, Status
from hatchwright.layout.layout import Layout
from hatchwright.layout.survey import Survey
from hatchwright.rules.answer import against
from hatchwright.rules.rivets_per_inch import needed_each_side
from hatchwright.rules.row_pattern import rows_beside
from hatchwright.rules.rule import rule
from hatchwright.tables.cited import Cited
from hatchwright.tables.limits import limit

SAME_BAY_IN = 0.25
"""A bay that differs from the mandate's picture by more is not taken for the same; common practice, no source [in]."""

SQUARE_IN = 1.0 / 16.0
"""Sides or diagonals of a bay may differ by this much; common practice, no source [in]."""

_LAW = Cited(0.0, "", Source("14CFR39", "39.19"), Grade.PUBLISHED)


def _practice(value_in: float, place: str) -> Cited:
    return Cited(value_in, "in", Source("PRACTICE", place), Grade.PRACTICE)


def room(layout: Layout) -> tuple[float, float, float, float]:
    """The free field round the opening's centre, between the flanges that close it on each side.

    Args:
        layout: as derived.
    Returns:
        tuple: x_from, y_from, x_to, y_to; infinite where no flange closes it [in].
    """
    x, y = layout.centre_in
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
    """Width of the doubler's overlap with one row, and with two.

    Args:
        survey: of a layout with a doubler.
    Returns:
        tuple: one row at the job's own edge distances; two rows as drawn. None without rivets or doubler [in].
    """
    layout = survey.layout
    doubler = layout.part("doubler")
    if doubler is None or not layout.holes_of("rivet"):
        return None
    drawn = doubler.edges[0].loop.bounds
    opening = layout.wanted.bounds
    two_in = min(opening[0] - drawn[0], drawn[2] - opening[2], opening[1] - drawn[1], drawn[3] - opening[3])
    edges = {row.edge.name: row for row in survey.edges}
    to_opening = min(float(d) for d in edges["opening edge"].distance_in)
    to_outer = min(
        float(d)
        for d, hole in zip(
            edges["doubler outer edge"].distance_in, edges["doubler outer edge"].holes, strict=True
        )
        if hole.kind == "rivet"
    )
    return to_opening + to_outer, two_in


@rule("R703", "Largest opening that fits the bay", "clearance_to_adjacent_structure")
def largest_that_fits(survey: Survey) -> Iterator[Finding]:
    """Where the parts do not clear the flanges, the largest opening that would fit between them is given, with two rows
    as drawn and with one. It is a figure to ask with, not leave to change a mandated size."""
    layout = survey.layout
    widths = overlaps(survey)
    if widths is None or not layout.job.bay.flanges:
        return
    least = limit("clearance_to_adjacent_structure")
    x_low, y_low, x_high, y_high = room(layout)
    x_min, y_min, x_max, y_max = layout.wanted.bounds
    is_two = any(rows_beside(survey).values())
    for axis, free_in, wanted_in in (
        ("X", x_high - x_low, x_max - x_min),
        ("Y", y_high - y_low, y_max - y_min),
    ):
        if not math.isfinite(free_in):
            continue
        fits = {
            rows: free_in - 2.0 * least.value - 2.0 * overlap_in
            for rows, overlap_in in (("one row", widths[0]), *((("two rows", widths[1]),) if is_two else ()))
        }
        most_in = fits["two rows" if is_two else "one row"]
        too_large = wanted_in > most_in + 1e-9
        said = "; ".join(f"{rows} {size:.2f}" for rows, size in fits.items())
        yield against(
            "R703",
            Status.STOP if too_large else Status.PASS,
            f"largest opening along {axis} between the flanges: {said}",
            value=wanted_in,
            limit=most_in,
            unit="in",
            cited=least,
            formula=f"room - 2 x {least.value:g} - 2 x overlap",
            values=(
                Quantity("room", free_in, "in"),
                Quantity("overlap, one row", widths[0], "in"),
                Quantity("overlap, as drawn", widths[1], "in"),
            ),
            advice=_options(layout) if too_large else "",
            shortfall=wanted_in - most_in,
        )


def _options(layout: Layout) -> str:
    said = (
        "To ask for: picking up the existing rows, a doubler outside, fewer rows with the strength shown, a smaller "
        "opening, or data from their holder."
    )
    if layout.job.mandate.kind == "directive":
        said += " A mandated size or place may only be departed from by an accepted alternative method (14 CFR 39.19)."
    return said


@rule("R704", "Rivets that fit in one row", "pitch_min_single_row")
def rivets_in_one_row(survey: Survey) -> Iterator[Finding]:
    """Where only one row would clear the flanges, the rivets that fit in it at three diameters are set against the
    number that the cut asks for."""
    layout = survey.layout
    widths = overlaps(survey)
    if widths is None or not layout.job.bay.flanges or not any(rows_beside(survey).values()):
        return
    x_low, y_low, x_high, y_high = room(layout)
    least, clear = limit("pitch_min_single_row"), limit("clearance_to_adjacent_structure")
    rivets = layout.holes_of("rivet")
    diameter_in = min(hole.diameter_in for hole in rivets)
    for side in needed_each_side(layout)[::2]:
        free_in = x_high - x_low if side.name.startswith("X") else y_high - y_low
        across_in = sides_across(layout, side.name)
        if not math.isfinite(free_in) or free_in - 2.0 * clear.value >= across_in + 2.0 * widths[1] - 1e-9:
            continue
        fit = math.floor((side.cut_in + widths[0]) / (least.value * diameter_in) + 1e-9) + 1
        yield against(
            "R704",
            Status.STOP if fit < side.needed else Status.PASS,
            f"one row on side {side.name}: {fit} rivets fit, {side.needed} are asked by {side.reading}",
            value=float(fit),
            limit=float(side.needed),
            unit="rivets",
            cited=least,
            formula=f"n = (cut + overlap) / {least.value:g} D, rounded down, + 1",
            values=(
                Quantity("cut", side.cut_in, "in"),
                Quantity("overlap", widths[0], "in"),
                Quantity("D", diameter_in, "in"),
            ),
            advice="One row does not hold what the cut asks for." if fit < side.needed else "",
            shortfall=float(side.needed - fit),
        )


def sides_across(layout: Layout, name: str) -> float:
    """Size of the opening along the axis that a side's name begins with.

    Args:
        layout: as derived.
        name: of the side, such as "X+".
    Returns:
        float: along X or Y [in].
    """
    x_min, y_min, x_max, y_max = layout.wanted.bounds
    return x_max - x_min if name.startswith("X") else y_max - y_min


@rule("R908", "The right bay")
def right_bay(survey: Survey) -> Iterator[Finding]:
    """The bay has the size that the mandate's picture shows. If not, it is the wrong bay, the wrong side or the wrong
    serial number, and that is asked before anything else."""
    job = survey.layout.job
    practice = _practice(SAME_BAY_IN, "bay against the mandate's picture")
    for axis, shown, at in (
        ("X", job.mandate.bay_x, sorted(row.x.inch for row in job.bay.rows if row.x)),
        ("Y", job.mandate.bay_y, sorted(row.y.inch for row in job.bay.rows if row.y)),
    ):
        if shown is None or len(at) < 2:
            continue
        found_in = at[-1] - at[0]
        differs = abs(found_in - shown.inch) > SAME_BAY_IN
        yield against(
            "R908",
            Status.STOP if differs else Status.PASS,
            f"bay along {axis}: found {found_in:.2f}, the mandate shows {shown.inch:.2f}",
            value=found_in,
            limit=shown.inch,
            unit="in",
            cited=practice,
            advice="Wrong bay, wrong side or wrong serial number? Ask before anything else is done."
            if differs
            else "",
            shortfall=abs(found_in - shown.inch),
        )


@rule("R909", "Bay out of square")
def out_of_square(survey: Survey) -> Iterator[Finding]:
    """Opposite sides and the two diagonals of the bay agree within a sixteenth; if not, the layout is measured from one
    stated corner, and the centre from two sides."""
    corners = survey.layout.job.bay.corners
    if corners is None:
        return
    sides = [side.inch for side in corners.sides]
    diagonals = [diagonal.inch for diagonal in corners.diagonals]
    pairs = [("opposite sides", max(sides[:2]) - min(sides[:2]))]
    if len(sides) == 4:
        pairs.append(("other sides", max(sides[2:]) - min(sides[2:])))
    pairs.append(("diagonals", max(diagonals) - min(diagonals)))
    practice = _practice(SQUARE_IN, "four-corner survey")
    for name, differ_in in pairs:
        off = differ_in > SQUARE_IN + 1e-9
        yield against(
            "R909",
            Status.CAUTION if off else Status.PASS,
            f"{name} of the bay differ by {differ_in:.3f}",
            value=differ_in,
            limit=SQUARE_IN,
            unit="in",
            cited=practice,
            advice="The bay is out of square: state the corner that rules, and check the centre from two sides."
            if off
            else "",
            shortfall=differ_in - SQUARE_IN,
        )


@rule("R910", "Existing rivets as assumed")
def existing_as_assumed(survey: Survey) -> Iterator[Finding]:
    """Each fastener found on a landmark row has the diameter that was assumed for the row."""
    bay = survey.layout.job.bay
    practice = _practice(0.0, "existing rows")
    for index, there in enumerate(bay.existing, start=1):
        for row in bay.rows:
            if row.diameter is None:
                continue
            off_in = abs(there.at[0].inch - row.x.inch) if row.x else abs(there.at[1].inch - row.y.inch)  # type: ignore[union-attr]
            if off_in > row.diameter.inch / 2.0 or there.diameter.exact_in == row.diameter.exact_in:
                continue
            yield against(
                "R910",
                Status.CAUTION,
                f"existing fastener {index} on the row of {row.name}: {there.diameter.text}, not {row.diameter.text}",
                value=there.diameter.inch,
                limit=row.diameter.inch,
                unit="in",
                cited=practice,
                advice="An oversize or a repair is there already. Look at the whole row and its records first.",
                place=(there.at[0].inch, there.at[1].inch),
                shortfall=abs(there.diameter.inch - row.diameter.inch),
            )


@rule("R911", "The mandated size")
def mandated_size(survey: Survey) -> Iterator[Finding]:
    """An opening that a directive asks for has the size that it names. Any departure needs an alternative method of
    compliance that the authority has accepted."""
    layout = survey.layout
    mandate = layout.job.mandate
    x_min, y_min, x_max, y_max = layout.wanted.bounds
    for axis, asked, drawn_in in (
        ("X", mandate.opening_x, x_max - x_min),
        ("Y", mandate.opening_y, y_max - y_min),
    ):
        if asked is None:
            continue
        differs = abs(asked.inch - drawn_in) > 1e-9
        yield against(
            "R911",
            Status.STOP
            if differs and mandate.kind == "directive"
            else Status.CAUTION
            if differs
            else Status.PASS,
            f"opening along {axis}: drawn {drawn_in:.3f}, mandated {asked.inch:.3f}",
            value=drawn_in,
            limit=asked.inch,
            unit="in",
            cited=_LAW,
            advice="A departure: it needs an accepted alternative method before the work starts."
            if differs
            else "",
            shortfall=abs(asked.inch - drawn_in),
        )
