"""The trial template for scrap: its edge, the datum cross that aligns it, and the places to measure at."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec.structs import replace

from hatchwright.drawings.boxes import Box
from hatchwright.drawings.ink import LEAST_IN, Anchor, Circle, Ink, Layer, Line, Style, Text, outlines
from hatchwright.drawings.lettering import fitted
from hatchwright.drawings.marks import cross
from hatchwright.drawings.page_frame import PageFrame, rectangle
from hatchwright.drawings.sheet import Sheet
from hatchwright.drawings.table import Table
from hatchwright.job.cutter import Template
from hatchwright.layout.layout import Layout
from hatchwright.making.trial.corner import diagonal_in
from hatchwright.making.trial.holes import TrialHoles, trial_holes
from hatchwright.making.trial.piece import TrialPiece
from hatchwright.making.trial.trial import cutter_and_template
from hatchwright.making.trial.trial_sheet import SCANNED
from hatchwright.said import Said, Value, inch, said
from hatchwright.units import Unit, figure
from hatchwright.words.tell import tell, tell_all

_LETTER_IN = 0.1
_TICK_IN = 0.08
_PAD_IN = 0.1
_CROSS_IN = 0.3
_ACROSS_ROWS = 6
"""Lines for widths; five readings or more are asked for."""

_LEAST_BORDER_IN = 0.6
"""Room for the cross and the words beside a window [in]. Common practice, no source."""


def trial_view(layout: Layout, piece: TrialPiece, *, date: str) -> Sheet:
    """Draw the template of a trial piece, its datum cross at the origin; not keyed, for a second cut is made turned."""
    cutter, template = cutter_and_template(layout.job)
    plate, is_window = _plate(template, piece), piece.chain.guide.kind == "female"
    holes = trial_holes(layout, piece, cutter, template, plate_half_in=plate.right)
    sheet = PageFrame(layout.frame).sheet(
        layout.job,
        said(f"trial.title_{piece.kind}"),
        (
            *outlines(piece.chain.machinable.loops, Layer.TEMPLATE, css="guide-edge"),
            *outlines([rectangle(plate)] if is_window else [], Layer.TEMPLATE, css="plate-edge"),
            *_cross(piece, plate, is_window=is_window),
            *_words(piece, plate, is_window=is_window),
            *outlines(piece.chain.wanted.loops, Layer.DIMENSION, Style.PHANTOM, "rough-cut"),
            *_places(piece),
            *_holes(holes),
        ),
        date=date,
        notes=(*_notes(piece), *_hole_notes(holes, layout.job.unit)),
        tables=_tables(layout, piece),
        legend={
            Style.FINISHED: said("template.edge"),
            Style.DIMENSION: said("trial.cross"),
            Style.PHANTOM: said("trial.legend_cut_and_starter" if holes.starter_at else "trial.legend_cut"),
        },
    )
    block = replace(sheet.title_block, view=tell(said("trial.on_scrap")), directions=())
    return replace(sheet, title_block=block)


def _plate(template: Template, piece: TrialPiece) -> Box:
    box, is_window = Box(*piece.chain.machinable.bounds), piece.chain.guide.kind == "female"
    return box.grown(max(template.border.inch, _LEAST_BORDER_IN)) if is_window else box


def _cross(piece: TrialPiece, plate: Box, *, is_window: bool) -> Iterator[Ink]:
    """All across a plug; beside a window from its edge to the plate's."""
    for way in (-1.0, 1.0):
        near, far = (0.5 * piece.template_in, plate.right) if is_window else (0.0, plate.right)
        yield Line(((way * near, 0.0), (way * far, 0.0)), Layer.ENGRAVE)
        yield Line(((0.0, way * near), (0.0, way * far)), Layer.ENGRAVE)


def _words(piece: TrialPiece, plate: Box, *, is_window: bool) -> Iterator[Ink]:
    """Which end is up, so that a second cut is turned half round and no other way."""
    half = 0.5 * piece.template_in
    middle = 0.5 * (half + plate.top) if is_window else 0.62 * half
    width_in = (plate.right if is_window else 0.75 * half) - 2.0 * _PAD_IN
    for word, y in ((said("trial.up"), middle), (said("trial.scrap"), -middle)):
        shown, height_in = fitted(
            tell(word), height_in=0.14, width_in=width_in, least_height_in=0.06, bold=True
        )
        yield Text((_PAD_IN, y - 0.5 * height_in), shown, height_in, bold=True)


def _places(piece: TrialPiece) -> Iterator[Ink]:
    for number, (place, out) in enumerate(zip(piece.places, piece.normals, strict=True), start=1):
        (x, y), (u, v) = (float(place[0]), float(place[1])), (float(out[0]), float(out[1]))
        yield Line(((x, y), (x - _TICK_IN * u, y - _TICK_IN * v)), Layer.DIMENSION, css="place")
        at = (x - 2.2 * _TICK_IN * u, y - 2.2 * _TICK_IN * v - 0.5 * _LETTER_IN)
        yield Text(at, str(number), _LETTER_IN, anchor=Anchor.MIDDLE)


def _holes(holes: TrialHoles) -> Iterator[Ink]:
    """The starter to be drilled in the scrap, and pins: drilled by the machine when their size is known."""
    if holes.starter_at:
        x, y = holes.starter_at
        yield Circle((x, y), holes.starter_in, Layer.DIMENSION, Style.PHANTOM, css="waste-hole")
        yield from cross((x, y), min(_CROSS_IN, holes.starter_in))
        yield Text((x + 0.05, y + 0.04), "S", _LETTER_IN)
    for x, y in holes.pins_at:
        if holes.pin_in:
            yield Circle((x, y), holes.pin_in, Layer.DRILL_PILOT, css="pin-hole")
        yield from cross((x, y), _CROSS_IN, css="pin")
        yield Text((x + 0.07, y + 0.07), "P", _LETTER_IN)


def _notes(piece: TrialPiece) -> tuple[Said, ...]:
    cut_it = said("trial.cut_it", size=inch(piece.width_in))
    read = said("trial.measure"), said("trial.turn"), said("trial.scanned", **SCANNED)
    return said("trial.scrap_only"), _made_so(piece), cut_it, *read


def _made_so(piece: TrialPiece) -> Said:
    guide, corner = piece.chain.guide, piece.chain.machinable_corner
    edge = "window" if guide.kind == "female" else "plug"
    values: dict[str, Value] = {
        "size": inch(piece.template_in),
        "offset": inch(guide.offset_in, fine=True),
        "guide": inch(guide.guide_in),
        "cut": inch(guide.cut_in),
    }
    if piece.kind == "disc" or corner is None:
        return said(f"trial.{edge}_{'round' if piece.kind == 'disc' else 'plain'}", **values)
    if corner.radius_in < LEAST_IN:
        return said(f"trial.{edge}_square", **values)
    return said(f"trial.{edge}_radius", **values, radius=inch(corner.radius_in, fine=True))


def _hole_notes(holes: TrialHoles, unit: Unit) -> tuple[Value, ...]:
    starter = inch(holes.starter_in, fine=True)
    drilled = said("trial.no_starter", starter=starter)
    if holes.starter_at:
        x, y = map(inch, holes.starter_at)
        drilled = said("trial.starter", starter=starter, x=x, y=y)
    held = said("trial.drill_for_pins")
    if holes.pin_in:
        held = said("trial.pins_through", pin=inch(holes.pin_in, fine=True))
    passed = {True: "passes", False: "does_not_pass", None: "not_measured"}[holes.are_clear]
    return drilled, tell_all((held, said("trial.clamp_scrap"), said(f"trial.tool_{passed}")), unit)


def _heads(*names: str) -> list[str]:
    return [f"trial.head.{name}" for name in names]


def _tables(layout: Layout, piece: TrialPiece) -> Iterator[Table]:
    """Everything that the file of readings asks for, under its own names."""
    unit = layout.job.unit
    asked, across = figure(piece.template_in, unit), figure(piece.width_in, unit)
    title = said("trial.as_made", unit=unit, piece=piece.kind, size=figure(piece.size_in, unit))
    made = (
        ("template_x", tell(said("trial.size_x")), asked, ""),
        ("template_y", tell(said("trial.size_y")), asked, ""),
        ("template_uncertainty", tell(said("trial.uncertainty")), "", ""),
        ("gauge_limit", tell(said("trial.caliper_error")), "", ""),
    )
    yield Table.told(title, _heads("name", "what", "asked_for", "measured"), made, unit)
    heads = _heads("number", "x_first", "y_first", "x_turned", "y_turned")
    widths = ((str(number), "", "", "", "") for number in range(1, _ACROSS_ROWS + 1))
    yield Table.told(said("trial.across", unit=unit, expected=across), heads, widths, unit)
    if piece.kind != "disc":
        expected = figure(diagonal_in(piece.width_in, piece.corner_in), unit)
        corner = figure(piece.corner_in, unit, fine=True)
        title = said("trial.diagonals", unit=unit, expected=expected, radius=corner)
        diagonals = ((tell(said(f"trial.up_{way}")), "", "") for way in ("right", "left"))
        yield Table.told(title, _heads("diagonal", "first_cut", "turned"), diagonals, unit)
    rows = (
        (str(number), figure(float(x), unit), figure(float(y), unit), "", "")
        for number, (x, y) in enumerate(piece.places, start=1)
    )
    heads = _heads("number", "x", "y", "first_cut", "turned")
    yield Table.told(said("trial.edges", unit=unit), heads, rows, unit)
