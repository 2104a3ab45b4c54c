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
    Entity,
    Layer,
    Line,
    Outline,
    Sheet,
    Style,
    Table,
    Text,
)
from hatchwright.layout.layout import Layout
from hatchwright.tooling.guide_template import least_corner
from hatchwright.tooling.trial_piece import TrialPiece

_LETTER_IN = 0.1
_WORDS_IN = 0.14
_TICK_IN = 0.08
_PAD_IN = 0.1
_LEAST_IN = 0.06
_LEAST_BORDER_IN = 0.6
"""Room for the cross and the words beside a window [in]. Common practice, no source."""


def trial_view(layout: Layout, piece: TrialPiece, *, date: str) -> Sheet:
    """Draw the template of a trial piece round its datum cross; it is not keyed, for a second cut is made turned.

    Args:
        layout: of the job whose cutter is tried.
        piece: the trial piece.
        date: date and time as they are to be read.
    Returns:
        Sheet: at full size, the datum cross at the origin.
    """
    block = PageFrame(layout.frame).title_block(layout.job, date=date)
    edges = piece.chain.machinable
    plate, is_window = _plate(layout, piece), piece.chain.guide.kind == "female"
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
        ),
        unit=unit_of(layout.job),
        notes=tuple(_notes(layout, piece)),
        tables=(_table(layout, piece),),
        legend=(
            (Style.FINISHED, "template edge, cut by the machine"),
            (Style.DIMENSION, "datum cross, engraved; numbered places"),
            (Style.PHANTOM, "expected cut, for reference"),
        ),
    )


def _plate(layout: Layout, piece: TrialPiece) -> Box:
    template = layout.job.template
    assert template is not None  # a trial piece comes from a template
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
    middle = 0.5 * (half + plate.top) if is_window else 0.4 * half
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


def _notes(layout: Layout, piece: TrialPiece) -> Iterator[str]:
    unit, guide = unit_of(layout.job), piece.chain.guide
    corner = least_corner(piece.chain.machinable)
    word = "WINDOW" if guide.kind == "female" else "PLUG"
    size, template = figure(piece.width_in, unit), figure(piece.template_in, unit)
    radius = ""
    if corner:
        is_square = corner.radius_in < LEAST_IN
        radius = (
            ", SQUARE CORNERS" if is_square else f", CORNER R {figure(corner.radius_in, unit, fine=True)}"
        )
    yield "FOR SCRAP OF THE SKIN'S ALLOY AND THICKNESS ONLY. NEVER LAY IT ON THE AIRCRAFT."
    yield (
        f"{word} {template} x {template}{radius}: OFFSET {figure(guide.offset_in, unit, fine=True)} FOR GUIDE "
        f"{figure(guide.guide_in, unit)} AND CUT {figure(guide.cut_in, unit)}. MEASURE IT AS MADE."
    )
    yield f"SCRIBE THE DATUM CROSS ON THE SCRAP, ALIGN, PIN, CUT. EXPECTED CUT: {size} ACROSS BEFORE FILING."
    yield (
        "MEASURE ACROSS AT FIVE PLACES OR MORE ALONG X AND ALONG Y, AND FROM THE CROSS TO THE NUMBERED PLACES. FOR A "
        "SECOND CUT TURN THE TEMPLATE HALF ROUND: UP LIES DOWN, THE SAME FACE OUT."
    )


def _table(layout: Layout, piece: TrialPiece) -> Table:
    unit = unit_of(layout.job)
    rows = tuple(
        (str(number), figure(float(x), unit), figure(float(y), unit), "", "")
        for number, (x, y) in enumerate(piece.places, start=1)
    )
    return Table(f"PLACES FROM THE DATUM CROSS, {unit}", ("NO.", "X", "Y", "FIRST CUT", "TURNED"), rows)
