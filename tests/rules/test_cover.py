"""R801, R804, R805, R812: the cover.

One to two inches between screws, gap .015 to 1/16, lap of two diameters on each side of the screws: common practice, no
source. The cover is of the skin's material: [NAVEDTRA-14018] ch. 13.
"""

from __future__ import annotations

import pytest

from rules.cases import CAUTION, FLUSH, LAPPED, PASS, STOP, UNKNOWN, Case, cases, judged
from told import subject_of


def lap(lap: str) -> dict:
    return {"cover.lap": lap}


def wide(width: str) -> dict:
    """A cover of its own outline, drawn wider along X than along Y."""
    outline = {"shape": "rounded rectangle", "width": width, "height": "5.5", "radius": ".1"}
    return {"cover.lap": None, "cover.outline": outline, "cover.screws": None}


def ends(width: str) -> dict:
    """Screws at the ends of the straight sides only."""
    return {"opening.width": width, "cover.screws.from_tangent": "0", "cover.screws.pitch": "4"}


def own(width: str, height: str, radius: str = "1") -> dict:
    """A flush cover of its own outline; its screws keep their place."""
    outline = {"shape": "rounded rectangle", "width": width, "height": height, "radius": radius}
    return {"cover.gap": None, "cover.outline": outline}


def filed(x_to: str) -> dict:
    """The edge at X = 2 filed to another place."""
    edges = {"shape": "edges", "x_from": "-2", "x_to": x_to, "y_from": "-2", "y_to": "2", "radius": "1"}
    return {"as_made": {"uncertainty": ".005", "opening": edges}}


CASES = (
    # the straights of LAPPED are 2.00 long; .5 kept from their ends leaves two screws 1.00 apart
    Case("R801", PASS, LAPPED, {"cover.screws.from_tangent": ".5"}, value=1.0, of="closest"),
    Case("R801", CAUTION, LAPPED, {"cover.screws.from_tangent": ".5005"}, of="closest", said="Fewer screws"),
    # stressed skin may have its screws closer
    Case("R801", PASS, LAPPED, {"cover.screws.from_tangent": ".6", "skin.stressed": True}, of="closest"),
    # straights of 2.00 with a screw at each end
    Case("R801", PASS, LAPPED, ends("4"), of="farthest", value=2.0),
    Case("R801", CAUTION, LAPPED, ends("4.001"), of="farthest", said="can gap"),
    Case("R801", UNKNOWN, FLUSH, {"cover.screws": None}, said="cover screws not entered"),
    Case("R801", UNKNOWN, FLUSH, {"cover.screws.count": 1}, said="only one cover screw"),
    Case("R801", CAUTION, FLUSH, {"cover.screws.count": 2}, of="farthest"),
    Case("R804", PASS, LAPPED),
    Case("R804", CAUTION, LAPPED, {"cover.alloy": "6061", "cover.temper": "T6"}, said="skin's material"),
    Case("R804", PASS, LAPPED, {"cover.thickness": ".032"}),
    Case("R804", CAUTION, FLUSH, {"cover.thickness": ".031"}, said="no thinner"),
    Case("R805", PASS, FLUSH, {"cover.gap": ".015"}),
    Case(
        "R805", CAUTION, FLUSH, {"cover.gap": ".0149"}, limit=0.015, said="A gap of .031 all around is usual"
    ),
    Case("R805", PASS, FLUSH, {"cover.gap": "1/16"}),
    Case("R805", CAUTION, FLUSH, {"cover.gap": ".063"}, limit=0.0625, said=".001 over."),
    # a cover of its own outline in the opening of 4 by 4: half of the difference on each side, and at the corners the
    # distance of the arcs' centers: the root of .03125^2 + .015^2 = .034664
    Case("R805", PASS, FLUSH, own("3.9375", "3.97"), value=0.034664, limit=0.0625, said=".015 to .035"),
    Case("R805", CAUTION, FLUSH, own("3.9375", "3.9702"), limit=0.015),
    # .03125^2 + .05413^2 = .0625^2
    Case("R805", PASS, FLUSH, own("3.9375", "3.8918")),
    Case("R805", CAUTION, FLUSH, own("3.9375", "3.8917"), limit=0.0625, said=".001 over."),
    Case("R805", CAUTION, FLUSH, own("3.9375", "4"), value=0.0, limit=0.015),
    Case("R805", STOP, FLUSH, own("3.9375", "4.001"), value=-0.0005, limit=0.0, said="will not go into"),
    Case("R805", STOP, FLUSH, own("5.1", "4"), value=-0.55),
    # its corners too: at 45 degrees off the opening's corner center (1, 1) of R 1 the cover's corner of R r lies
    # (.96 - r) sqrt 2 + r from it, 1.001 for r = .859 and .998 for r = .868
    Case("R805", STOP, FLUSH, own("3.92", "3.92", radius=".859")),
    Case("R805", CAUTION, FLUSH, own("3.92", "3.92", radius=".868")),
    # the cover as drawn in the opening as filed: .03125 and what was filed off or left standing
    Case("R805", PASS, FLUSH, filed("2.02625"), value=0.0575),
    Case(
        "R805",
        CAUTION,
        FLUSH,
        filed("2.0263"),
        limit=0.0625,
        said="your u is .005, so it can't be shown to pass",
    ),
    Case("R805", CAUTION, FLUSH, filed("2.2"), value=0.23125),
    Case("R805", CAUTION, FLUSH, filed("1.974"), limit=0.015),
    Case(
        "R805",
        UNKNOWN,
        FLUSH,
        filed("1.9737"),
        limit=0.0,
        said="may not go into the opening. Ask",
    ),
    Case("R805", STOP, FLUSH, filed("1.9637"), limit=0.0),
    Case("R805", STOP, FLUSH, {"doubler.face": "outside"}, said="no land to seat on"),
    # 4 x .164 = .656
    Case("R812", PASS, LAPPED, lap(".656"), limit=0.656),
    Case("R812", CAUTION, LAPPED, lap(".655"), said=".001 short. Ask the design"),
    Case("R812", STOP, LAPPED, wide("4")),
)


@cases(*CASES)
def test_cover(case):
    case.holds()


def test_the_lap_of_sides_and_of_corners_are_both_shown():
    sides, corners = judged("R812", LAPPED, wide("5.5"))
    assert sides.value == pytest.approx(0.75)
    # from the middle of the opening's corner arc (center 1, 1, R 1) to the cover's side at 2.75
    assert corners.value == pytest.approx(2.75 - (1 + 2**-0.5))
    assert "corners" in subject_of(corners)


def test_a_flush_cover_has_no_lap():
    assert judged("R812", FLUSH) == []
