"""Rivet spacing and edge distance of the Army's subcourse on structural repair.

US Army subcourse AL0992, Aircraft Structural Repair, section on rivet spacing and edge distance (page 63 of the copy):
least edge distance 2D, 2 1/2D for flush heads, never more than 4D; pitch 3D to 10D. TM 10-5410-229-13&P, par.
5-6(3)(b), page 5-4: 3D. Page-by-page text copies.
"""

from __future__ import annotations

import pytest

from hatchwright.tables.limits import limit
from hatchwright.workings import Grade


@pytest.mark.parametrize(
    ("key", "diameters"),
    [
        ("edge_min_single_row_protruding", 2.0),
        ("edge_min_countersunk", 2.5),
        ("edge_max", 4.0),
        ("pitch_min_single_row", 3.0),
        ("pitch_max", 10.0),
    ],
)
def test_spacing(key: str, diameters: float) -> None:
    found = limit(key)
    assert (found.value, found.unit, found.grade) == (diameters, "D", Grade.PUBLISHED)
