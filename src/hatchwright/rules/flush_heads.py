"""R407 to R412: flush heads in thin sheet, by dimple or countersink, and the sheet's share of bearing."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from hatchwright.errors import TableError
from hatchwright.finding import Finding, Grade, Quantity, Source, Status, Working
from hatchwright.job.fasteners import Preparation
from hatchwright.layout.gaps import gap_to_point
from hatchwright.layout.layout import Hole, PartName
from hatchwright.layout.survey import Survey
from hatchwright.rules.answer import against, stated
from hatchwright.rules.rule import rule
from hatchwright.rules.wording import holes_named, shortfall_text
from hatchwright.tables.cited import Cited
from hatchwright.tables.countersink import countersink_thresholds, dimple_spread
from hatchwright.tables.drills import nearest_drill
from hatchwright.tables.instructions import instruction
from hatchwright.tables.limits import limit
from hatchwright.tables.rivets import head_size, hole_range, parse_rivet


@dataclass(frozen=True, slots=True)
class FlushRow:
    """The flush holes of one row, how they are prepared, and the sheets they go through from outside.

    Args:
        name: of the row, or of the cover screws.
        hole: one of its holes.
        numbers: of all its holes.
        preparation: as entered, None when it was not.
        pilot_in: hole before dimpling, None when it was not entered [in].
        sheets: name and thickness of each sheet from outside [in].
    """

    name: str
    hole: Hole
    numbers: tuple[int, ...]
    preparation: Preparation | None
    pilot_in: float | None
    sheets: tuple[tuple[PartName, float], ...]

    def takes(self, how: str) -> tuple[tuple[PartName, float], ...]:
        """The sheets that are dimpled, or countersunk, with this preparation."""
        if self.preparation == "dimple over countersink":
            return self.sheets[:1] if how == "dimple" else self.sheets[1:]
        return self.sheets if self.preparation == how else ()


def flush_rows(survey: Survey) -> list[FlushRow]:
    """Every row of flush rivets, and the cover screws when their heads are flush.

    Args:
        survey: of the layout.
    Returns:
        list: one for each row.
    """
    layout = survey.layout
    thickness = {part.name: part.thickness_in for part in layout.parts}
    screws = layout.job.cover.screws if layout.job.cover else None
    entered = {row.name: (row.preparation, row.pilot) for row in layout.job.rows}
    found = []
    for name, holes in layout.rows().items():
        first = holes[0]
        if first.kind == "rivet" and parse_rivet(first.fastener).is_flush:
            preparation, pilot = entered[name]
        elif first.kind == "screw" and screws and screws.head == "100 degree flush":
            preparation, pilot = screws.preparation, screws.pilot
        else:
            continue
        sheets = tuple((part, thickness[part]) for part in first.stack)
        numbers = tuple(hole.number for hole in holes)
        found.append(FlushRow(name, first, numbers, preparation, pilot.inch if pilot else None, sheets))
    return found


@rule("R407", "Thin sheet in bearing", "t_over_d_min_for_bearing_allowables")
def thin_sheet(survey: Survey) -> Iterator[Finding]:
    """A sheet is at least .18 of the rivet's diameter thick, below which handbook bearing values do not hold without
    tests."""
    layout = survey.layout
    least = limit("t_over_d_min_for_bearing_allowables")
    seen: set[tuple[str, str]] = set()
    for hole in layout.holes_of("rivet"):
        for part in layout.parts:
            if part.name not in hole.stack or (part.name, hole.fastener) in seen:
                continue
            seen.add((part.name, hole.fastener))
            ratio = part.thickness_in / hole.diameter_in
            thin = ratio < least.value - 1e-9
            yield against(
                "R407",
                Status.UNKNOWN if thin else Status.PASS,
                f"{part.name} {part.thickness_in:g} in with {hole.fastener}",
                value=ratio,
                limit=least.value,
                unit="t/D",
                cited=least,
                formula=f"t/D >= {least.value:g}",
                values=(Quantity("t", part.thickness_in, "in"), Quantity("D", hole.diameter_in, "in")),
                advice="Handbook bearing values end here: smaller rivets, or tests." if thin else "",
                shortfall=least.value - ratio,
            )


@rule("R408", "Countersunk sheet, knife edge")
def countersunk_sheet(survey: Survey) -> Iterator[Finding]:
    """A sheet is machine-countersunk only when it is thicker than the head is deep; thinner, the countersink leaves a
    knife edge. Documents give several thicknesses, all shown; the table by diameter is the one judged by."""
    for row in flush_rows(survey):
        for part, thickness_in in row.takes("countersink"):
            try:
                thresholds = countersink_thresholds(row.hole.diameter_in)
            except TableError as error:
                yield stated(
                    "R408",
                    Status.UNKNOWN,
                    f"{row.name} in the {part}: {error.what}",
                    instruction("rule_head_vs_sheet"),
                    holes=row.numbers,
                )
                continue
            least = thresholds[0].thickness
            thin = thickness_in < least.value - 1e-9
            readings = tuple(
                Working(
                    f"{one.document}: t >= {one.thickness.value:g} in",
                    (Quantity("t", thickness_in, "in"),),
                    Quantity("t least", one.thickness.value, "in"),
                    one.thickness.source,
                    one.thickness.grade,
                )
                for one in thresholds
            )
            yield against(
                "R408",
                Status.STOP if thin else Status.PASS,
                f"row '{row.name}', countersunk {part} {thickness_in:g} in",
                value=thickness_in,
                limit=least.value,
                unit="in",
                cited=least,
                more=readings,
                advice=f"{shortfall_text(least.value - thickness_in)}: a knife edge. Dimple, or use protruding heads."
                if thin
                else "",
                holes=row.numbers if thin else (),
                shortfall=least.value - thickness_in,
            )


@rule("R409", "Dimpled sheet", "dimple_best_max_thickness")
def dimpled_sheet(survey: Survey) -> Iterator[Finding]:
    """Sheet up to .040 dimples well; thicker sheet is countersunk instead."""
    most = limit("dimple_best_max_thickness")
    for row in flush_rows(survey):
        for part, thickness_in in row.takes("dimple"):
            thick = thickness_in > most.value + 1e-9
            yield against(
                "R409",
                Status.UNKNOWN if thick else Status.PASS,
                f"row '{row.name}', dimpled {part} {thickness_in:g} in",
                value=thickness_in,
                limit=most.value,
                unit="in",
                cited=most,
                formula=f"t <= {most.value:g} in",
                values=(Quantity("t", thickness_in, "in"),),
                advice="Too thick to dimple well: countersink this sheet if it is thick enough for that."
                if thick
                else "",
                holes=row.numbers if thick else (),
                shortfall=thickness_in - most.value,
            )


@rule("R410", "Hole after dimpling")
def hole_after_dimpling(survey: Survey) -> Iterator[Finding]:
    """Dimpling opens the hole, so it is drilled small first and opened after; a hole at final size before dimpling ends
    beyond the range for its rivet."""
    for row in flush_rows(survey):
        if not row.takes("dimple") or row.pilot_in is None or row.hole.kind != "rivet":
            continue
        drill = nearest_drill(row.pilot_in)
        try:
            after, allowed = dimple_spread(drill.name), hole_range(row.hole.diameter_in)
        except TableError as error:
            yield stated(
                "R410",
                Status.UNKNOWN,
                f"row '{row.name}': {error.what}",
                instruction("dimple_cracks"),
                advice="Dimple a trial piece and measure what the hole becomes.",
                holes=row.numbers,
            )
            continue
        large = after.value > allowed.greatest_in + 1e-9
        yield against(
            "R410",
            Status.UNKNOWN if large else Status.PASS,
            f"row '{row.name}': drill {drill} becomes {after.value:.3f} when dimpled ({after.note})",
            value=after.value,
            limit=allowed.greatest_in,
            unit="in",
            cited=Cited(allowed.greatest_in, "in", allowed.source, allowed.grade),
            formula="hole after dimpling <= greatest hole",
            values=(Quantity("drill", drill.diameter_in, "in"), Quantity("after", after.value, "in")),
            more=(
                Working(
                    f"spread of drill {drill}",
                    (Quantity("before", drill.diameter_in, "in"),),
                    Quantity("after", after.value, "in"),
                    after.source,
                    after.grade,
                ),
            ),
            advice="A smaller pilot, then dimple, then open to final; or have it accepted by the holder of the data."
            if large
            else "",
            holes=row.numbers if large else (),
            shortfall=after.value - allowed.greatest_in,
        )


@rule("R411", "Room for the dimple die", "dimple_flange_distance_min", "dimple_flange_distance")
def die_room(survey: Survey) -> Iterator[Finding]:
    """A dimple die needs a flat circle round each hole, so no flange lies nearer to a dimpled hole than a quarter inch,
    or three sixteenths with a tight die."""
    least, usual = limit("dimple_flange_distance_min"), limit("dimple_flange_distance")
    layout = survey.layout
    by_number = {hole.number: hole for hole in layout.holes}
    for row in flush_rows(survey):
        if not row.takes("dimple"):
            continue
        gaps = [
            (gap_to_point(flange, (by_number[number].x_in, by_number[number].y_in)), number, flange.name)
            for number in row.numbers
            for flange in layout.job.bay.flanges
        ]
        if not gaps:
            continue
        gap_in, number, name = min(gaps)
        status = (
            Status.STOP
            if gap_in < least.value - 1e-9
            else Status.CAUTION
            if gap_in < usual.value - 1e-9
            else Status.PASS
        )
        yield against(
            "R411",
            status,
            f"{holes_named(by_number[number])} to {name}, dimpled",
            value=gap_in,
            limit=usual.value,
            unit="in",
            cited=usual,
            formula=f"gap >= {usual.value:g} in, {least.value:g} with a tight die",
            values=(Quantity("gap", gap_in, "in"),),
            advice="" if status is Status.PASS else "The die does not sit flat here: move the hole.",
            holes=(number,) if status is not Status.PASS else (),
            shortfall=usual.value - gap_in,
        )


@rule("R412", "Preparation for flush heads", "dimple_then_csk_extra_depth")
def preparation_stated(survey: Survey) -> Iterator[Finding]:
    """How each sheet takes a flush head is stated, and under a dimple the countersunk sheet is as thick as the head is
    deep and .305 of the dimpled sheet more."""
    for row in flush_rows(survey):
        if row.preparation is None:
            yield stated(
                "R412",
                Status.UNKNOWN,
                f"'{row.name}': it is not said how the sheets take the flush head",
                instruction("dimple_all_sheets_or_csk_under"),
                advice="Enter preparation: dimple, countersink, or dimple over countersink.",
                holes=row.numbers,
            )
        elif row.preparation == "dimple over countersink" and row.hole.kind == "rivet":
            yield from _under_dimple(row)


def _under_dimple(row: FlushRow) -> Iterator[Finding]:
    extra = limit("dimple_then_csk_extra_depth")
    try:
        head = head_size(parse_rivet(row.hole.fastener))
    except TableError:
        return
    top_in = row.sheets[0][1]
    for part, thickness_in in row.sheets[1:]:
        needed_in = head.height_in + extra.value * top_in
        thin = thickness_in < needed_in - 1e-9
        yield against(
            "R412",
            Status.UNKNOWN if thin else Status.PASS,
            f"row '{row.name}', {part} countersunk under a dimple",
            value=thickness_in,
            limit=needed_in,
            unit="in",
            cited=extra,
            formula="t >= head height + .305 t of the dimpled sheet",
            values=(Quantity("head height", head.height_in, "in"), Quantity("t top", top_in, "in")),
            more=(
                Working(
                    "head height",
                    (),
                    Quantity("h", head.height_in, "in"),
                    Source(head.source.key, head.source.place),
                    Grade(head.grade),
                ),
            ),
            advice="Too thin under a dimple: dimple both sheets." if thin else "",
            holes=row.numbers if thin else (),
            shortfall=needed_in - thickness_in,
        )
