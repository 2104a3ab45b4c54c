"""Temporary fasteners: colours of [NAVEDTRA-14315], and the size for a hole."""

from __future__ import annotations

import pytest

from hatchwright.errors import TableError
from hatchwright.tables.drills import drill_sizes
from hatchwright.tables.temporary_fasteners import TEMPORARY_FASTENERS, loose_over_in, temporary_fastener
from hatchwright.workings import Grade


def test_sizes_and_colours() -> None:
    # [NAVEDTRA-14315], page with figure 4-7
    assert [(one.diameter_in, one.colour) for one in TEMPORARY_FASTENERS.all()] == [
        (1 / 16, "black"),
        (3 / 32, "cadmium (silver)"),
        (1 / 8, "copper"),
        (5 / 32, "black"),
        (3 / 16, "brass"),
        (1 / 4, "green"),
        (3 / 8, "red"),
    ]
    assert {one.grade for one in TEMPORARY_FASTENERS.all()} == {Grade.PUBLISHED}


def test_two_sizes_share_black_and_say_so() -> None:
    black = [one for one in TEMPORARY_FASTENERS.all() if one.colour == "black"]
    assert len(black) == 2
    assert all("stamped size" in one.note for one in black)


@pytest.mark.parametrize(
    ("drill", "size_in"),
    [("51", 1 / 16), ("40", 3 / 32), ("41", 3 / 32), ("30", 1 / 8), ("21", 5 / 32), ("20", 5 / 32), ("11", 3 / 16),
     ("10", 3 / 16), ("F", 1 / 4), ("W", 3 / 8)],
)  # fmt: skip
def test_the_size_for_a_drilled_hole(drill: str, size_in: float) -> None:
    found = temporary_fastener(drill_sizes()[drill])
    assert found.diameter_in == size_in
    assert loose_over_in(drill_sizes()[drill], found) is None


def test_a_hole_opened_by_dimpling_is_pointed_out() -> None:
    found = temporary_fastener(0.104)
    assert found.diameter_in == 3 / 32
    assert loose_over_in(0.104, found) == 0.103


@pytest.mark.parametrize("hole_in", [0.0, 0.06, 0.387, 1.0, float("nan")])
def test_no_size_is_guessed(hole_in: float) -> None:
    with pytest.raises(TableError, match=r"\.0625 to \.375 in"):
        temporary_fastener(hole_in)
