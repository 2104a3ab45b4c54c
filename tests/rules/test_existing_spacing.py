"""R205: new holes beside fasteners that are there. 3 D of the larger: common practice, no source."""

from __future__ import annotations

from rules.cases import PASS, PLAIN, STOP, UNKNOWN, Case, cases, judged, rivets, typed
from told import subject_of


def measured(*holes: tuple[int, float, float]) -> dict:
    return {
        "as_made": {"uncertainty": ".005", "holes": [[n, typed(x), typed(y)] for n, x, y in holes]},
    }


def beside_a_measured_one(margin: float, drawn: float = 0.001) -> dict:
    """Two rivets, the first drawn so much more than .375 from a row that is there, the second measured."""
    return {
        "rows": [rivets((2.3, 0.0), (2.3, 1.0))],
        "bay.rows": [{"name": "rib", "x": typed(2.675 + drawn), "diameter": "1/8"}],
        **measured((2, 2.3 + drawn - margin, 1.0)),
    }


CASES = (
    # to a row that is there: 3 x 1/8 = .375; to a 5/32 that is there: .46875
    Case("R205", PASS, PLAIN, {"bay.rows": [{"name": "rib", "x": "2.675", "diameter": "1/8"}]}, limit=0.375),
    Case("R205", STOP, PLAIN, {"bay.rows": [{"name": "rib", "x": "2.674", "diameter": "1/8"}]}),
    Case(
        "R205",
        UNKNOWN,
        PLAIN,
        {"bay.rows": [{"name": "rib", "x": "2.3"}]},
        value=0.0,
        said="enter their diameter",
    ),
    Case(
        "R205", PASS, PLAIN, {"bay.existing": [{"at": ["2.3", ".46875"], "diameter": "5/32"}]}, limit=0.46875
    ),
    Case("R205", STOP, PLAIN, {"bay.existing": [{"at": ["2.3", ".468"], "diameter": "5/32"}]}),
    # a drawn neighbor at its limit does not hide a measured one that lies within its u of .005
    Case("R205", PASS, PLAIN, beside_a_measured_one(0.005)),
    Case("R205", UNKNOWN, PLAIN, beside_a_measured_one(0.0049)),
    Case("R205", UNKNOWN, PLAIN, beside_a_measured_one(0.003), value=0.378, said="can't be shown"),
    Case("R205", STOP, PLAIN, beside_a_measured_one(0.003, drawn=-0.001), value=0.374),
)


@cases(*CASES)
def test_existing_spacing(case):
    case.holds()


def old(*places: tuple[str, str]) -> list[dict]:
    return [{"at": list(place), "diameter": "1/8"} for place in places]


def test_the_worst_of_all_old_fasteners_is_told_once_and_names_every_new_hole_that_is_too_near():
    rows = [rivets((2.3, -0.6), (2.3, 0.0), (2.3, 0.6), (2.3, 1.2))]
    there = old(("2.5", "-.6"), ("2.6", "-.6"), ("2.6", "0"), ("2.4", ".6"), ("3", "1.2"))
    (found,) = judged("R205", PLAIN, {"rows": rows, "bay.existing": there})
    assert (found.status, found.holes) == (STOP, (3, 1, 2))
    assert subject_of(found) == "rivet 3 to existing fastener 4, closest of 3 new holes too close"


def test_each_old_row_is_told_once_whatever_the_number_of_new_holes():
    rows = [rivets((2.3, -0.6), (2.3, 0.0), (2.35, 0.6))]
    there = [
        {"name": "rib", "x": "2.6", "diameter": "1/8"},
        {"name": "former", "y": "1.1", "diameter": "1/8"},
    ]
    rib, former = judged("R205", PLAIN, {"rows": rows, "bay.rows": there})
    assert (rib.status, rib.holes) == (STOP, (3, 1, 2))
    assert (former.status, former.holes) == (PASS, (3,))


def test_a_row_of_unknown_diameter_out_of_reach_of_any_rivet_is_left_alone():
    # 1/4 is the largest of the dash numbers -3 to -8, [FAA-CT-8080-8D] exhibit 1: 3 x 1/4 from the hole at X = 2.3
    for x, count in (("3.049", 1), ("3.051", 0)):
        assert len(judged("R205", PLAIN, {"bay.rows": [{"name": "rib", "x": x}]})) == count
