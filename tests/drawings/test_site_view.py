"""The drawing of a survey: drawn true, each figure with its u, both readings where the sketch doesn't say which.

Sources: a rectangle of 8 by 6 has diagonals of 10 (Pythagoras, closed form); u of a difference of two readings of the
same u is that u times the root of 2 [JCGM 100:2008], 5.1.2.
"""

from __future__ import annotations

import math

import pytest

from hatchwright.drawings.ink import Line, Style, Text
from hatchwright.drawings.site_tables import hazards_table
from hatchwright.drawings.site_view import sides_sheet, site_sheet
from hatchwright.job.file import read_job
from hatchwright.layout.site.center import center_of
from hatchwright.layout.site.sketch import sketches
from tests.conftest import EXAMPLES

SURVEY = """
[site]
u = ".03"
seen_from = "outside"
up = "FWD"
rows = [
  {name = "rib 3", x = "0"}, {name = "rib 4", x = "8.00"}, {name = "spar", y = "0"}, {name = "stringer", y = "6.00"},
]
corners = {ab = "8.00", bc = "6.00", cd = "8.00", da = "6.00", ac = "10.00", bd = "10.00"}
hazards = [{name = "push-pull tube", x_from = "6.2", x_to = "6.2", depth = "2.1", moves = true, photo = "12"}]
[[site.routes]]
name = "near"
x_from = "rib 3"
x = "3.00"
y_from = "spar"
y = "2.00"
[[site.routes]]
name = "far"
x_from = "rib 4"
x = "5.00"
y_from = "stringer"
y = "4.00"
"""


def surveyed(more=SURVEY, side="left"):
    text = (EXAMPLES / "alder.toml").read_text(encoding="utf-8").partition("[as_made]")[0] + more
    text = text.replace('side = "left"', f'side = "{side}"')
    return read_job(text, folder=EXAMPLES, name="alder.toml")


def drawn(job):
    center = center_of(job.site, job.frame)
    return site_sheet(job, center, sketches(job.site, job.frame).ways, gap_in=1 / 32, date="")


def words(sheet):
    return [part.words for part in sheet.parts() if isinstance(part, Text)]


def at(sheet, named):
    return [part.at for part in sheet.parts() if isinstance(part, Text) and part.words == named]


def test_the_bay_is_drawn_true():
    """Its four sides as 8 to 6, and square: the arrows' shafts are thick too, so the four longest are taken."""
    lines = [one for one in drawn(surveyed()).entities if isinstance(one, Line)]
    thick = sorted((math.dist(*one.points) for one in lines if one.style is Style.FINISHED), reverse=True)
    along, other, up, down = thick[:4]
    assert along == pytest.approx(other)
    assert up == pytest.approx(down)
    assert along / up == pytest.approx(8.0 / 6.0)


def test_each_route_stands_with_its_u_as_a_figure():
    """From the origin rows .030; from a row that was itself taped .030 x 1.4142 = .0424, told as .043."""
    lines = " ".join(words(drawn(surveyed()))).replace("\xa0", " ")
    assert "near: X 3.000 ± .030, Y 2.000 ± .030" in lines
    assert "far: X 3.000 ± .043, Y 2.000 ± .043" in lines


def test_what_a_helper_tapes_stands_beside_each_tape():
    """To the four rows, and by Pythagoras to the corners: (3, 2), (5, 2), (5, 4) and (3, 4)."""
    found = set(words(drawn(surveyed())))
    assert {"3.000", "5.000", "2.000", "4.000"} <= found
    assert {f"{math.hypot(x, y):.3f}" for x, y in ((3, 2), (5, 2), (5, 4), (3, 4))} <= found


def test_a_sketch_that_does_not_say_is_drawn_both_ways_and_asked():
    asked = SURVEY.replace('seen_from = "outside"\nup = "FWD"\n', "")
    sheet = drawn(surveyed(asked))
    assert {"READING A", "READING B", "sketch drawn from OUTSIDE", "sketch drawn from INSIDE"} <= set(
        words(sheet)
    )
    (first, second), (near, far) = sorted(at(sheet, "rib 3")), sorted(at(sheet, "rib 4"))
    assert first[0] < near[0]  # in one reading rib 3 lies left of rib 4, in the other right of it
    assert second[0] > far[0]
    assert "enter the one that matches" in " ".join(sheet.notes)
    assert not {"3.000", "5.000"} & set(words(sheet))  # nothing to tape while it is open which way it lies


def test_left_and_right_are_mirror_images_beside_each_other():
    left, right = surveyed(), surveyed(side="right")
    sheet = sides_sheet(*((job, center_of(job.site, job.frame)) for job in (left, right)), date="")
    assert {"LEFT", "RIGHT"} <= set(words(sheet))
    (first, second), (near, far) = sorted(at(sheet, "rib 3")), sorted(at(sheet, "rib 4"))
    assert first[0] < near[0]
    assert second[0] > far[0]


@pytest.mark.parametrize(
    ("depth", "found", "moves", "most"),
    [
        ("2.1", "outside", "false", "1.945"),  # by hand: 2.100 - .030 of u - .125 before it
        (
            "2.1",
            "inside",
            "false",
            "1.976",
        ),  # from the inner face, so the skin's measured .0315 comes to it: 1.9765
        ("2.1", "outside", "true", "1.570"),  # half an inch from what moves
        (".15", "outside", "false", "don't drill"),
    ],
)
def test_how_deep_a_drill_may_go_stands_beside_what_lies_behind(depth, found, moves, most):
    hazard = f'depth = "{depth}", found_from = "{found}", moves = {moves}'
    (table,) = hazards_table(surveyed(SURVEY.replace('depth = "2.1", moves = true', hazard)))
    assert table.rows[0][4] == most
