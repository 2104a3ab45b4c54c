"""P14: rivets beyond a corner serve two sides, and hand over the sum of both.

A square opening with two rows of eight on each side, the outer ones past the corners: 20 rivets a side, 8 of them
serving another side too; all sums by hand, every rivet with 1/20 of the load of each side that it serves.
"""

from __future__ import annotations

import math

import pytest

from hatchwright.strength.margin import Margin
from hatchwright.strength.report import strength_report
from hatchwright.words.tell import tell
from tests.strength.jobs import ANSWERED, SQUARE, layout_of, running

_RIVET_LBF = 388.0


def square() -> str:
    base = SQUARE[: SQUARE.index("[[rows]]\nname")].replace('".032"', '".063"').replace('".040"', '".063"')
    base = base.replace('width = "7"\nheight = "7"', 'width = "8"\nheight = "8"')
    for name, x, y in (("outboard", 1, 0), ("inboard", -1, 0), ("aft", 0, 1), ("forward", 0, -1)):
        for which, offset, reach in (("inner", 2.3, 1.6), ("outer", 3.2, 2.9)):
            first, last = (
                (offset * x + k * reach * abs(y), offset * y + k * reach * abs(x)) for k in (-1, 1)
            )
            base += (
                f'[[rows]]\nname = "{name}, {which}"\nlay = "line"\nrivet = "MS20470AD4"\ncount = 8\n'
                f'start = ["{first[0]}", "{first[1]}"]\nend = ["{last[0]}", "{last[1]}"]\n'
            )
    return base


def margins(load: dict[str, float]) -> dict[tuple[str, str], Margin]:
    found = strength_report(layout_of(ANSWERED, running(load), base=square()), elements=None)
    return {
        (one.code, side): one
        for one in found.margins
        for side in ("X+", "X-", "Y+", "Y-")
        if one.code in ("S201", "S202") and f"side {side}" in tell(one.subject)
    }


ROOT = math.sqrt(2.0)


@pytest.mark.parametrize(
    ("load", "left"),
    [
        ({"nx": 200.0}, 20.0),
        ({"q": 200.0}, 12.0 + 8.0 / ROOT),
        ({"nx": 200.0, "ny": 200.0}, 12.0 + 8.0 / ROOT),
        # At two corners N and q of both sides point the same way, twice as much; at the others they cancel.
        ({"nx": 200.0, "ny": 200.0, "q": 200.0}, 12.0 + 4.0 / 2.0 + 4.0),
        ({"nx": 200.0, "ny": 200.0, "q": -200.0}, 12.0 + 4.0 / 2.0 + 4.0),
        # One gives its side 3 parts of 5 of what it carries.
        ({"nx": 150.0, "ny": 200.0}, 12.0 + 8.0 * 0.6),
    ],
)
def test_a_rivet_gives_each_side_its_part(load: dict[str, float], left: float) -> None:
    joint = margins(load)["S201", "X+"].allowable
    assert joint is not None
    assert joint.value == pytest.approx(left * _RIVET_LBF)


def test_the_hardest_rivet_at_limit_load_carries_the_sum() -> None:
    alone, both = (
        margins(load)["S202", "X+"].applied for load in ({"nx": 200.0}, {"nx": 200.0, "ny": 200.0})
    )
    assert alone is not None
    assert both is not None
    assert both.value == pytest.approx(ROOT * alone.value)


@pytest.mark.parametrize("code", ["S201", "S202"])
def test_all_four_sides_of_a_symmetric_job_answer_alike(code: str) -> None:
    found = margins({"q": 200.0})
    ratios = [found[code, side].ratio for side in ("X+", "X-", "Y+", "Y-")]
    assert ratios == pytest.approx([ratios[0]] * 4)
