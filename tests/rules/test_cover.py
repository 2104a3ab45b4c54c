"""R801, R804, R805, R812: the cover.

One to two inches between screws, gap .015 to 1/16, lap of two diameters on each side of the screws: common practice, no
source. The cover is of the skin's material: [NAVEDTRA-14018] ch. 13.
"""

from __future__ import annotations

import pytest

from rules.cases import CAUTION, FLUSH, LAPPED, PASS, STOP, Case, cases, judged


def lap(lap: str) -> dict:
    return {"cover.lap": lap}


def wide(width: str) -> dict:
    """A cover of its own outline, drawn wider along X than along Y."""
    outline = {"shape": "rounded rectangle", "width": width, "height": "5.5", "radius": ".1"}
    return {"cover.lap": None, "cover.outline": outline, "cover.screws": None}


def ends(width: str) -> dict:
    """Screws at the ends of the straight sides only."""
    return {"opening.width": width, "cover.screws.from_tangent": "0", "cover.screws.pitch": "4"}


CASES = (
    # the straights of LAPPED are 2.00 long; .5 kept from their ends leaves two screws 1.00 apart
    Case("R801", PASS, LAPPED, {"cover.screws.from_tangent": ".5"}, value=1.0, of="closest"),
    Case(
        "R801", CAUTION, LAPPED, {"cover.screws.from_tangent": ".5005"}, of="closest", said="Fewer would do"
    ),
    # stressed skin may have its screws closer
    Case("R801", PASS, LAPPED, {"cover.screws.from_tangent": ".6", "skin.stressed": True}, of="closest"),
    # straights of 2.00 with a screw at each end
    Case("R801", PASS, LAPPED, ends("4"), of="farthest", value=2.0),
    Case("R801", CAUTION, LAPPED, ends("4.001"), of="farthest", said="gape"),
    Case("R804", PASS, LAPPED),
    Case("R804", CAUTION, LAPPED, {"cover.alloy": "6061", "cover.temper": "T6"}, said="skin's material"),
    Case("R804", PASS, LAPPED, {"cover.thickness": ".032"}),
    Case("R804", CAUTION, FLUSH, {"cover.thickness": ".031"}, said="no thinner"),
    Case("R805", PASS, FLUSH, {"cover.gap": ".015"}),
    Case(
        "R805", CAUTION, FLUSH, {"cover.gap": ".0149"}, limit=0.015, said="About 1/32 in all round is usual"
    ),
    Case("R805", PASS, FLUSH, {"cover.gap": "1/16"}),
    Case("R805", CAUTION, FLUSH, {"cover.gap": ".063"}, limit=0.0625, said="Over by .001 in"),
    # 4 x .164 = .656
    Case("R812", PASS, LAPPED, lap(".656"), limit=0.656),
    Case("R812", CAUTION, LAPPED, lap(".655"), said="A wider cover"),
    Case("R812", STOP, LAPPED, wide("4")),
)


@cases(*CASES)
def test_cover(case):
    case.holds()


def test_the_lap_of_sides_and_of_corners_are_both_shown():
    sides, corners = judged("R812", LAPPED, wide("5.5"))
    assert sides.value == pytest.approx(0.75)
    # from the middle of the opening's corner arc (centre 1, 1, R 1) to the cover's side at 2.75
    assert corners.value == pytest.approx(2.75 - (1 + 2**-0.5))
    assert "corners" in corners.subject


def test_a_flush_cover_has_no_lap():
    assert judged("R812", FLUSH) == []
