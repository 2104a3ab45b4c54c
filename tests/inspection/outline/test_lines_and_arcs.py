"""Known outlines, sampled with noise, burr and dust, found again as their own lines and arcs.

What is true is the geometry that the points are sampled from, in plain numpy.
"""

from __future__ import annotations

import numpy as np
import pytest

from hatchwright.inspection.outline.edge import measured_edge
from hatchwright.inspection.outline.lines_and_arcs import TOLERANCE_SPREADS, lines_and_arcs

NOISE, BURR, SPACING = 0.0003, 0.008, 0.0035


def sampled(pieces, rng):
    """Points along lines (start, end) and arcs (center, radius, from, to [deg]), with noise and burr."""
    points, normals = [], []
    for piece in pieces:
        if len(piece) == 2:
            start, end = map(complex, piece)
            t = np.arange(0.0, 1.0, SPACING / abs(end - start))
            points.append(start + t * (end - start))
            normals.append(np.full(len(t), -1j * (end - start) / abs(end - start)))
        else:
            center, radius, first, last = piece
            turn = np.radians(np.arange(first, last, np.degrees(SPACING / radius)))
            points.append(center + radius * np.exp(1j * turn))
            normals.append(np.exp(1j * turn))
    z, n = np.concatenate(points), np.concatenate(normals)
    off = rng.normal(0.0, NOISE, len(z)) + (rng.random(len(z)) < 0.01) * rng.uniform(0.0, BURR, len(z))
    z = np.roll((z + off * n) * np.exp(0.03j), rng.integers(len(z)))
    return np.column_stack([z.real, z.imag])


def rounded(width, height, radius):
    a, b = 0.5 * width - radius, 0.5 * height - radius
    h, v = 0.5 * width, 0.5 * height
    return [
        (complex(-a, -v), complex(a, -v)), (complex(a, -b), radius, -90, 0),
        (complex(h, -b), complex(h, b)), (complex(a, b), radius, 0, 90),
        (complex(a, v), complex(-a, v)), (complex(-a, b), radius, 90, 180),
        (complex(-h, b), complex(-h, -b)), (complex(-a, -b), radius, 180, 270),
    ]  # fmt: skip


SLOT = [(-1 - 0.5j, 1 - 0.5j), (1 + 0j, 0.5, -90, 90), (1 + 0.5j, -1 + 0.5j), (-1 + 0j, 0.5, 90, 270)]
D_SHAPE = [
    (-1.25 - 1j, 0 - 1j), (0j, 1.0, -90, 90), (0 + 1j, -1.25 + 1j), (-1.25 + 0.75j, 0.25, 90, 180),
    (-1.5 + 0.75j, -1.5 - 0.75j), (-1.25 - 0.75j, 0.25, 180, 270),
]  # fmt: skip
BENT = [(-1 - 1j, 1 - 1j), (1 - 1j, 1 + 0.2j), (1 + 0.2j, 0.2 + 1j), (0.2 + 1j, -1 + 1j), (-1 + 1j, -1 - 1j)]


def curves(profile):
    """Lines and arcs of a profile: two rows of one circle are one arc, and none has a bulge over 1."""
    rows = np.array(profile)
    assert np.abs(rows[:, 2]).max() <= 1.0 + 1e-12
    z = rows[:, 0] + 1j * rows[:, 1]
    after = np.roll(z, -1)
    hubs = [
        None if b == 0 else (s + e) / 2 + 1j * (e - s) / 2 * (1 - b * b) / (2 * b)
        for s, e, b in zip(z, after, rows[:, 2], strict=True)
    ]
    joined = sum(
        one is not None and other is not None and abs(one - other) < 0.02
        for one, other in zip(hubs, np.roll(np.array(hubs, dtype=object), -1), strict=True)
    )
    return len(rows) - joined, sorted(abs(s - h) for s, h in zip(z, hubs, strict=True) if h is not None)


@pytest.mark.parametrize(
    ("pieces", "count", "radii", "within"),
    [
        (rounded(3, 3, 0.75), 8, (0.75,), 0.003),
        (rounded(3, 3, 0.25), 8, (0.25,), 0.006),
        (rounded(4.97, 3.97, 0.735), 8, (0.735,), 0.003),
        (SLOT, 4, (0.5,), 0.004),
        (D_SHAPE, 6, (0.25, 1.0), 0.006),
        (BENT, 5, (), 0.0),
    ],
    ids=["square .75", "square .25", "opening", "slot", "D", "five sides"],
)
@pytest.mark.parametrize("seed", [701, 702])
def test_an_outline_has_the_pieces_that_it_was_made_of(pieces, count, radii, within, seed):
    points = sampled(pieces, np.random.default_rng(seed))
    profile = lines_and_arcs(measured_edge(points), spread_in=0.003 / TOLERANCE_SPREADS)
    found, sizes = curves(profile)
    assert found == count
    for size in sizes:
        assert min(abs(size - radius) for radius in radii) < within
