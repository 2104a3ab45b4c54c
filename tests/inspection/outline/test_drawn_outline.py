"""Drawn edges as lines and arcs: how far they lie apart by Shapely, an outside library, and that joints are tangent.

What is true is the geometry that the corners are sampled from, in plain numpy.
"""

from __future__ import annotations

import numpy as np
import pytest
from shapely import LinearRing, hausdorff_distance

from hatchwright.errors import EntryError
from hatchwright.inspection.outline.drawn_outline import departure_in, drawn_outline
from hatchwright.shapes.profile import Loop
from tests.inspection.outline.test_lines_and_arcs import BENT, D_SHAPE, SLOT, curves, rounded

WITHIN = 0.004


def corners_of(pieces, step=0.02, turn=0.03):
    """A polygon: ends of lines, arcs at equal steps; as an editor writes it, lines are not divided."""
    z = []
    for piece in pieces:
        if len(piece) == 2:
            z.append([complex(piece[0])])
        else:
            hub, radius, first, last = piece
            count = int(np.ceil(np.radians(abs(last - first)) * radius / step))
            z.append(hub + radius * np.exp(1j * np.radians(np.linspace(first, last, count + 1)[:-1])))
    z = np.concatenate(z) * np.exp(1j * turn)
    return np.column_stack([z.real, z.imag])


def polygon_of(rows, steps=400):
    """Places along rows of x, y and bulge, by the definition of a bulge: tangent of a quarter of the sweep."""
    z = rows[:, 0] + 1j * rows[:, 1]
    run = []
    for start, end, bulge in zip(z, np.roll(z, -1), rows[:, 2], strict=True):
        if bulge == 0:
            run.append([start])
            continue
        hub = (start + end) / 2 + 1j * (end - start) / 2 * (1 - bulge**2) / (2 * bulge)
        run.append(hub + (start - hub) * np.exp(4j * np.arctan(bulge) * np.arange(steps) / steps))
    return np.concatenate(run)


def apart(rows, polygon):
    """Largest distance of either from the other, every line divided fine."""
    z = polygon_of(rows)
    rings = (LinearRing(np.column_stack([z.real, z.imag])), LinearRing(polygon))
    return hausdorff_distance(*(ring.segmentize(0.01) for ring in rings))


def kinks(rows):
    """Turn at each corner [rad]: a chord leaves at half the sweep from its tangent."""
    z, half = rows[:, 0] + 1j * rows[:, 1], 2 * np.arctan(rows[:, 2])
    way = np.angle(np.roll(z, -1) - z)
    turn = (way - half) - np.roll(way + half, 1)
    return np.abs((turn + np.pi) % (2 * np.pi) - np.pi)


ANGLE = np.linspace(0, 2 * np.pi, 400, endpoint=False)
ELLIPSE = np.column_stack([3 * np.cos(ANGLE), 2 * np.sin(ANGLE)])
LIMACON = np.column_stack([(3 + 0.3 * np.cos(ANGLE)) * np.cos(ANGLE), 2 * np.sin(ANGLE)])


@pytest.mark.parametrize(
    ("pieces", "count", "radii"),
    [
        (rounded(4.97, 3.97, 0.735), 8, [0.735] * 4),
        (rounded(12, 9, 0.125), 8, [0.125] * 4),
        (SLOT, 4, [0.5] * 2),
        (D_SHAPE, 6, [0.25, 0.25, 1.0]),
        (BENT, 5, []),
    ],
    ids=["opening", "large, small corners", "slot", "D", "five sides"],
)
def test_what_was_drawn_of_lines_and_arcs_is_found_as_them(pieces, count, radii):
    polygon = corners_of(pieces)
    loop, off_in = drawn_outline(polygon, within_in=WITHIN)
    assert curves(loop.rows)[0] == count
    for radius in curves(loop.rows)[1]:
        assert min(abs(radius - drawn) for drawn in radii) < 0.002
    far = apart(loop.rows, polygon)
    assert far <= WITHIN
    assert off_in == pytest.approx(far, abs=2e-4)
    assert all(kink < 1e-6 or kink > 0.1 for kink in kinks(loop.rows))


@pytest.mark.parametrize(
    ("polygon", "within"), [(ELLIPSE, 0.005), (LIMACON[::-1], 0.0015)], ids=["ellipse", "clockwise"]
)
def test_a_free_curve_is_smooth_arcs_within_the_tolerance(polygon, within):
    loop, off_in = drawn_outline(polygon, within_in=within)
    assert apart(loop.rows, polygon) <= within
    assert off_in <= within
    assert kinks(loop.rows).max() < 1e-6
    assert len(loop.rows) <= 50
    assert loop.area_sq_in > 0.0


def test_a_shaky_trace_comes_within_what_it_is_worth_and_no_less():
    rng = np.random.default_rng(3)
    polygon = corners_of(D_SHAPE) + rng.normal(0.0, 0.0008, (len(corners_of(D_SHAPE)), 2))
    loop, _ = drawn_outline(polygon, within_in=0.005)
    assert curves(loop.rows)[0] == 6
    assert apart(loop.rows, polygon) <= 0.005
    with pytest.raises(EntryError) as refused:
        drawn_outline(polygon, within_in=0.0008)
    assert refused.value.what.id == "trace.not_within"


def test_an_edge_that_crosses_itself_is_refused():
    with pytest.raises(EntryError) as refused:
        drawn_outline(np.array([(0, 0), (2, 2), (2, 0), (0, 2.0)]), within_in=0.005)
    assert refused.value.what.id == "trace.crosses"


def test_a_departure_counts_both_ways():
    """A square against one with a narrow spike of .5: the square's own points never come near its tip."""
    spiked = np.array([(0, 0), (2, 0), (2, 2), (1.001, 2), (1, 2.5), (0.999, 2), (0, 2.0)])
    square = Loop(np.array([(0, 0, 0), (2, 0, 0), (2, 2, 0), (0, 2, 0.0)]))
    assert departure_in(square, spiked) == pytest.approx(0.5, abs=1e-6)
    spike = Loop(np.column_stack([spiked, np.zeros(len(spiked))]))
    assert departure_in(spike, np.array([(0, 0), (2, 0), (2, 2), (0, 2.0)])) == pytest.approx(0.5, abs=1e-6)
