"""Major diameters and threads per inch of machine screws.

FED-STD-H28/2B, Screw-Thread Standards for Federal Services, section 2, 20 Aug 1991, table II.A.3, page 34, column 1:
scanned page, read as an image.
"""

from __future__ import annotations

import pytest

from hatchwright.tables.screws import screw_size
from hatchwright.workings import Grade


@pytest.mark.parametrize(
    ("thread", "major_in", "threads"),
    [
        ("4-40", 0.112, 40),
        ("6-32", 0.138, 32),
        ("8-32", 0.164, 32),
        ("8-36", 0.164, 36),
        ("10-24", 0.190, 24),
        ("10-32", 0.190, 32),
        ("1/4-20", 0.250, 20),
        ("1/4-28", 0.250, 28),
    ],
)
def test_a_size(thread: str, major_in: float, threads: float) -> None:
    found = screw_size(thread)
    assert (found.major_diameter_in, found.threads_per_in, found.grade) == (
        major_in,
        threads,
        Grade.PUBLISHED,
    )
