"""S304 under the load of its own hole, P15."""

from __future__ import annotations

import os

import pytest

from hatchwright.strength.margin import Margin
from hatchwright.strength.report import Elements, StrengthReport, strength_report
from hatchwright.words.tell import tell
from tests.strength.jobs import ANSWERED, RESTORE, SYMMETRIC, layout_of, running

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")


def side(found: StrengthReport, code: str, name: str = "X+") -> Margin:
    return next(one for one in found.margins if one.code == code and f"side {name}" in tell(one.subject))


def loads(margin: Margin) -> float:
    assert margin.applied is not None
    return margin.applied.value


def test_by_hand_it_is_that_of_the_hardest_worked_rivet() -> None:
    """1.5 times the limit load of S202, as two rows share it; of one row an equal share."""
    found = strength_report(layout_of(ANSWERED, running({"nx": 400.0}), base=SYMMETRIC), elements=None)
    assert loads(side(found, "S304")) == pytest.approx(1.5 * loads(side(found, "S202")))
    assert loads(side(found, "S304")) > 400.0 * 4.0 / 16


def test_on_the_restore_basis_it_is_by_hand_too() -> None:
    layout = layout_of(ANSWERED, RESTORE, base=SYMMETRIC)
    found, by_hand = (strength_report(layout, elements=one) for one in (Elements(buckling=False), None))
    assert loads(side(found, "S304")) == pytest.approx(loads(side(by_hand, "S304")))


def test_by_elements_it_is_the_hole_whose_own_load_comes_nearest() -> None:
    """The outer row .20 from the doubler's edge: 2 x 37,000 x .040 x (.20 - .0643) = 402 lb; the inner row .30 from
    that of the opening: 2 x 37,000 x .032 x (.30 - .0643) = 558 lb; each held to its load, an equal share at least."""
    ends = 'start = ["{0}", "-1.9"]\nend = ["{0}", "1.9"]'
    moved = SYMMETRIC.replace(ends.format("3.2"), ends.format("3.3"))
    assert moved != SYMMETRIC
    layout = layout_of(ANSWERED, running({"nx": 400.0, "q": 50.0}), base=moved)
    found = strength_report(layout, elements=Elements(buckling=False))
    assert found.analysis is not None
    (case,) = found.analysis.cases
    equal_lbf, grid = loads(side(found, "S201")) / 16, 1.04 + case.grid_error.fastener_ratio
    held = {}
    for hole in layout.holes:
        if hole.x_in > 2.0:
            strength_lbf = (
                2 * 37_000 * (0.040 * (0.20 - 0.06425) if hole.x_in > 3.0 else 0.032 * (0.30 - 0.06425))
            )
            own_lbf = next(one.greater_lbf for one in case.rivets if one.number == hole.number) * grid
            held[hole.number] = strength_lbf / max(own_lbf, equal_lbf) - 1
    assert len(held) == 16
    margin = side(found, "S304")
    assert margin.ratio == pytest.approx(min(held.values()), rel=1e-3)
    assert margin.holes == (min(held, key=lambda number: held[number]),)
    assert loads(margin) > 1.05 * equal_lbf
