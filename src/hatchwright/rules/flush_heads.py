"""R408, R412: countersunk sheets, and how each sheet takes a flush head."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.errors import TableError
from hatchwright.finding import Finding
from hatchwright.judged import Status, judge_at_least
from hatchwright.layout.layout import Hole
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.rules.answer import against, in_words
from hatchwright.rules.flush_rows import FlushRow, flush_rows
from hatchwright.rules.readings import Reading, by_readings, choose_at_least, reading
from hatchwright.rules.rule import rule
from hatchwright.rules.wording import inch, short_text
from hatchwright.tables.catalog import COUNTERSINK_THRESHOLDS, RIVET_HEAD_SIZES
from hatchwright.tables.cited import Cited
from hatchwright.tables.countersink import countersink_thresholds
from hatchwright.tables.instructions import instruction
from hatchwright.tables.rivets import head_size, parse_rivet
from hatchwright.workings import Quantity, Working

COUNTERSINK_READINGS = (
    "Army table",
    "head depth",
    "knife edge note",
    "older practice",
    "amateur-built practice",
    "1940s manual",
    "Navy tool text",
)


@rule(
    "R408",
    Shelf.HOLDS,
    readings=COUNTERSINK_READINGS,
    rests_on=(COUNTERSINK_THRESHOLDS, RIVET_HEAD_SIZES, instruction("rule_head_vs_sheet")),
    marks_holes=True,
)
def countersunk_sheet(survey: Survey) -> Iterator[Finding]:
    """R408: countersunk sheet, knife edge."""
    for row in flush_rows(survey):
        for part, thickness_in in row.takes("countersink"):
            try:
                readings = _thresholds(row.hole, thickness_in, survey)
            except TableError as error:
                yield in_words(
                    "R408",
                    Status.UNKNOWN,
                    f"{row.name} in the {part}: {error.what}",
                    instruction("rule_head_vs_sheet"),
                    holes=row.numbers,
                )
                continue
            judged = choose_at_least(survey.layout.job, "R408", readings, thickness_in)
            missing_in = judged.by.limit - thickness_in
            fits = judged.status is Status.PASS
            yield by_readings(
                "R408",
                f"row '{row.name}', countersunk {part} {inch(thickness_in)} in",
                judged,
                value=thickness_in,
                unit="in",
                advice=""
                if missing_in <= 0.0
                else f"{short_text(missing_in)} A knife edge: dimple, or use protruding heads.",
                holes=() if fits else row.numbers,
                shortfall=missing_in,
            )


def _thresholds(hole: Hole, thickness_in: float, survey: Survey) -> list[Reading]:
    """Every document's thinnest sheet for the rivet; one that is less than the head is deep is left out."""
    values = (Quantity("t", thickness_in, "in"), Quantity("D", hole.diameter_in, "in"))
    return [
        reading(
            one.document,
            one.thickness.value,
            f"t >= {inch(one.thickness.value)} in",
            values,
            Quantity("t least", one.thickness.value, "in"),
            one.thickness.source,
            one.thickness.grade,
        )
        for one in countersink_thresholds(hole.diameter_in, survey.shop)
        if "not to be used" not in one.thickness.note
    ]


@rule(
    "R412",
    Shelf.SETTLE,
    limits=("dimple_then_csk_extra_depth",),
    rests_on=(RIVET_HEAD_SIZES, instruction("dimple_all_sheets_or_csk_under")),
    marks_holes=True,
    step="dimple",
)
def preparation_stated(survey: Survey) -> Iterator[Finding]:
    """R412: preparation for flush heads."""
    for row in flush_rows(survey):
        if row.preparation == "dimple over countersink" and row.hole.kind == "rivet":
            yield from _under_dimple(row, survey)
            continue
        yield in_words(
            "R412",
            Status.UNKNOWN if row.preparation is None else Status.PASS,
            f"'{row.name}': it is not said how the sheets take the flush head"
            if row.preparation is None
            else f"'{row.name}': {row.preparation}",
            instruction("dimple_all_sheets_or_csk_under"),
            advice="Enter preparation: dimple, countersink, or dimple over countersink."
            if row.preparation is None
            else "",
            holes=row.numbers if row.preparation is None else (),
        )


def _under_dimple(row: FlushRow, survey: Survey) -> Iterator[Finding]:
    extra = survey.limit("dimple_then_csk_extra_depth")
    head = head_size(parse_rivet(row.hole.fastener), survey.shop)
    top_in = row.sheets[0][1]
    for part, thickness_in in row.sheets[1:]:
        needed_in = head.height_in + extra.value * top_in
        short = Status.UNKNOWN if head.grade.may_stop else Status.CAUTION
        status = judge_at_least(thickness_in, needed_in, short=short)
        fits = status is Status.PASS
        yield against(
            "R412",
            status,
            f"row '{row.name}', {part} {inch(thickness_in)} in countersunk under a dimple",
            value=thickness_in,
            limit=needed_in,
            unit="in",
            cited=Cited(needed_in, "in", head.source, head.grade),
            formula=f"t >= head height + {extra.value:g} t of the dimpled sheet",
            values=(Quantity("head height", head.height_in, "in"), Quantity("t top", top_in, "in")),
            more=(
                Working(
                    "depth of the nested cones",
                    (Quantity("t top", top_in, "in"),),
                    Quantity("extra", extra.value * top_in, "in"),
                    extra.source,
                    extra.grade,
                ),
            ),
            advice=""
            if fits
            else f"{short_text(needed_in - thickness_in)} Too thin under a dimple: dimple both sheets.",
            holes=() if fits else row.numbers,
            shortfall=needed_in - thickness_in,
        )
