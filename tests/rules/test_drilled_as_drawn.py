"""R918: mirrored or turned parts. The geometry of mirror images; what is clearly off is common practice, no source."""

from __future__ import annotations

import pytest

from rules.cases import CAUTION, PASS, PLAIN, STOP, Case, cases, judged, rivets
from told import subject_of

PLACES = [(2.4, -0.6), (2.4, 0.1), (2.4, 0.8), (2.9, 0.2)]


IN_LINE = [(2.4, -0.6), (2.4, 0.1), (2.4, 0.8)]

BOWED = [(2.4, -0.6), (2.403, 0.1), (2.4, 0.8)]


def made(turn, off: float = 0.003, places=PLACES) -> dict:
    """A pattern without symmetry, made as `turn` of what was drawn, a little off."""
    holes = [[k + 1, *(repr(round(v + off, 6)) for v in turn(x, y))] for k, (x, y) in enumerate(places)]
    return {"rows": [rivets(*places)], "as_made": {"uncertainty": ".005", "holes": holes}}


def filed(x_from: str, x_to: str) -> dict:
    """A D-shaped opening; what was filed is told by its edges."""
    edges = {"shape": "edges", "x_from": x_from, "x_to": x_to, "y_from": "-2", "y_to": "2", "radius": "1"}
    return {"as_made": {"uncertainty": ".005", "opening": edges}}


CASES = (
    Case("R918", PASS, PLAIN, made(lambda x, y: (x, y))),
    Case("R918", STOP, PLAIN, made(lambda x, y: (-x, y)), said="mirrored along X"),
    Case("R918", STOP, PLAIN, made(lambda x, y: (x, -y)), said="mirrored along Y"),
    Case("R918", STOP, PLAIN, made(lambda x, y: (-x, -y)), said="rotated 180°"),
    # a pattern that is only shifted is no mirror image
    Case("R918", CAUTION, PLAIN, made(lambda x, y: (x + 0.2, y)), said="Not where it was drawn"),
    Case("R918", PASS, PLAIN, made(lambda x, y: (x + 0.0625, y), off=0.0), value=0.0625, limit=0.0625),
    Case(
        "R918", CAUTION, PLAIN, made(lambda x, y: (x + 0.0626, y), off=0.0), said=".0626 off, .0625 allowed."
    ),
    # a template flipped over, or turned, where it lay, far from any image about the center: the best fit finds it
    Case("R918", STOP, PLAIN, made(lambda x, y: (5.2 - x, y)), said="mirrored and moved"),
    Case("R918", STOP, PLAIN, made(lambda x, y: (2.6 - y, x - 2.4)), said="drawing turned"),
    # a row by itself is its own mirror image, and one that lies elsewhere is not mirrored
    Case("R918", CAUTION, PLAIN, made(lambda x, y: (x + 0.2, y + 0.3), places=IN_LINE)),
    # nor is one that is bowed by less than u, read bowed the other way
    Case("R918", CAUTION, PLAIN, made(lambda x, y: (5.0 - x, y + 0.3), places=BOWED)),
    Case("R918", PASS, PLAIN, filed("-2.004", "2.004")),
    Case("R918", PASS, PLAIN, filed("-2", "2.0625")),
    Case("R918", CAUTION, PLAIN, filed("-2", "2.063")),
    Case("R918", CAUTION, PLAIN, filed("-2.19", "2.19"), value=0.19),
)


@cases(*CASES)
def test_drilled_as_drawn(case):
    case.holds()


def test_an_opening_off_its_center_is_told_from_its_mirror_image():
    corners = {"corners": [["-2", "-2"], ["2", "-2"], ["3", "2"], ["-2", "2"]], "radii": [".5"]}
    drawn = {"opening": {"shape": "polygon", **corners}}
    flipped = [["-2", "-2"], ["3", "-2"], ["2", "2"], ["-2", "2"]]
    as_filed = {"shape": "polygon", "corners": flipped, "radii": [".5"]}
    (finding,) = judged("R918", PLAIN, {**drawn, "as_made": {"uncertainty": ".005", "opening": as_filed}})
    assert finding.status is STOP
    assert "mirrored along Y" in subject_of(finding)


def test_two_holes_do_not_tell():
    made_two = {"uncertainty": ".005", "holes": [[1, "-2.4", "-.6"], [2, "-2.4", ".1"]]}
    assert judged("R918", PLAIN, {"rows": [rivets(*PLACES)], "as_made": made_two}) == []


def test_a_job_that_is_only_drawn_is_not_judged():
    assert judged("R918", PLAIN) == []


def test_the_distances_from_every_image_are_shown():
    (finding,) = judged("R918", PLAIN, made(lambda x, y: (x, y)))
    names = [value.symbol for value in finding.working[0].values]
    assert names[:3] == ["off mirrored_x", "off mirrored_y", "off rotated"]
    assert finding.value == pytest.approx(0.003 * 2**0.5)
