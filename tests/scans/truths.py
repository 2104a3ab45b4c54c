"""Parts whose every size is known, for scans to be measured against."""

from __future__ import annotations

from typing import Any

import msgspec
import numpy as np

from tests.scans.shapes import (
    Shape,
    Values,
    around,
    cut_disc,
    disc,
    holes,
    nibbled,
    rounded_rectangle,
    without,
)

NO_HOLES = np.zeros((0, 2))


class Edge(msgspec.Struct, frozen=True):
    """A round or rounded edge: its sizes [in]; of a disc all three follow from its diameter."""

    kind: str
    width: float
    height: float
    radius: float

    def shape(self) -> Shape:
        return rounded_rectangle(self.width, self.height, self.radius)


class Part(msgspec.Struct, frozen=True):
    """A part and what is true of it.

    Args:
        window: of the frame it is laid in.
        metal: the whole part, by signed distance.
        outline, opening: its edges where they are plain; the root line of a nibbled one.
        centers, diameters: of its holes, shapes (n, 2) and (n,) [in].
        thickness: of the sheet [in].
        advance: mean step of the bites of a nibbled opening [in].
        bites: how many there are.
        scallop: mean height of the crests under the root line [in].
    """

    window: str
    metal: Shape
    outline: Edge | None = None
    opening: Edge | None = None
    centers: Values = msgspec.field(default_factory=lambda: NO_HOLES)
    diameters: Values = msgspec.field(default_factory=lambda: np.zeros(0))
    thickness: float = 0.032
    advance: float | None = None
    bites: int = 0
    scallop: float = 0.0


def _edge(rng: np.random.Generator, width: float, height: float, radius: float) -> Edge:
    """A rounded rectangle whose sides and corner are off by up to .020."""
    off = rng.uniform(-0.020, 0.020, 3)
    return Edge("rounded", width + off[0], height + off[1], radius + off[2])


def _drilled(rng: np.random.Generator, count: int) -> Values:
    """Diameters of holes drilled #40 or #30, .002 under to .004 over [in]."""
    return rng.choice([0.098, 0.1285], count) + rng.uniform(-0.002, 0.004, count)


def _ring_of(edge: Edge, out: float, count: int, rng: np.random.Generator) -> Values:
    """Hole centers along an edge and that far outside it, each off by some thousandths."""
    width, height, radius = edge.width + 2 * out, edge.height + 2 * out, edge.radius + out
    length = 2 * (width + height) - (8 - 2 * np.pi) * radius
    return around(width, height, radius, length * np.arange(count) / count) + rng.normal(0, 0.003, (count, 2))


def square(rng: np.random.Generator) -> Part:
    """A removed cutout or template: 3 x 3, corner .75, six holes."""
    outline = _edge(rng, 3.0, 3.0, 0.75)
    places = [(-1, 1), (0, 1), (1, 1), (-1, -1), (0.2, -1), (1, -0.9)]
    centers, diameters = np.array(places) + rng.normal(0, 0.003, (6, 2)), _drilled(rng, 6)
    return Part(
        window="4x4",
        metal=without(outline.shape(), holes(centers, diameters)),
        outline=outline,
        centers=centers,
        diameters=diameters,
    )


def round_plate(rng: np.random.Generator) -> Part:
    """A disc of 2 in."""
    diameter = 2.0 + rng.uniform(-0.020, 0.020)
    return Part(
        window="4x4", metal=disc(diameter), outline=Edge("circle", diameter, diameter, diameter / 2.0)
    )


def opening(rng: np.random.Generator) -> Part:
    """A trial sheet 5.4 x 6.4 with an opening 3.97 x 4.97, corner .735, and 20 holes round it."""
    outline, inner = _edge(rng, 5.4, 6.4, 0.5), _edge(rng, 3.97, 4.97, 0.735)
    return _ringed("6x7", outline, inner, _ring_of(inner, 0.30, 20, rng), rng)


def _ringed(window: str, outline: Edge, inner: Edge, centers: np.ndarray, rng: np.random.Generator) -> Part:
    """A sheet with an opening and holes round it."""
    diameters = _drilled(rng, len(centers))
    return Part(
        window=window,
        metal=without(outline.shape(), inner.shape(), holes(centers, diameters)),
        outline=outline,
        opening=inner,
        centers=centers,
        diameters=diameters,
    )


def nibbled_opening(rng: np.random.Generator) -> Part:
    """A trial sheet 4.4 x 4.4 with an opening 3 x 3 nibbled by a round punch .193, advance 1/16 more or less."""
    return _nibbled(rng, NO_HOLES)


def pinned(rng: np.random.Generator) -> Part:
    """The same with the four holes of the pins that held its template, drilled .002 off, one standard deviation."""
    corners = 1.85 * np.array([(-1, -1), (-1, 1), (1, -1), (1, 1)])
    return _nibbled(rng, corners + rng.normal(0, 0.002, (4, 2)))


def _nibbled(rng: np.random.Generator, centers: Values) -> Part:
    outline, root, cutter = _edge(rng, 4.4, 4.4, 0.4), _edge(rng, 3.0, 3.0, 0.75), 0.193
    inset = cutter / 2.0
    length = 2 * (root.width + root.height - 2 * cutter) - (8 - 2 * np.pi) * (root.radius - inset)
    count = round(length / 0.0625)
    steps = 1.0 + rng.uniform(-0.12, 0.12, count)
    steps *= length / steps.sum()
    inner = nibbled(root.width, root.height, root.radius, cutter=cutter, steps=steps)
    diameters = np.full(len(centers), 0.098)
    drilled = (holes(centers, diameters),) if len(centers) else ()
    return Part(
        window="5x5",
        metal=without(outline.shape(), inner, *drilled),
        outline=outline,
        opening=root,
        centers=centers,
        diameters=diameters,
        advance=length / count,
        bites=count,
        scallop=float(np.mean(inset - np.sqrt(inset**2 - (steps / 2.0) ** 2))),
    )


def slot(rng: np.random.Generator) -> Part:
    """An obround 3 x 1."""
    width, height = np.array([3.0, 1.0]) + rng.uniform(-0.020, 0.020, 2)
    edge = Edge("obround", width, height, height / 2.0)
    return Part(window="4x4", metal=edge.shape(), outline=edge)


def d_plate(rng: np.random.Generator) -> Part:
    """A D: a round of 3 in with a flat .8 from its middle, corners .25. Its outline is no plain shape."""
    return Part(window="4x4", metal=cut_disc(3.0 + rng.uniform(-0.020, 0.020), 0.8, 0.25))


def old_ring(rng: np.random.Generator) -> Part:
    """A traced old doubler ring: 4.6 x 3.6 outside, opening 3.2 x 2.2, twenty-two holes in its middle."""
    outline, inner = _edge(rng, 4.6, 3.6, 0.9), _edge(rng, 3.2, 2.2, 0.5)
    return _ringed("5x5", outline, inner, _ring_of(inner, 0.34, 22, rng), rng)


PARTS = {
    "square": square,
    "disc": round_plate,
    "opening": opening,
    "nibbled": nibbled_opening,
    "pinned": pinned,
    "slot": slot,
    "D": d_plate,
    "ring": old_ring,
}


def off_beyond_stated(shape: Any, true: Edge) -> list[str]:
    """The sizes of a measured rectangle that lie farther from the true ones than is stated."""
    sizes = {"width": true.width, "height": true.height, "radius": true.radius}
    measured = {name: getattr(shape, name) for name in sizes}
    return [name for name, one in measured.items() if abs(one.value_in - sizes[name]) > one.expanded_in]
