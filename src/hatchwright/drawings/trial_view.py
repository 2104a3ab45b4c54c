"""The trial template for scrap: its edge, the datum cross that aligns it, and the places to measure at."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from hatchwright.drawings.figures import figure, unit_of
from hatchwright.drawings.ink import LEAST_IN
from hatchwright.drawings.lettering import fitted
from hatchwright.drawings.page_frame import PageFrame, rectangle
from hatchwright.drawings.sheet import (
    Anchor,
    Box,
    Circle,
    Cross,
    Entity,
    Layer,
    Line,
    Outline,
    Sheet,
    Style,
    Table,
    Text,
)
from hatchwright.job.cutter import Template
from hatchwright.layout.layout import Layout
from hatchwright.making.trial.corner import diagonal_in
from hatchwright.making.trial.holes import TrialHoles, trial_holes
from hatchwright.making.trial.piece import TrialPiece
from hatchwright.making.trial.trial import cutter_and_template
from hatchwright.units import length_words

_LETTER_IN = 0.1
_WORDS_IN = 0.14
_TICK_IN = 0.08
_PAD_IN = 0.1
_CROSS_IN = 0.3
_ACROSS_ROWS = 6
"""Lines for widths; five readings or more are asked for."""

_LEAST_IN = 0.06
_LEAST_BORDER_IN = 0.6
"""Room for the cross and the words beside a window [in]. Common practice, no source."""


def trial_view(layout: Layout, piece: TrialPiece, *, date: str) -> Sheet:
    """Draw the template of a trial piece round its datum cross; it is not keyed, for a second cut is made turned.

    Args:
        layout: of the job whose cutter is tried.
    Returns:
        Sheet: at full size, the datum cross at the origin.
    """
    block = PageFrame(layout.frame).title_block(layout.job, date=date)
    edges = piece.chain.machinable
    cutter, template = cutter_and_template(layout.job)
    plate, is_window = _plate(template, piece), piece.chain.guide.kind == "female"
    holes = trial_holes(layout, piece, cutter, template, plate_half_in=plate.right)
    return Sheet(
        title=f"TRIAL TEMPLATE FOR SCRAP, {piece.kind.upper()}",
        title_block=replace(block, view="ON SCRAP", directions=()),
        entities=(
            *(Outline(loop, Layer.TEMPLATE, css="guide-edge") for loop in edges.loops),
            *((Outline(rectangle(plate), Layer.TEMPLATE, css="plate-edge"),) if is_window else ()),
            *_cross(piece, plate, is_window=is_window),
            *_words(piece, plate, is_window=is_window),
            *(
                Outline(loop, Layer.DIMENSION, Style.PHANTOM, "rough-cut")
                for loop in piece.chain.wanted.loops
            ),
            *_places(piece),
            *_holes(holes),
        ),
        unit=unit_of(layout.job),
        notes=(*_notes(layout, piece), *_hole_notes(layout, holes)),
        tables=tuple(_tables(layout, piece)),
        legend=(
            (Style.FINISHED, "template edge, cut by the machine"),
            (Style.DIMENSION, "datum cross, engraved; numbered places"),
            (Style.PHANTOM, f"expected cut{' and starter S' if holes.starter_at else ''}, for reference"),
        ),
    )


def _plate(template: Template, piece: TrialPiece) -> Box:
    box = Box(*piece.chain.machinable.bounds)
    if piece.chain.guide.kind == "male":
        return box
    return box.grown(max(template.border.inch, _LEAST_BORDER_IN))


def _cross(piece: TrialPiece, plate: Box, *, is_window: bool) -> Iterator[Entity]:
    """All across a plug; beside a window from its edge to the plate's."""
    for way in (-1.0, 1.0):
        near, far = (0.5 * piece.template_in, plate.right) if is_window else (0.0, plate.right)
        yield Line(((way * near, 0.0), (way * far, 0.0)), Layer.ENGRAVE)
        yield Line(((0.0, way * near), (0.0, way * far)), Layer.ENGRAVE)


def _words(piece: TrialPiece, plate: Box, *, is_window: bool) -> Iterator[Entity]:
    """Which end is up, so that a second cut is turned half round and no other way."""
    half = 0.5 * piece.template_in
    middle = 0.5 * (half + plate.top) if is_window else 0.62 * half
    room_in = plate.right if is_window else 0.75 * half
    for said, y in (("UP", middle), ("SCRAP", -middle)):
        shown, height_in = fitted(
            said, height_in=_WORDS_IN, width_in=room_in - 2.0 * _PAD_IN, least_height_in=_LEAST_IN, bold=True
        )
        yield Text((_PAD_IN, y - 0.5 * height_in), shown, height_in, bold=True)


def _places(piece: TrialPiece) -> Iterator[Entity]:
    for number, (place, out) in enumerate(zip(piece.places, piece.normals, strict=True), start=1):
        (x, y), (u, v) = (float(place[0]), float(place[1])), (float(out[0]), float(out[1]))
        yield Line(((x, y), (x - _TICK_IN * u, y - _TICK_IN * v)), Layer.DIMENSION, css="place")
        at = (x - 2.2 * _TICK_IN * u, y - 2.2 * _TICK_IN * v - 0.5 * _LETTER_IN)
        yield Text(at, str(number), _LETTER_IN, anchor=Anchor.MIDDLE)


def _holes(holes: TrialHoles) -> Iterator[Entity]:
    """The starter to be drilled in the scrap, and pins: drilled by the machine when their size is known."""
    if holes.starter_at:
        x, y = holes.starter_at
        yield Circle((x, y), holes.starter_in, Layer.DIMENSION, Style.PHANTOM, css="waste-hole")
        yield Cross((x, y), min(_CROSS_IN, holes.starter_in), Layer.DIMENSION)
        yield Text((x + 0.05, y + 0.04), "S", _LETTER_IN)
    for x, y in holes.pins_at:
        if holes.pin_in:
            yield Circle((x, y), holes.pin_in, Layer.DRILL_PILOT, css="pin-hole")
        yield Cross((x, y), _CROSS_IN, Layer.DIMENSION, css="pin")
        yield Text((x + 0.07, y + 0.07), "P", _LETTER_IN)


def _notes(layout: Layout, piece: TrialPiece) -> Iterator[str]:
    unit, guide = unit_of(layout.job), piece.chain.guide
    corner = piece.chain.machinable_corner
    word = "WINDOW" if guide.kind == "female" else "PLUG"
    size, template = length_words(piece.width_in, unit), length_words(piece.template_in, unit)
    radius = ", ROUND" if piece.kind == "disc" else ""
    if corner and not radius:
        is_square = corner.radius_in < LEAST_IN
        radius = (
            ", SQUARE CORNERS"
            if is_square
            else f", CORNER R {length_words(corner.radius_in, unit, fine=True)}"
        )
    yield "FOR SCRAP OF THE SKIN'S ALLOY AND THICKNESS ONLY. NEVER LAY IT ON THE AIRCRAFT."
    yield (
        f"{word} {template} x {template}{radius}: OFFSET {length_words(guide.offset_in, unit, fine=True)} FOR GUIDE "
        f"{length_words(guide.guide_in, unit)} AND CUT {length_words(guide.cut_in, unit)}. MEASURE IT AS MADE."
    )
    yield f"SCRIBE THE DATUM CROSS ON THE SCRAP, ALIGN, PIN, CUT. EXPECTED CUT: {size} ACROSS BEFORE FILING."
    yield (
        "MEASURE ACROSS AT FIVE PLACES OR MORE ALONG X AND ALONG Y, AND FROM THE CROSS TO THE NUMBERED PLACES, IN "
        "THEIR ORDER. FOR A SECOND CUT TURN THE TEMPLATE HALF ROUND: UP LIES DOWN, THE SAME FACE OUT."
    )


def _hole_notes(layout: Layout, holes: TrialHoles) -> Iterator[str]:
    unit = unit_of(layout.job)
    starter = length_words(holes.starter_in, unit, fine=True)
    if holes.starter_at:
        x, y = (length_words(value_in, unit) for value_in in holes.starter_at)
        yield (
            f"STARTER S, {starter}, AT X {x}, Y {y} FROM THE CROSS: DRILL IT IN THE SCRAP BEFORE THE TEMPLATE IS LAID "
            "ON."
        )
    else:
        yield (
            f"THERE IS NO ROOM FOR THE STARTER OF {starter} IN THE WASTE. ON SCRAP, START OUTSIDE THE LINE, AWAY FROM "
            "THE NUMBERED PLACES; ON THE AIRCRAFT THAT CANNOT BE DONE."
        )
    held = (
        f"AT P PINS THROUGH HOLES OF {length_words(holes.pin_in, unit, fine=True)}, DRILLED ON INTO THE SCRAP"
        if holes.pin_in
        else "AT P DRILL FOR PINS THROUGH TEMPLATE AND SCRAP"
    )
    passed = {
        True: "THE TOOL PASSES ALL FOUR.",
        False: "THE TOOL'S BODY DOES NOT PASS THEM: MOVE PIN OR CLAMP AS IT COMES NEAR, TWO ALWAYS HOLDING.",
        None: "THE BODY OF TOOL OR PIN WAS NOT MEASURED: SEE FIRST THAT THE TOOL PASSES.",
    }[holes.are_clear]
    yield f"{held}, OR CLAMP THERE. CLAMP THE SCRAP ITSELF TO A BACKING. {passed}"


def _tables(layout: Layout, piece: TrialPiece) -> Iterator[Table]:
    """Everything that the file of readings asks for, under its own names."""
    unit = unit_of(layout.job)
    asked, across = figure(piece.template_in, unit), figure(piece.width_in, unit)
    yield Table(
        f"TEMPLATE AS MADE, AND CALIPER, {unit}. piece {piece.kind}, size {figure(piece.size_in, unit)}",
        ("NAME", "WHAT", "ASKED FOR", "MEASURED"),
        (
            ("template_x", "size along X", asked, ""),
            ("template_y", "size along Y", asked, ""),
            ("template_uncertainty", "standard uncertainty of both", "", ""),
            ("gauge_limit", "largest error of the caliper", "", ""),
        ),
    )
    yield Table(
        f"x AND y, ACROSS, IN THE ORDER OF THE CUT, {unit}. EXPECTED {across}",
        ("NO.", "X FIRST CUT", "Y FIRST CUT", "X TURNED", "Y TURNED"),
        tuple((str(number), "", "", "", "") for number in range(1, _ACROSS_ROWS + 1)),
    )
    if piece.kind != "disc":
        expected = figure(diagonal_in(piece.width_in, piece.corner_in), unit)
        corner = figure(piece.corner_in, unit, fine=True)
        yield Table(
            f"diagonals, CORNER TO CORNER, {unit}. EXPECTED {expected}, CORNER R {corner}",
            ("DIAGONAL", "FIRST CUT", "TURNED"),
            (("up to the right", "", ""), ("up to the left", "", "")),
        )
    rows = tuple(
        (str(number), figure(float(x), unit), figure(float(y), unit), "", "")
        for number, (x, y) in enumerate(piece.places, start=1)
    )
    yield Table(f"edges, PLACES FROM THE DATUM CROSS, {unit}", ("NO.", "X", "Y", "FIRST CUT", "TURNED"), rows)
