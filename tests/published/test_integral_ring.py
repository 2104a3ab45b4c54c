"""A circular opening with a concentric ring of metal, made here of a doubler held by many stiff fasteners.

Source of the expected values: closed form in plane stress of two zones, same modulus, nu 0.33, ring and plate one piece
and symmetric about the middle; computed independently of this project. Greatest stress along the edge of the opening
over the stress far away, by outer over inner radius and thickness with ring over thickness without.

Tolerance 0.015: discs of fasteners cover four fifths of the ring and leave its very edges alone. With the spacing
halved the difference halves (for 2 and 2: 0.4, 0.9 and 0.9 % become 0.1, 0.4 and 0.4 %), so it is the fasteners and not
the method; one case below shows it.
"""

from __future__ import annotations

import numpy as np
import pytest
from msgspec.structs import replace

from hatchwright.fem.analysis import analyze
from hatchwright.fem.model import Fastener, OpeningModel, Sheet, wide_panel
from hatchwright.fem.solution import UnitSolution
from hatchwright.shapes.outlines import circle

# outer radius, whole thickness, then the factor for: pull, equal biaxial, shear
CASES = [
    (1.25, 1.5, 2.6382, 1.7862, 3.4902),
    (1.25, 2.0, 2.3684, 1.6137, 3.1231),
    (1.25, 3.0, 1.9905, 1.3524, 2.6286),
    (1.5, 1.5, 2.5662, 1.6882, 3.4442),
    (1.5, 2.0, 2.2623, 1.4604, 3.0642),
    (1.5, 3.0, 1.8605, 1.1502, 2.5708),
    (2.0, 1.5, 2.4756, 1.6008, 3.3503),
    (2.0, 2.0, 2.1241, 1.3344, 2.9138),
    (2.0, 3.0, 1.6761, 1.0013, 2.3509),
    (3.0, 1.5, 2.3687, 1.5437, 3.1937),
    (3.0, 2.0, 1.9654, 1.257, 2.6738),
    (3.0, 3.0, 1.4751, 0.9165, 2.0338),
]
ROWS = {1.25: 3, 1.5: 4, 2.0: 5, 3.0: 7}


def ringed(outer: float, rows: int) -> UnitSolution:
    """A hole of radius 1 in a wide sheet of thickness 1, its ring fastened at every spacing."""
    apart = (outer - 1.0) / rows
    places = []
    for row in range(rows):
        radius = 1.0 + (row + 0.5) * apart
        angle = (np.arange(count := 4 * round(np.pi * radius / apart / 2)) + 0.5) * 2 * np.pi / count
        places += (radius * np.column_stack([np.cos(angle), np.sin(angle)])).tolist()
    fasteners = tuple(
        Fastener(f"rivet {k}", x, y, 0.98 * apart / 2.5, 1e7, ("plate", "ring"), flexibility_in_per_lbf=0.0)
        for k, (x, y) in enumerate(places, start=1)
    )
    hole = circle(diameter_in=2.0)
    plate = Sheet("plate", wide_panel(hole), hole, thickness_in=1.0, modulus_psi=1e7)
    ring = Sheet("ring", circle(diameter_in=2 * outer), hole, thickness_in=1.0, modulus_psi=1e7)
    return analyze(OpeningModel(plate, doublers=(ring,), fasteners=fasteners))


@pytest.fixture(scope="module")
def solved() -> dict[float, UnitSolution]:
    return {outer: ringed(outer, rows) for outer, rows in ROWS.items()}


def factors(unit: UnitSolution, whole: float) -> list[float]:
    ring = replace(unit.model.doublers[0], thickness_in=whole - 1.0)
    changed = unit.changed(model=replace(unit.model, doublers=(ring,)))
    loads = ((1.0, 0.0, 0.0), (1.0, 1.0, 0.0), (0.0, 0.0, 1.0))
    return [
        abs(changed.combine(nx_lbf_in=nx, ny_lbf_in=ny, q_lbf_in=q).edge().peak[0]) for nx, ny, q in loads
    ]


@pytest.mark.parametrize(("outer", "whole", "pull", "biaxial", "shear"), CASES)
def test_integral_ring(solved, outer, whole, pull, biaxial, shear):
    assert factors(solved[outer], whole) == pytest.approx([pull, biaxial, shear], rel=0.015)


def test_more_fasteners_come_nearer_to_one_piece(solved):
    known = np.array([2.1241, 1.3344, 2.9138])
    coarse, fine = (np.abs(factors(unit, 2.0) / known - 1).max() for unit in (solved[2.0], ringed(2.0, 8)))
    assert fine < 0.75 * coarse
