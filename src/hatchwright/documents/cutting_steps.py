"""Steps of the work card up to the finished opening: cutter, template, trial, cut, file, measure."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.documents.step import Step, limit_words, quoted
from hatchwright.drawings.bay_structure import region_words
from hatchwright.drawings.figures import figure, size_words, unit_of
from hatchwright.drawings.flexed_template import flexed_notes
from hatchwright.drawings.parts_table import sheet_words
from hatchwright.drawings.pin_view import pin_sheets
from hatchwright.drawings.template_words import purpose_lines
from hatchwright.drawings.waste_holes import waste_holes
from hatchwright.drawings.writers.svg import picture_svg_of
from hatchwright.layout.flat_pattern import template_stretch
from hatchwright.layout.layout import Layout
from hatchwright.shapes.corners import smallest_corner
from hatchwright.tooling.guide_template import GuideChain, flat_cut, flat_size, least_corner
from hatchwright.tooling.pin_layout import planned_pins
from hatchwright.tooling.pin_notes import stage_notes
from hatchwright.tooling.starter import BACKING, drill_stop_in, shallowest


def cutting_steps(layout: Layout, chain: GuideChain | None) -> Iterator[Step]:
    """The steps up to the finished opening, those that apply to the job.

    Args:
        layout: as derived.
        chain: its template, None when there is none.
    Yields:
        Step: in the order of the work.
    """
    if layout.job.cutter is not None:
        yield _measure_cut(layout)
    if chain is not None:
        yield _make_template(layout, chain)
        yield _trial(layout, chain)
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
    if chain is not None:
        yield _pin_template(layout, chain)
    yield _corners_and_starter(layout, chain)
    yield _rough_cut(layout)
    yield _file(layout)
    yield _measure_opening(layout)


def _measure_cut(layout: Layout) -> Step:
    cutter, unit = layout.job.cutter, unit_of(layout.job)
    assert cutter is not None  # asked before
    skin = sheet_words(layout.parts[0], unit)
    width = figure(cutter.cut_width.inch, unit)
    return Step(
        "Measure the cut",
        (
            f"{cutter.kind[:1].upper()}{cutter.kind[1:]}: cut {width}, guide "
            f"{figure(cutter.guide.inch, unit)}. Cut scrap of "
            f"{skin} and measure the width of the cut, not of the cutter. If it is not {width}, enter what "
            "was measured and "
            "make the papers and the template again.",
        ),
        (f"cut along X ({width})", f"cut along Y ({width})"),
    )


def _make_template(layout: Layout, chain: GuideChain) -> Step:
    unit, guide = unit_of(layout.job), chain.guide
    width_in, height_in = flat_size(layout, chain)
    flat = ", flat" if template_stretch(layout) else ""
    sign = "-" if guide.kind == "female" else "+"
    word = "window" if guide.kind == "female" else "plug"
    return Step(
        "Make the template",
        (
            f"Offset {figure(guide.offset_in, unit, fine=True)} = (guide {figure(guide.guide_in, unit)} "
            f"{sign} cut "
            f"{figure(guide.cut_in, unit)}) / 2. {'; '.join(purpose_lines(layout, chain))}.",
            f"Check square and check length first. The machine's end mill {figure(guide.end_mill_in, unit)} "
            "is not in the "
            "file: compensate for it once.",
            *flexed_notes(layout)[:1],
        ),
        (
            f"{word} along X{flat} ({figure(width_in, unit)})",
            f"{word} along Y{flat} ({figure(height_in, unit)})",
        ),
    )


def _trial(layout: Layout, chain: GuideChain) -> Step:
    unit = unit_of(layout.job)
    width_in, height_in = flat_cut(layout, chain)
    flexed = template_stretch(layout) is not None
    corner = None if flexed else least_corner(chain.predicted)
    radius = f" and a smallest corner of R {figure(corner.radius_in, unit, fine=True)}" if corner else ""
    on_skin = f"; bent onto the skin it gives {size_words(chain.predicted.bounds, unit)}" if flexed else ""
    return Step(
        "Trial on scrap",
        (
            f"Cut scrap of {sheet_words(layout.parts[0], unit)} with this template"
            f"{', both flat' if flexed else ''}. It must give "
            f"{size_words((0.0, 0.0, width_in, height_in), unit)}{radius}"
            f"{on_skin}. If it does not, correct the cut width and "
            "make the template "
            "again; do not file to hide it.",
        ),
        (f"along X ({figure(width_in, unit)})", f"along Y ({figure(height_in, unit)})"),
    )


def _mark_out(layout: Layout) -> Step:
    unit = unit_of(layout.job)
    x, y = (figure(value, unit) for value in layout.centre_in)
    return Step(
        "Mark out",
        (
            f"Origin: {layout.frame.origin}. X runs {layout.frame.x}, Y runs {layout.frame.y}, seen from "
            "outside. Centre of the "
            f"opening: X {x}, Y {y}. Find it by two routes that do not share a measurement; they agree "
            "within "
            f"{limit_words(layout.limit('centre_routes_agree'), unit)}, else stop.",
            quoted("mark_with_soft_pencil"),
        ),
        (f"first route X, Y ({x}, {y})", f"second route X, Y ({x}, {y})"),
    )


def _pin_template(layout: Layout, chain: GuideChain) -> Step:
    side, pins = layout.job.aircraft.side.upper(), planned_pins(layout, chain)
    ways = " and ".join(word for word, _ in layout.frame.directions())
    laid = f"The {side} template, THIS SIDE OUT, arrows {ways}, its centre lines on the pencil lines."
    if pins is None:
        laid += (
            " Two pins or more, far apart, in the waste or at final holes at pilot size, and hold-downs. "
            "[common practice, no source]"
        )
    sheets = pin_sheets(layout, chain, pins, date="") if pins else ()
    notes = stage_notes(layout, pins) if pins else ()
    if pins and not notes:
        notes = sheets[0].notes
    return Step(
        "Lay on and pin the template",
        (laid, *flexed_notes(layout)[1:], *notes),
        ("read by a second person: side, face, arrows",),
        tuple(picture_svg_of(sheet) for sheet in sheets),
    )


def _corners_and_starter(layout: Layout, chain: GuideChain | None) -> Step:
    unit, holes = unit_of(layout.job), waste_holes(layout)
    lines = [
        f"{hole.mark}: {figure(hole.diameter_in, unit, fine=True)} at X {figure(hole.centre[0], unit)}, "
        f"Y {figure(hole.centre[1], unit)}."
        for hole in holes
    ]
    if any(hole.mark != "S" for hole in holes):
        lines.append("D: corner holes, twice the radius of the rough cut, at the centres of its arcs.")
        if chain is not None and _cutter_makes_corners(chain):
            lines.append(
                "The cutter makes these corners by itself on this template; drill them only if that is easier."
            )
    lines.append(
        "S: starter, in the waste; its edge stays inside the rough cut by "
        f"{limit_words(layout.limit('starter_from_cut_min'), unit)}."
    )
    nearest = shallowest(layout)
    behind = f"; {region_words(nearest, unit)}" if nearest else ""
    lines.append(
        f"Drill stop {figure(drill_stop_in(layout), unit)} from the outer face of the skin{behind}. "
        f"{BACKING.capitalize()}. [common practice, no source]"
    )
    return Step("Drill starter and corners", tuple(lines), ("drill stop set",))


def _cutter_makes_corners(chain: GuideChain) -> bool:
    made, wanted = least_corner(chain.predicted), least_corner(chain.wanted)
    return made is not None and wanted is not None and made.radius_in <= wanted.radius_in + 1e-6


def _rough_cut(layout: Layout) -> Step:
    unit = unit_of(layout.job)
    bounds = layout.rough_cut.bounds if layout.rough_cut is not None else layout.wanted.bounds
    return Step(
        "Cut to the rough line and take the blank out",
        (
            f"Rough cut {size_words(bounds, unit)}. Hold the blank by a screw in a pilot hole, so that it "
            "does not fall in, and "
            "leave the last tab until it is held. [common practice, no source]",
        ),
        ("blank kept and counted",),
    )


def _file(layout: Layout) -> Step:
    unit, cutter = unit_of(layout.job), layout.job.cutter
    corner = smallest_corner(layout.wanted)
    radius = f", least corner R {figure(corner.radius_in, unit, fine=True)}" if corner else ""
    left = f"{figure(cutter.filing_allowance.inch, unit)} all round is left; " if cutter else ""
    least, most = (limit_words(layout.limit(f"edge_break_{end}"), unit) for end in ("min", "max"))
    return Step(
        "File to the line and deburr",
        (
            f"{left[:1].upper()}{left[1:]}file to {size_words(layout.wanted.bounds, unit)}{radius}, not "
            "beyond.",
            quoted("edge_finish"),
            f"Break edges {least} to {most}. Look at the edge with a 10x glass.",
        ),
    )


def _measure_opening(layout: Layout) -> Step:
    unit = unit_of(layout.job)
    x_min, y_min, x_max, y_max = layout.wanted.bounds
    corner = smallest_corner(layout.wanted)
    blanks = [
        f"{words} ({figure(value, unit)})"
        for words, value in (
            ("least X", x_min),
            ("greatest X", x_max),
            ("least Y", y_min),
            ("greatest Y", y_max),
        )
    ]
    if corner:
        blanks.append(f"each corner R ({figure(corner.radius_in, unit, fine=True)})")
    made = layout.job.as_made
    lines = [
        "Measure the opening as filed, and enter it with its uncertainty: every edge distance is then judged "
        "from the edge "
        "that is there."
    ]
    if made and made.opening:
        lines.append(
            f"Entered already: {size_words(layout.opening.bounds, unit)}, u "
            f"{figure(made.uncertainty.inch, unit)} {unit}."
        )
    return Step("Measure the opening", tuple(lines), tuple(blanks))
