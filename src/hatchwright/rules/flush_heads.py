"""R408, R412, R429: rows of flush heads, their countersunk sheets, and how each sheet takes a head."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from hatchwright.errors import TableError
from hatchwright.finding import Finding
from hatchwright.job.fasteners import Preparation
from hatchwright.judged import Bound, Judgement, Measure, Status, bound, lengths
from hatchwright.layout.layout import Hole, PartName
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.remedy import ASK, Change
from hatchwright.rules.answer import held, stated, worse
from hatchwright.rules.countersunk import metal_left, rivet_countersink, under_dimple_held
from hatchwright.rules.rule import judged_by, mended_by, rule
from hatchwright.rules.wording import is_flush
from hatchwright.said import Said, inch, said
from hatchwright.tables.countersink import COUNTERSINK_THRESHOLDS, under_dimple
from hatchwright.tables.instructions import instruction
from hatchwright.tables.rivet_part import parse_rivet
from hatchwright.tables.rivets import RIVET_HEAD_SIZES, head_size
from hatchwright.tables.screws import (
    SCREW_CLEARANCE_DRILLS,
    SCREW_FLUSH_HEADS,
    SCREW_SIZES,
    clearance_drill,
    screw_size,
)

COUNTERSINK_READINGS = (
    "Army table",
    "head depth",
    "knife edge note",
    "older practice",
    "amateur-built practice",
    "1940s manual",
    "Navy tool text",
)


@rule("R408", Shelf.HOLDS, reads=("cover", "holes", "parts", "rows"), marks_holes=True, cause="knife_edge")
@judged_by(
    COUNTERSINK_THRESHOLDS,
    RIVET_HEAD_SIZES,
    SCREW_FLUSH_HEADS,
    SCREW_CLEARANCE_DRILLS,
    SCREW_SIZES,
    "rule_head_vs_sheet",
    limits=("flush_screw_countersink_min", "dimple_then_csk_extra_depth"),
    readings=COUNTERSINK_READINGS,
)
@mended_by(Change.ROW_PREPARATION, Change.REDUCED_HEAD)
def countersunk_sheet(survey: Survey) -> Iterator[Finding]:
    """R408: countersunk sheet, knife edge; all sheets of a row are one cause."""
    for row in flush_rows(survey):
        sheets = row.takes("countersink")
        if not sheets:
            continue
        try:
            judgements = {part: _countersunk(row, part, survey) for part, _ in sheets}
        except TableError:
            yield stated(
                Status.UNKNOWN,
                said("countersink.not_listed", row=row.name, diameter=inch(row.hole.diameter_in)),
                instruction("rule_head_vs_sheet"),
                ASK,
                holes=row.numbers,
                cause=row.name,
            )
            continue
        for part, thickness_in in sheets:
            judged = judgements[part]
            advice = (
                (said("countersink.knife_edge"), ASK)
                if judged.shortfall > 0.0
                else (said("countersink.measure_head"),)
            )
            subject = said("countersink.sheet", row=row.name, sheet=sheet_said(part, thickness_in))
            numbers = () if judged.status is Status.PASS else row.numbers
            yield held(judged, subject, *advice, holes=numbers, cause=row.name)


def _countersunk(row: FlushRow, part: PartName, survey: Survey) -> Judgement:
    """One sheet of a row under its countersink."""
    (thickness_in,) = (each_in for name, each_in in row.sheets if name == part)
    if row.hole.kind == "screw":
        above = row.takes("dimple")
        top_in = above[0][1] if above else 0.0
        return screw_countersink(row.hole.fastener, thickness_in, top_in=top_in, survey=survey)
    chosen = survey.chosen("R408")
    return rivet_countersink(parse_rivet(row.hole.fastener), thickness_in, shop=survey.shop, chosen=chosen)


def screw_countersink(thread: str, thickness_in: float, *, top_in: float, survey: Survey) -> Judgement:
    """A sheet or strap that is machine countersunk for a 100 degree screw: as thick as the 1940s manual asks, and
    thicker than the smallest head is deep in it.

    Args:
        top_in: of the dimpled sheet that lies in the countersink, 0 where the head does [in].
    Raises:
        TableError: head or hole of the screw are not listed.
    """
    t = Measure("t", thickness_in)
    least = Judgement(t, (bound(survey.limit("flush_screw_countersink_min")),))
    head = SCREW_FLUSH_HEADS.one(survey.shop, size=screw_size(thread, survey.shop).size)
    extra, hole = survey.limit("dimple_then_csk_extra_depth"), clearance_drill(thread, shop=survey.shop)
    deep_in = head.cone_in(hole.diameter_in) + extra.value * top_in
    measure = Measure(
        "t", thickness_in, with_=lengths(head=head.head_min_in, hole=hole.diameter_in, t_top=top_in)
    )
    through = Bound(deep_in, head.source, head.grade, "depth of the head")
    return worse(least, Judgement(measure, (through,), strict=True, fails_as=Status.UNKNOWN))


@rule("R412", Shelf.SETTLE, reads=("cover", "holes", "parts", "rows"), marks_holes=True, step="drill")
@judged_by(RIVET_HEAD_SIZES, "dimple_all_sheets_or_csk_under", limits=("dimple_then_csk_extra_depth",))
@mended_by(Change.ROW_PREPARATION)
def preparation_stated(survey: Survey) -> Iterator[Finding]:
    """R412: preparation for flush heads."""
    asked = instruction("dimple_all_sheets_or_csk_under")
    for row in flush_rows(survey):
        if row.preparation is None:
            subject = said("flush.not_entered", row=row.name)
            advice = said("flush.enter_preparation")
            enter = (f"{row.entry}.preparation",)
            yield stated(
                Status.UNKNOWN, subject, asked, advice, holes=row.numbers, cause=row.name, enter=enter
            )
        elif row.preparation == "dimple over countersink" and row.hole.kind == "rivet":
            yield from _under_dimple(row, survey)
        else:
            how = said(f"flush.{row.preparation.replace(' ', '_')}")
            yield stated(Status.PASS, said("flush.prepared", row=row.name, how=how), asked)


def _under_dimple(row: FlushRow, survey: Survey) -> Iterator[Finding]:
    """The depth of the head is from memory: a sheet that is too thin by it cautions, by the shop's own it is open."""
    head = head_size(parse_rivet(row.hole.fastener), survey.shop)
    for part, thickness_in in row.sheets[1:]:
        judged = under_dimple_held(head, thickness_in, top_in=row.sheets[0][1], limit=survey.limit)
        subject = said("flush.under_dimple", row=row.name, sheet=sheet_said(part, thickness_in))
        numbers = () if judged.status is Status.PASS else row.numbers
        yield held(judged, subject, said("flush.too_thin_under"), ASK, holes=numbers, cause=row.name)


@rule("R429", Shelf.HOLDS, reads=("cover", "holes", "parts", "rows"), marks_holes=True, cause="knife_edge")
@judged_by(
    RIVET_HEAD_SIZES,
    limits=("machine_countersink_land_min", "machine_countersink_depth_max", "dimple_then_csk_extra_depth"),
)
@mended_by(Change.ROW_PREPARATION, Change.REDUCED_HEAD)
def left_under_countersink(survey: Survey) -> Iterator[Finding]:
    """R429: metal left under a countersink; a head whose height is from memory cautions, however much is left."""
    for row in flush_rows(survey):
        # A head that sits in the top sheet leaves those below whole; one in a dimple is taken up by all of them.
        sheets = row.takes("countersink")[: 1 if row.preparation == "countersink" else None]
        if not sheets or row.hole.kind != "rivet":
            continue
        try:
            head = head_size(parse_rivet(row.hole.fastener), survey.shop)
        except TableError:
            continue  # R408 says of this row that nothing is listed
        depth_in = head.height_in + row.deeper_in(survey)
        for part, thickness_in in sheets:
            judged, is_land = metal_left(head, depth_in, thickness_in, survey.limit)
            sheet = sheet_said(part, thickness_in)
            subject = said("countersink.land" if is_land else "countersink.depth", row=row.name, sheet=sheet)
            thin = (said("countersink.leaves_little"), ASK) if judged.shortfall > 0.0 else ()
            advice = (*thin, said("countersink.measure_head"))
            numbers = () if judged.status is Status.PASS else row.numbers
            yield held(judged, subject, *advice, holes=numbers, cause=row.name)


class FlushRow(Struct, frozen=True):
    """The holes of one row with one flush fastener, how they are prepared, and the sheets they go through from outside.

    Args:
        name: of the row, or of the cover screws.
        preparation: as entered, None when it was not.
        pilot_in: hole before dimpling, None when it was not entered [in].
        sheets: name and thickness of each sheet from outside [in].
        entry: where the job keeps it, such as ``rows.0``.
    """

    name: str
    holes: tuple[Hole, ...]
    preparation: Preparation | None
    pilot_in: float | None
    sheets: tuple[tuple[PartName, float], ...]
    entry: str

    @property
    def hole(self) -> Hole:
        """One of its holes."""
        return self.holes[0]

    @property
    def numbers(self) -> tuple[int, ...]:
        """Numbers of all its holes."""
        return tuple(hole.number for hole in self.holes)

    def takes(self, how: str) -> tuple[tuple[PartName, float], ...]:
        """The sheets that are dimpled, or countersunk, with this preparation."""
        if self.preparation == "dimple over countersink":
            return self.sheets[:1] if how == "dimple" else self.sheets[1:]
        return self.sheets if self.preparation == how else ()

    def deeper_in(self, survey: Survey) -> float:
        """How much deeper than the head is high the lower sheets are countersunk, for the dimple above them [in]."""
        if self.preparation != "dimple over countersink":
            return 0.0
        deeper, _ = under_dimple(self.sheets[0][1], survey.shop)
        return deeper.value


def sheet_said(part: PartName, thickness_in: float) -> Said:
    """A sheet with its thickness, such as skin .032."""
    return said("flush.sheet", part=said(f"part.{part}"), thickness=inch(thickness_in))


def flush_rows(survey: Survey) -> Iterator[FlushRow]:
    """Every row of flush rivets, what was fitted otherwise apart; the cover screws when their heads are flush.

    Raises:
        UnlistedError: at the screws, when the shape of their heads is not known.
    """
    layout = survey.layout
    thickness = {part.name: part.thickness_in for part in layout.parts}
    screws = layout.job.cover.screws if layout.job.cover else None
    entered = {
        row.name: (row.preparation, row.pilot, f"rows.{index}") for index, row in enumerate(layout.job.rows)
    }
    for name, holes in _kinds(survey):
        first = holes[0]
        if first.kind == "rivet" and is_flush(first):
            preparation, pilot, entry = entered[name]
        elif first.kind == "screw" and screws and screws.known_head == "100 degree flush":
            preparation, pilot, entry = screws.preparation, screws.pilot, "cover.screws"
        else:
            continue
        sheets = tuple((part, thickness[part]) for part in first.stack)
        yield FlushRow(name, holes, preparation, pilot.inch if pilot else None, sheets, entry)


def _kinds(survey: Survey) -> Iterator[tuple[str, tuple[Hole, ...]]]:
    """The holes of each row, by the fastener that is in them."""
    for name, holes in survey.rows.items():
        kinds: dict[str, list[Hole]] = {}
        for hole in holes:
            kinds.setdefault(hole.fastener, []).append(hole)
        yield from ((name, tuple(kind)) for kind in kinds.values())
