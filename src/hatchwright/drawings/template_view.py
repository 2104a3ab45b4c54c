"""The guide template: the edge for the cutter's guide, and all that keeps it from being laid down wrongly."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from hatchwright.drawings.block import paragraph
from hatchwright.drawings.boxes import Box
from hatchwright.drawings.flexed_template import flexed_notes, flexed_tables
from hatchwright.drawings.ink import Circle, Ink, Layer, Style, outlines
from hatchwright.drawings.page_frame import PageFrame
from hatchwright.drawings.sheet import Sheet
from hatchwright.drawings.template_words import TemplateWords, purpose_said
from hatchwright.drawings.waste_holes import waste_hole_marks, waste_hole_table
from hatchwright.finding import Finding
from hatchwright.judged import Status
from hatchwright.layout.flat_pattern import template_stretch
from hatchwright.layout.sizes import size_of
from hatchwright.making.making import Making
from hatchwright.making.pins.notes import named
from hatchwright.making.pins.pin_layout import planned_pins
from hatchwright.making.template.holes import through_which
from hatchwright.making.template.part import KEY_HOLE, TemplatePart, drilled_through, template_part
from hatchwright.said import Listed, Said, inch, said
from hatchwright.words.findings import advice_text, told_text
from hatchwright.words.spans import spans_said
from hatchwright.words.tell import tell

_BESIDE_OFF_IN = 0.25


def template_sheet(making: Making, findings: Iterable[Finding], *, date: str) -> Sheet:
    """Draw the template, its face up that lies away from the skin.

    Args:
        findings: those of the template that do not pass are printed with it.
    Returns:
        Sheet: at full size, the origin of the job at the origin of the page; one that is bent onto a curved skin
            is drawn flat and stretched about the center of the opening.
    """
    page = PageFrame(making.layout.frame, template_stretch(making.layout))
    part = template_part(making)
    plate = page.box(making.chain.machinable.bounds).grown(making.template.border.inch)
    words = TemplateWords(making, part, date=date)
    no_room = "template.no_room_widen" if making.is_window else "template.no_room"
    title = said("template.sheet_window" if making.is_window else "template.sheet_plug")
    ink = (*_part(part), *words.ink, *_beside(words.left_off, plate), *_reference(making, page))
    left_off = (said(no_room, words=Listed(tuple(words.left_off), ";")),) if words.left_off else ()
    pins = (*_pilot_notes(making, part), *_pin_notes(making))
    notes = (*_notes(making, findings, plate), *left_off, *pins)
    tables = (*flexed_tables(making, drilled_through(making)), *waste_hole_table(making))
    legend = {
        Style.FINISHED: said("template.edge"),
        Style.DIMENSION: said("template.engraved_line"),
        Style.PHANTOM: said("template.reference"),
    }
    job = making.layout.job
    return page.sheet(job, title, ink, date=date, notes=notes, tables=tables, legend=legend)


def _part(part: TemplatePart) -> Iterator[Ink]:
    """All that is cut and drilled: edges, pilot holes and key, as the machine makes them too."""
    yield from outlines(part.guide_edges, Layer.TEMPLATE, css="guide-edge")
    yield from outlines([part.plate_edge] if part.plate_edge else [], Layer.TEMPLATE, css="plate-edge")
    for hole in part.holes:
        is_key = hole.name == KEY_HOLE
        layer, css = (Layer.DRILL_FINAL, "key-hole") if is_key else (Layer.DRILL_PILOT, "pilot-hole")
        yield Circle(hole.center, hole.diameter_in, layer, Style.FINISHED, css=css)


def _beside(left_off: Sequence[str], plate: Box) -> Iterator[Ink]:
    """Words that find no room on the template, beside it."""
    if left_off:
        words = paragraph((tell(said("template.no_room_for")), *left_off), width_in=2.6, height_in=0.12)
        yield from words.at(plate.right + _BESIDE_OFF_IN, plate.top)


def _reference(making: Making, page: PageFrame) -> Iterator[Ink]:
    """The rough cut, starter and corner holes: on paper to see, for a machine not to cut."""
    yield from outlines(page.profile(making.chain.wanted), Layer.DIMENSION, Style.PHANTOM, "rough-cut")
    yield from waste_hole_marks(making, page)


def _notes(making: Making, findings: Iterable[Finding], plate: Box) -> Iterator[Said]:
    """What does not pass; what is in it, what it guides, what it is cut from, and how it is told from its mirror."""
    unit = making.unit
    for finding in findings:
        if finding.code.startswith("T") and finding.status is not Status.PASS:
            what, advice = told_text(finding, unit), advice_text(finding, unit)
            yield said("template.finding", status=finding.status, code=finding.code, what=what, advice=advice)
    yield said("template.purpose", lines=Listed(purpose_said(making), ";"))
    yield from flexed_notes(making.layout)
    guide, cutter = making.chain.guide, making.cutter
    yield said(
        "template.offset_of_window" if making.is_window else "template.offset_of_plug",
        offset=inch(guide.offset_in, fine=True),
        guide=inch(guide.guide_in),
        cut=inch(guide.cut_in),
        end_mill=inch(guide.end_mill_in),
    )
    yield said(
        "template.guides",
        rough=size_of(making.chain.wanted.bounds),
        left=inch(cutter.filing_allowance.inch),
        finished=size_of(making.layout.wanted.bounds),
    )
    long_in, short_in = sorted((plate.width_in, plate.height_in), reverse=True)
    thick = inch(making.template.thickness.inch)
    yield said("template.blank", long=inch(long_in), short=inch(short_in), thick=thick)
    ways = Listed(tuple(word.upper() for word, _ in making.layout.frame.directions()), ",")
    yield said("template.cut_off_corner" if making.is_window else "template.key_hole", ways=ways)
    yield said("template.prove_it")


def _pilot_notes(making: Making, part: TemplatePart) -> Iterator[Said]:
    """Which pilot holes are of which size and go through which parts."""
    for (size_in, parts), numbers in through_which(drilled_through(making)).items():
        size, spans = inch(size_in, fine=True), spans_said(numbers)
        through = Listed(tuple(said(f"template.part.{name}") for name in parts), "+")
        yield said("template.pilot_holes", size=size, parts=through, numbers=spans)


def _pin_notes(making: Making) -> Iterator[Said]:
    """Which of its holes hold it in which stage."""
    pins = planned_pins(making)
    if pins is None or pins.plan is None:
        return
    for number, stage in enumerate(pins.plan.stages, start=1):
        held = tell(named([pins.pins[index] for index in stage.pins]), making.unit).upper()
        yield said("template.held", number=number, held=held)
