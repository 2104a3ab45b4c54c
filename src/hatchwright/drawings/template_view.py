"""The guide template: the edge for the cutter's guide, and all that keeps it from being laid down wrongly."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from hatchwright.drawings.figures import figure, size_words, unit_of
from hatchwright.drawings.flexed_template import flexed_notes, flexed_tables
from hatchwright.drawings.page_frame import PageFrame
from hatchwright.drawings.sheet import Box, Entity, Layer, Outline, Sheet, Style, paragraph
from hatchwright.drawings.template_holes_view import drilled_through, spans
from hatchwright.drawings.template_plate import part_marks, plate_box
from hatchwright.drawings.template_words import TemplateWords, purpose_lines
from hatchwright.drawings.waste_holes import waste_hole_marks, waste_hole_table
from hatchwright.finding import Finding
from hatchwright.judged import Status
from hatchwright.layout.flat_pattern import template_stretch
from hatchwright.making.making import Making
from hatchwright.making.pins.notes import named
from hatchwright.making.pins.pin_layout import planned_pins
from hatchwright.making.template.holes import through_which
from hatchwright.making.template.part import TemplatePart, template_part
from hatchwright.words.findings import advice_text, told_text
from hatchwright.words.tell import tell

TITLES = {"female": "GUIDE TEMPLATE, WINDOW", "male": "GUIDE TEMPLATE, PLUG"}
"""Name of the sheet by kind of template."""

_LETTER_IN = 0.12
_BESIDE_IN = 2.6
_BESIDE_OFF_IN = 0.25
_LEGEND = (
    (Style.FINISHED, "template edge, cut by the machine"),
    (Style.DIMENSION, "engraved line, mark"),
    (Style.PHANTOM, "for reference, not cut here: rough cut, starter, corner holes"),
)


def template_sheet(making: Making, findings: Iterable[Finding], *, date: str) -> Sheet:
    """Draw the template, its face up that lies away from the skin.

    Args:
        findings: those of the template that do not pass are printed with it.
    Returns:
        Sheet: at full size, the origin of the job at the origin of the page; one that is bent onto a curved skin
            is drawn flat and stretched about the center of the opening.
    """
    page = PageFrame(making.layout.frame, template_stretch(making.layout))
    kind = making.chain.guide.kind
    plate, part = plate_box(making, page), template_part(making)
    words = TemplateWords(making, part, date=date)
    return Sheet(
        title=TITLES[kind],
        title_block=page.title_block(making.layout.job, date=date),
        entities=(
            *part_marks(part),
            *words.ink,
            *_beside(words.left_off, plate),
            *_reference(making, page),
        ),
        unit=unit_of(making.layout.job),
        notes=(
            *_notes(making, findings, plate),
            *_left_off_notes(making, words.left_off),
            *_pilot_notes(making, part),
            *_pin_notes(making),
        ),
        tables=(
            *flexed_tables(making, drilled_through(making, part)),
            *waste_hole_table(making),
        ),
        legend=_LEGEND,
    )


def template_lettering(making: Making, *, date: str) -> tuple[Entity, ...]:
    """What is lettered and marked on the template's face.

    Returns:
        tuple[Entity, ...]: texts, arrows and lines, none of them on a cut layer.
    """
    return TemplateWords(making, template_part(making), date=date).ink


def _beside(left_off: Sequence[str], plate: Box) -> Iterator[Entity]:
    """Words that find no room on the template, beside it."""
    if left_off:
        words = paragraph(
            ("NO ROOM ON THE TEMPLATE FOR:", *left_off), width_in=_BESIDE_IN, height_in=_LETTER_IN
        )
        yield from words.at(plate.right + _BESIDE_OFF_IN, plate.top)


def _reference(making: Making, page: PageFrame) -> Iterator[Entity]:
    """The rough cut, starter and corner holes: on paper to see, for a machine not to cut."""
    for loop in page.profile(making.chain.wanted):
        yield Outline(loop, Layer.DIMENSION, Style.PHANTOM, "rough-cut")
    yield from waste_hole_marks(making, page)


def _notes(making: Making, findings: Iterable[Finding], plate: Box) -> Iterator[str]:
    cutter, template = making.cutter, making.template
    guide, unit = making.chain.guide, unit_of(making.layout.job)
    for finding in findings:
        if finding.code.startswith("T") and finding.status is not Status.PASS:
            yield f"{finding.status.upper()} {finding.code}: {told_text(finding, unit)}. {advice_text(finding, unit)}"
    yield f"{'; '.join(purpose_lines(making))}."
    yield from flexed_notes(making.layout)
    sign = "-" if guide.kind == "female" else "+"
    yield (
        f"OFFSET {figure(guide.offset_in, unit, fine=True)} = (GUIDE {figure(guide.guide_in, unit)} {sign} "
        "CUT "
        f"{figure(guide.cut_in, unit)}) / 2 IS IN THE TEMPLATE. THE MACHINE'S OWN END MILL, "
        f"{figure(guide.end_mill_in, unit)}, IS NOT IN DXF, SVG AND PDF: COMPENSATE FOR IT ONCE. IT IS IN THE TOOLPATH "
        "FILES (.ngc): THERE COMPENSATE FOR NOTHING."
    )
    yield (
        f"IT GUIDES THE ROUGH CUT {size_words(making.chain.wanted.bounds, unit)}; "
        f"{figure(cutter.filing_allowance.inch, unit)} ALL ROUND IS LEFT TO FILE TO "
        f"{size_words(making.layout.wanted.bounds, unit)}."
    )
    long_in, short_in = sorted((plate.width_in, plate.height_in), reverse=True)
    thick = figure(template.thickness.inch, unit)
    yield f"BLANK AT LEAST {figure(long_in, unit)} x {figure(short_in, unit)} x {thick}."
    key = "THE CUT-OFF CORNER LIES" if guide.kind == "female" else "THE KEY HOLE LIES"
    words = " AND ".join(word for word, _ in making.layout.frame.directions())
    yield (
        f"{key} {words}; THE WORDS READ RIGHT ON THE FACE THAT LIES OUT. NEVER TURN IT OVER FOR THE OTHER "
        "SIDE."
    )
    yield "PROVE IT ON SCRAP OF THE SAME ALLOY AND THICKNESS BEFORE IT IS LAID ON THE AIRCRAFT."


def _pilot_notes(making: Making, part: TemplatePart) -> Iterator[str]:
    """Which pilot holes are of which size and go through which parts."""
    for (size_in, parts), numbers in through_which(drilled_through(making, part)).items():
        yield (
            f"PILOT HOLES {figure(size_in, unit_of(making.layout.job), fine=True)} THROUGH "
            f"{' AND '.join(parts).upper()}: NO. {spans(numbers)}."
        )


def _pin_notes(making: Making) -> Iterator[str]:
    """Which of its holes hold it in which stage."""
    pins = planned_pins(making)
    for number, stage in enumerate(pins.plan.stages if pins and pins.plan else (), start=1):
        held = tell(named([pins.pins[index] for index in stage.pins]), making.unit) if pins else ""
        yield f"HELD IN STAGE {number} BY {held.upper()}: SEE THE PIN SHEET."


def _left_off_notes(making: Making, left_off: Sequence[str]) -> Iterator[str]:
    """A caution where words found no room."""
    if left_off:
        widen = "WIDEN THE BORDER, OR WRITE" if making.chain.guide.kind == "female" else "WRITE"
        yield (
            f"CAUTION: NO ROOM ON THE TEMPLATE, CLEAR OF HOLES AND EDGES, FOR: {'; '.join(left_off)}. {widen} THEM BY "
            "HAND ON THE FACE THAT LIES OUT BEFORE IT LEAVES THE BENCH."
        )
