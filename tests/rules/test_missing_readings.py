"""R928: rows measured in part. Common practice, no source."""

from __future__ import annotations

from rules.cases import CAUTION, PASS, PLAIN, UNKNOWN, Case, along_y, cases, judged
from told import subject_of


def rows(*holes: list) -> dict:
    """Two rows of four rivets, of which some were measured."""
    return {
        "rows": [along_y(2.3, pitch=0.5, name="inner"), along_y(2.7, pitch=0.5, name="outer")],
        "as_made": {"uncertainty": ".005", "holes": list(holes)},
    }


def place(number: int, *size: str) -> list:
    return [number, "2.3", repr(-0.8 + 0.5 * (number - 1)), *size]


INNER = [place(1), place(2), place(3), place(4)]

CASES = (
    Case(
        "R928",
        PASS,
        PLAIN,
        rows(*INNER),
        of="holes",
        said="all 4 holes of 1 row measured; 1 row checked as drawn",
    ),
    Case(
        "R928",
        UNKNOWN,
        PLAIN,
        rows(*INNER[:1], *INNER[2:]),
        said="rivet 2 of row inner (4 holes), location not measured",
    ),
    Case("R928", UNKNOWN, PLAIN, rows(*INNER[1:3]), said="rivets 1 and 4 of row inner"),
    Case("R928", UNKNOWN, PLAIN, rows(*INNER, [5, "2.7", "-.8"]), said="rivets 6, 7 and 8 of row outer"),
    Case("R928", PASS, PLAIN, rows(*(place(n, ".130") for n in (1, 2, 3, 4))), of="holes"),
    Case(
        "R928",
        UNKNOWN,
        PLAIN,
        rows(*(place(n, ".130") for n in (1, 2, 3)), place(4)),
        said="rivet 4 of row inner (4 holes), size not measured",
    ),
)


@cases(*CASES)
def test_missing_readings(case):
    case.holds()


def test_sizes_without_places_ask_for_the_other_sizes_of_their_row_and_for_no_place():
    measured = rows()
    measured["as_made"]["sizes"] = [[1, ".130"], [2, ".130"], [4, ".130"]]
    found = judged("R928", PLAIN, measured)
    told = [(subject_of(one), one.enter) for one in found if one.holes]
    assert told == [("rivet 3 of row inner (4 holes), size not measured", ("as_made.sizes",))]
    as_drawn = "row inner (4 holes): hole sizes measured, locations checked as drawn"
    assert as_drawn in map(subject_of, found)


def test_an_opening_that_was_not_measured_cautions():
    said = "drawn edge"
    assert [one.status for one in judged("R928", PLAIN, rows(*INNER)) if said in subject_of(one)] == [CAUTION]
    filed = {"shape": "edges", "x_from": "-2", "x_to": "2", "y_from": "-2", "y_to": "2", "radius": "1"}
    measured = rows(*INNER)
    measured["as_made"]["opening"] = filed
    assert not [one for one in judged("R928", PLAIN, measured) if said in subject_of(one)]


def test_the_holes_without_a_reading_are_named():
    found = next(one for one in judged("R928", PLAIN, rows(*INNER[1:3])) if one.holes)
    assert found.holes == (1, 4)


def test_a_job_that_is_only_drawn_is_not_asked():
    assert judged("R928", PLAIN) == []
