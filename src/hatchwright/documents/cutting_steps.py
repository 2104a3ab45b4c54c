"""Steps of the work card up to the finished opening: cutter, template, trial, cut, file, measure."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.documents.laying_steps import laying_steps
from hatchwright.documents.step import Step, limit_words, quoted
from hatchwright.drawings.figures import figure, size_words, unit_of
from hatchwright.drawings.flexed_template import flexed_notes
from hatchwright.drawings.parts_table import sheet_words
from hatchwright.drawings.pin_view import pin_sheets
from hatchwright.drawings.template_words import purpose_lines
from hatchwright.drawings.writers.svg import picture_svg_of
from hatchwright.layout.flat_pattern import template_stretch
from hatchwright.layout.layout import Layout
from hatchwright.making.making import Making
from hatchwright.making.pins.notes import stage_lines
from hatchwright.making.pins.pin_layout import planned_pins
from hatchwright.making.pins.runs import TAB_IN
from hatchwright.making.template.flat_size import flat_cut, flat_size
from hatchwright.units import length_words
from hatchwright.words.tell import tell

_LONG = {"in": "inches", "mm": "millimetres"}


def cutting_steps(layout: Layout, making: Making | None) -> Iterator[Step]:
    """The steps up to the finished opening, those that apply to the job.

    Yields:
        Step: in the order of the work.
    """
    if layout.job.cutter is not None:
        yield _measure_cut(layout)
    if making is not None:
        yield _make_template(making)
        yield _trial(making)
    yield Step(
        "Protect and contain",
        (
            "Tape the skin round the cut. Tray, moist cloth or sticky tape behind it; cover cables, pulleys "
            "and connectors; "
            "plug drain holes. Count in: bits, fasteners, tape, and the blank that will be cut out. "
            "[common practice, no source]",
        ),
        ("counted in",),
    )
    yield _mark_out(layout)
    yield from laying_steps(layout, making)
    yield _rough_cut(layout, making)
    yield _file(layout)
    yield _measure_opening(layout)


def _measure_cut(layout: Layout) -> Step:
    cutter, unit = layout.job.cutter, unit_of(layout.job)
    assert cutter is not None  # asked before
    skin = sheet_words(layout.parts[0], unit)
    width = length_words(cutter.cut_width.inch, unit)
    return Step(
        "Measure the cut",
        (
            f"{cutter.kind[:1].upper()}{cutter.kind[1:]}: cut {width}, guide "
            f"{length_words(cutter.guide.inch, unit)}. Cut scrap of "
            f"{skin} {unit} and measure the width of the cut, not of the cutter. If it is not {width}, enter what "
            "was measured and "
            "make the papers and the template again.",
        ),
        (f"cut along X ({width})", f"cut along Y ({width})"),
    )


def _make_template(making: Making) -> Step:
    unit, guide = unit_of(making.layout.job), making.chain.guide
    width_in, height_in = flat_size(making)
    flat = ", flat" if template_stretch(making.layout) else ""
    sign = "-" if guide.kind == "female" else "+"
    word = "window" if guide.kind == "female" else "plug"
    return Step(
        "Make the template",
        (
            f"Offset {length_words(guide.offset_in, unit, fine=True)} = (guide {length_words(guide.guide_in, unit)} "
            f"{sign} cut {length_words(guide.cut_in, unit)}) / 2. Lengths in {_LONG[unit]}: "
            f"{'; '.join(purpose_lines(making))}.",
            f"Check square and check length first. The machine's end mill {length_words(guide.end_mill_in, unit)} "
            "is not in DXF, SVG and PDF: compensate for it once. It is in the toolpath files (.ngc): there compensate "
            "for nothing.",
            *flexed_notes(making.layout)[:1],
        ),
        (
            f"{word} along X{flat} ({length_words(width_in, unit)})",
            f"{word} along Y{flat} ({length_words(height_in, unit)})",
        ),
    )


def _trial(making: Making) -> Step:
    unit = unit_of(making.layout.job)
    width_in, height_in = flat_cut(making)
    flexed = template_stretch(making.layout) is not None
    corner = None if flexed else making.chain.predicted_corner
    radius = (
        f" and a smallest corner of R {length_words(corner.radius_in, unit, fine=True)}" if corner else ""
    )
    on_skin = (
        f"; bent onto the skin it gives {size_words(making.chain.predicted.bounds, unit)} {unit}"
        if flexed
        else ""
    )
    return Step(
        "Trial on scrap",
        (
            f"Cut scrap of {sheet_words(making.layout.parts[0], unit)} {unit} with this template"
            f"{', both flat' if flexed else ''}. It must give "
            f"{size_words((0.0, 0.0, width_in, height_in), unit)} {unit}{radius}"
            f"{on_skin}. If it does not, correct the cut width and "
            "make the template "
            "again; do not file to hide it.",
        ),
        (f"along X ({length_words(width_in, unit)})", f"along Y ({length_words(height_in, unit)})"),
    )


def _mark_out(layout: Layout) -> Step:
    unit = unit_of(layout.job)
    x, y = (figure(value, unit) for value in layout.center_in)
    return Step(
        "Mark out",
        (
            f"Origin: {layout.frame.origin}. X runs {layout.frame.x}, Y runs {layout.frame.y}, seen from "
            "outside. Centre of the "
            f"opening: X {x}, Y {y} {unit}. Find it by two routes that do not share a measurement; they agree "
            "within "
            f"{limit_words(layout.limit('centre_routes_agree'), unit)}, else stop.",
            quoted("mark_with_soft_pencil"),
        ),
        (f"first route X, Y ({x}, {y} {unit})", f"second route X, Y ({x}, {y} {unit})"),
    )


def _rough_cut(layout: Layout, making: Making | None) -> Step:
    unit = unit_of(layout.job)
    bounds = layout.rough_cut.bounds if layout.rough_cut is not None else layout.wanted.bounds
    pins = planned_pins(making) if making is not None else None
    stages = stage_lines(making, pins) if making is not None and pins is not None else ()
    is_loose = pins is not None and pins.plan is None
    if stages:
        end = (
            "Hold the waste from outside by a screw in a pilot hole of its own, so that it does not fall in."
        )
    else:
        end = (
            f"Leave a tab of {length_words(TAB_IN, unit)}, where the run ends beside where it began, until the waste "
            "is held from outside by a screw in a pilot hole of its own, so that it does not fall in; then cut the tab."
        )
    sheets = pin_sheets(making, pins, date="") if making is not None and pins is not None else ()
    return Step(
        "Cut to the rough line and take the blank out",
        (
            f"Rough cut {size_words(bounds, unit)} {unit}.",
            *(("STOP: do not cut before it is settled what holds the template (T501).",) if is_loose else ()),
            *(tell(line, unit) for stage in stages for line in stage),
            f"{end} [common practice, no source]",
        ),
        (*(f"stage {number} cut" for number, _ in enumerate(stages, start=1)), "blank kept and counted"),
        tuple(picture_svg_of(sheet) for sheet in sheets),
    )


def _file(layout: Layout) -> Step:
    unit, cutter = unit_of(layout.job), layout.job.cutter
    corner = layout.wanted_corner
    radius = f", least corner R {length_words(corner.radius_in, unit, fine=True)}" if corner else ""
    left = f"{length_words(cutter.filing_allowance.inch, unit)} all round is left; " if cutter else ""
    least, most = (limit_words(layout.limit(f"edge_break_{end}"), unit) for end in ("min", "max"))
    return Step(
        "File to the line and deburr",
        (
            f"{left[:1].upper()}{left[1:]}file to {size_words(layout.wanted.bounds, unit)} {unit}{radius}, not "
            "beyond.",
            quoted("edge_finish"),
            f"Break edges {least} to {most}. Look at the edge with a 10x glass.",
        ),
    )


def _measure_opening(layout: Layout) -> Step:
    unit = unit_of(layout.job)
    x_min, y_min, x_max, y_max = layout.wanted.bounds
    corner = layout.wanted_corner
    blanks = [
        f"{words} ({length_words(value, unit)})"
        for words, value in (
            ("least X", x_min),
            ("greatest X", x_max),
            ("least Y", y_min),
            ("greatest Y", y_max),
        )
    ]
    if corner:
        blanks.append(f"each corner R ({length_words(corner.radius_in, unit, fine=True)})")
    made = layout.job.as_made
    lines = [
        "Measure the opening as filed, and enter it with its uncertainty: every edge distance is then judged "
        "from the edge "
        "that is there."
    ]
    if made and made.opening:
        lines.append(
            f"Entered already: {size_words(layout.opening.bounds, unit)} {unit}, u "
            f"{figure(made.uncertainty.inch, unit)} {unit}."
        )
    return Step("Measure the opening", tuple(lines), tuple(blanks))
