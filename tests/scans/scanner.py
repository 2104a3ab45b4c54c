"""A flat-bed scanner: what stands in the picture when a part in its frame lies on the glass.

Nothing of the measuring side is used here. Coverage of each pixel is counted on 4 x 4 places wherever an edge runs
through it; positions come from the bed, not from the picture: every line and every column has its own place.
"""

from __future__ import annotations

from collections.abc import Callable

import cv2
import numpy as np

from tests.scans.card import CELLS, DOT, MARK, Card, Page
from tests.scans.setup import Setup
from tests.scans.shapes import Shape, Values, placed, rounded_rectangle
from tests.scans.surface import blurred, dusty, glinting, grained, paper_grained, scratched
from tests.scans.truths import Part

BLOCK = 16
INNER = (np.arange(4) - 1.5) / 4.0
"""Where 4 places lie in a pixel, from its middle [px]."""


class Bed:
    """Where each pixel looks on the bed: x right from its middle line, y up from the middle of its length [in]."""

    def __init__(self, setup: Setup, size: tuple[int, int], rng: np.random.Generator) -> None:
        rows, columns = size
        x = (np.arange(columns) - (columns - 1) / 2.0) / setup.dpi
        y = (np.arange(rows) - (rows - 1) / 2.0) / setup.dpi
        sensor, carriage = setup.bows
        for line, count in setup.lost:
            y[line:] += count / setup.dpi
        self.columns = x * setup.scale[0] + sensor.off(x)
        self.lines = (
            y * setup.scale[1] + carriage.off(y) + setup.banding.off(y) + rng.normal(0, setup.jitter, rows)
        )
        self.setup, self.size = setup, size

    def at(self, column: Values, row: Values) -> tuple[Values, Values]:
        """What a place of the picture looks at, in pixels, their middles at whole numbers."""
        middle = (np.array(self.size[::-1]) - 1) / 2.0
        tilt = self.setup.sensor_tilt
        if any(tilt):
            away = 1.0 + (tilt[0] * (column - middle[0]) + tilt[1] * (row - middle[1])) / self.setup.dpi
            column, row = middle[0] + (column - middle[0]) / away, middle[1] + (row - middle[1]) / away
        x, y = _along(self.columns, column, self.setup.dpi), _along(self.lines, row, self.setup.dpi)
        return x - self.setup.square * y, -y

    def seen_at(self, x: Values, y: Values) -> tuple[Values, Values]:
        """The place of the picture, column and row, that looks at a place of the bed."""
        middle = (np.array(self.size[::-1]) - 1) / 2.0
        column, row = middle[0] + x * self.setup.dpi, middle[1] - y * self.setup.dpi
        for _ in range(8):
            there_x, there_y = self.at(column, row)
            column, row = column + (x - there_x) * self.setup.dpi, row - (y - there_y) * self.setup.dpi
        return column, row


def _along(table: Values, index: Values, dpi: int) -> Values:
    """What a table of pixels holds, and a pixel's way on within it."""
    whole = np.clip(np.rint(index).astype(int), 0, len(table) - 1)
    return table[whole] + (index - whole) / dpi


def scan_of(part: Part | None, card: Card, setup: Setup, rng: np.random.Generator) -> Values:
    """Gray levels 0 to 255 of a picture of the frame and the part in it, first line on top, shape (rows, columns)."""
    room = 0.20
    half = card.reach[0] + room, card.reach[1] + room + 0.15
    size = round(2 * half[1] * setup.dpi), round(2 * half[0] * setup.dpi)
    bed = Bed(setup, size, rng)
    light = _laid_out(part, card, setup, bed, rng)
    light = blurred(light, np.hypot(setup.blur * setup.dpi, setup.blur_px))
    veil = blurred(light[::8, ::8], 0.25 * setup.dpi / 8).repeat(8, 0).repeat(8, 1)[: size[0], : size[1]]
    light = setup.exposure * (light + setup.glare * (veil - light))
    levels = 255.0 * np.clip(light, 0.0, 1.0) ** (1.0 / setup.gamma)
    levels += setup.noise * rng.standard_normal(size, dtype=np.float32)
    return np.clip(np.rint(levels), 0, 255)


def bar_lengths(card: Card, setup: Setup) -> tuple[float, float]:
    """How long both bars really are on the paper [in]."""
    ends = np.array([-card.bar / 2.0, card.bar / 2.0])
    along = [
        _printed(ends, scale, bow) for scale, bow in zip(setup.print_scale, setup.print_bows, strict=True)
    ]
    return float(np.ptp(along[0])), float(np.ptp(along[1]))


def _laid_out(part: Part | None, card: Card, setup: Setup, bed: Bed, rng: np.random.Generator) -> Values:
    """Light of every pixel before optics: card, what lies behind, part, and all that is on it."""
    cut = rng.uniform(-0.015, 0.015, 4)
    window = rounded_rectangle(2 * card.half[0] + cut[0], 2 * card.half[1] + cut[1], 0.01, cut[2], cut[3])
    light = paper_grained(bed.size, setup, rng)
    light += (setup.ink - light) * _ink(card, setup, bed, rng)
    hole_in_card = covered(_on_card(window, setup), bed)
    light += (setup.black - light) * hole_in_card
    if part is None:
        return dusty(light, setup, rng)
    metal = _part_on_bed(part, setup)
    face = covered(metal, bed) * (hole_in_card if setup.card_over_part else 1.0)
    shown = scratched(grained(bed.size, setup, rng), setup, rng)
    if setup.lens_height is not None:
        rise = 1.0 + part.thickness / setup.lens_height
        wall = np.maximum(
            covered(lambda x, y: metal(x * rise, y), bed) - face, 0.0
        )  # it is seen beside the face
        x, _ = bed.at(np.arange(bed.size[1], dtype=float), np.zeros(bed.size[1]))
        light += (
            (np.where(x < 0, *setup.wall).astype(np.float32) - light) * wall / np.maximum(1.0 - face, 1e-6)
        )
    light += (shown - light) * face
    return glinting(dusty(light, setup, rng), face, setup, rng)


def _printed(drawn: Values, scale: float, bow: object) -> Values:
    """Where the printer puts what is drawn, along one axis of the card."""
    return drawn * scale + bow.off(drawn)  # type: ignore[attr-defined]


def _on_card(shape: Shape, setup: Setup) -> Shape:
    """A shape of the paper, on the bed."""
    return placed(shape, x=setup.card_at[0], y=setup.card_at[1], turn_rad=setup.card_turn)


def _part_on_bed(part: Part, setup: Setup) -> Shape:
    x, y = np.add(setup.card_at, setup.part_at)
    return placed(part.metal, x=x, y=y, turn_rad=setup.card_turn + setup.part_turn)


def _ink(card: Card, setup: Setup, bed: Bed, rng: np.random.Generator) -> Values:
    """How much of each pixel is black of the printer, dots and marks."""
    if card.page is not None:
        return _page_ink(card.page, setup, bed)
    cos, sin = np.cos(setup.card_turn), np.sin(setup.card_turn)

    def on_bed(x: Values, y: Values) -> tuple[Values, Values]:
        x, y = (
            _printed(v, s, b) for v, s, b in zip((x, y), setup.print_scale, setup.print_bows, strict=True)
        )
        return setup.card_at[0] + cos * x - sin * y, setup.card_at[1] + sin * x + cos * y

    ink = np.zeros(bed.size, np.float32)
    kept = card.dots[rng.random(len(card.dots)) >= setup.dots_lost]
    radius = (DOT + setup.dot_gain) / 2.0
    for x, y in zip(*on_bed(*kept.T), strict=True):
        _stamp(ink, bed, x, y, radius, lambda px, py: np.hypot(px, py) < radius)
    for mark in card.marks:
        x, y = on_bed(np.array(mark.x), np.array(mark.y))

        def black(px: Values, py: Values, cells: Values = mark.cells) -> Values:
            across = np.floor((cos * px + sin * py) / MARK * CELLS + CELLS / 2.0).astype(int)
            down = np.floor((sin * px - cos * py) / MARK * CELLS + CELLS / 2.0).astype(int)
            inside = (across >= 0) & (across < CELLS) & (down >= 0) & (down < CELLS)
            return inside & cells[np.clip(down, 0, CELLS - 1), np.clip(across, 0, CELLS - 1)]

        _stamp(ink, bed, float(x), float(y), 0.75 * MARK, black)
    return ink


def _page_ink(page: Page, setup: Setup, bed: Bed) -> Values:
    """The same of a whole page: black of the page wherever a pixel looks, the printer's scale and bow taken back."""
    column, row = np.meshgrid(*(np.arange(n, dtype=float) for n in bed.size[::-1]))
    x, y = bed.at(column, row)
    x, y = x - setup.card_at[0], y - setup.card_at[1]
    cos, sin = np.cos(setup.card_turn), np.sin(setup.card_turn)
    drawn = []
    turned = (cos * x + sin * y, cos * y - sin * x)
    for printed, scale, bow in zip(turned, setup.print_scale, setup.print_bows, strict=True):
        guess = printed / scale
        drawn.append((printed - bow.off(guess)) / scale)
    across, down = page.middle[0] + drawn[0] * page.dpi, page.middle[1] - drawn[1] * page.dpi
    return cv2.remap(page.black, across.astype(np.float32), down.astype(np.float32), cv2.INTER_LINEAR)


def _stamp(
    onto: Values, bed: Bed, x: float, y: float, reach: float, inside: Callable[[Values, Values], Values]
) -> None:
    """Count how much of each pixel round a place of the bed is inside something small that lies there."""
    column, row = bed.seen_at(np.array(x), np.array(y))
    far = int(np.ceil(reach * bed.setup.dpi)) + 3
    rows = np.arange(max(int(row) - far, 0), min(int(row) + far + 1, bed.size[0]))
    columns = np.arange(max(int(column) - far, 0), min(int(column) + far + 1, bed.size[1]))
    if len(rows) and len(columns):
        fine_rows, fine_columns = (rows[:, None] + INNER).ravel(), (columns[:, None] + INNER).ravel()
        there_x, there_y = bed.at(*np.broadcast_arrays(fine_columns[None, :], fine_rows[:, None]))
        counted = inside(there_x - x, there_y - y).reshape(len(rows), 4, len(columns), 4).mean((1, 3))
        place = np.ix_(rows, columns)
        onto[place] = np.maximum(onto[place], counted)


def covered(shape: Shape, bed: Bed) -> Values:
    """How much of each pixel a shape on the bed covers, 0 to 1, shape (rows, columns)."""
    tall, wide = (-(-n // BLOCK) for n in bed.size)
    row, column = np.indices((tall, wide)).reshape(2, -1) * float(BLOCK) + (BLOCK - 1) / 2.0
    to_edge = shape(*bed.at(column, row)) * bed.setup.dpi
    whole = np.repeat(np.repeat((to_edge < 0).reshape(tall, wide), BLOCK, 0), BLOCK, 1).astype(np.float32)
    mixed = np.abs(to_edge) < 0.8 * BLOCK + 2.0
    inner_row, inner_column = np.indices((BLOCK, BLOCK)).reshape(2, 1, -1) - (BLOCK - 1) / 2.0
    row, column = (row[mixed, None] + inner_row).ravel(), (column[mixed, None] + inner_column).ravel()
    to_edge = shape(*bed.at(column, row)) * bed.setup.dpi
    counted = (to_edge < 0).astype(np.float32)
    edge = np.abs(to_edge) < 1.0
    fine_row, fine_column = (row[edge, None] + INNER.repeat(4)), (column[edge, None] + np.tile(INNER, 4))
    counted[edge] = (shape(*bed.at(fine_column, fine_row)) < 0).mean(1)
    whole[row.astype(int), column.astype(int)] = counted
    return whole[: bed.size[0], : bed.size[1]]
