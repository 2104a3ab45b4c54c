"""The drawing on a page: what each line stands for, its dimensions, and the places at which something stops.

Expected figures are worked out from what is typed in the job files.
"""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from hatchwright.drawings.ink import Circle, Outline, Text
from hatchwright.drawings.screen_view import screen_picture
from hatchwright.drawings.writers.svg import screen_svg_of, svg_of
from hatchwright.job.existing import ExistingFastener
from hatchwright.job.file import load_job
from hatchwright.page.screen import seen_from_inside
from hatchwright.units import inches
from hatchwright.workflow.examine import examine
from tests.conftest import EXAMPLES


@pytest.fixture(scope="module")
def drawn():
    """The drawing of an example by its name, made once."""
    made = {}

    def of(name):
        if name not in made:
            examination = examine(load_job(EXAMPLES / f"{name}.toml"))
            made[name] = screen_picture(examination.layout, examination.findings)
        return made[name]

    return of


def texts(sheet, css):
    return [part for part in sheet.parts() if isinstance(part, Text) and css in part.css.split()]


def test_every_line_says_which_part_of_the_job_it_stands_for(drawn):
    parts = {part.part for part in drawn("alder").parts()}
    assert parts >= {
        "opening",
        "doubler",
        "cover",
        "cover.screws",
        "cutter",
        "frame",
        "bay.rows.3",
        "bay.flanges.0",
    }
    assert parts >= {f"rows.{row}" for row in range(8)} | {"bay.keep_outs.0", "as_made.opening"}
    of_hole = {
        part.hole: part.part for part in drawn("alder").parts() if isinstance(part, Circle) and part.hole
    }
    assert (of_hole[2], of_hole[31], of_hole[101]) == ("rows.0", "rows.3", "cover.screws")
    assert {part.part for part in drawn("birch").parts() if part.css == "existing"} == {"bay.existing.0"}
    assert {"patch", "patch.plug"} <= {part.part for part in drawn("finch").parts()}
    assert 'data-part="doubler"' in screen_svg_of(drawn("alder"))
    assert "data-part" not in svg_of(drawn("alder")).decode()


def test_sizes_run_from_edge_to_edge_and_say_what_was_measured(drawn):
    near = {text.words: text.part for text in texts(drawn("alder"), "near")}
    # 8.012 - 2.996 and 6.508 - 2.497 as measured, the doubler 7.00 x 6.00 as drawn
    assert near == {
        "5.016 as made": "as_made.opening",
        "4.011 as made": "as_made.opening",
        "7.000": "doubler",
        "6.000": "doubler",
    }
    assert {text.words for text in texts(drawn("dogwood"), "near")} == {"8.000", "3.000", "9.500", "4.500"}
    spans = {text.words: text.span for text in texts(drawn("alder"), "near")}
    (x0, _), (x1, _) = spans["7.000"]
    assert (x0, x1) == (2.0, 9.0)


def test_a_circle_has_one_diameter_and_is_measured_to_its_center(drawn):
    words = [text.words for text in texts(drawn("cypress"), "dimension")]
    assert words.count("Ø.625") == 1
    assert not [one for one in words if "312" in one]


def test_places_that_stop_and_are_of_no_single_hole_are_ringed_with_their_reason(drawn):
    """Birch: its doubler, .10 to 5.90 along X, lies over flanges that reach to .30 and from 5.70: .125 is asked."""
    rings = [part for part in drawn("birch").parts() if isinstance(part, Circle) and part.css == "ring short"]
    words = {text.words for text in texts(drawn("birch"), "short")}
    assert "doubler outer edge to rib 5 flange: SHORT .325" in words
    assert any(
        abs(ring.center[0] + 0.10) < 1e-6 for ring in rings
    )  # the right side: outboard runs to the left


def test_seen_from_inside_axes_and_what_is_measured_turn_over_too(drawn):
    inside = seen_from_inside(drawn("alder"))
    assert (drawn("alder").axes, inside.axes) == (((1.0, 0.0), (0.0, -1.0)), ((-1.0, 0.0), (0.0, -1.0)))
    (x0, _), (x1, _) = next(text.span for text in texts(inside, "near") if text.words == "7.000")
    assert (x0, x1) == (-2.0, -9.0)


def test_a_name_that_was_cut_is_whole_for_the_page(drawn):
    (tube,) = [text for text in texts(drawn("alder"), "name") if text.part == "bay.keep_outs.0"]
    assert tube.whole == "aileron push-pull tube, X 8.200, 2.100 below outer face, moves"


def test_a_fastener_of_many_is_told_from_the_others():
    job = load_job(EXAMPLES / "birch.toml")
    more = tuple(ExistingFastener(at=(inches(6.0), inches(y)), diameter=inches(0.125)) for y in (3.1, 5.1))
    job = job.model_copy(update={"bay": job.bay.model_copy(update={"existing": more})})
    examination = examine(job)
    sheet = screen_picture(replace(examination.layout), ())
    found = {round(-part.center[1], 3): part.part for part in sheet.parts() if part.css == "existing"}
    assert found == {3.1: "bay.existing.0", 5.1: "bay.existing.1"}
    assert not [
        part for part in sheet.parts() if isinstance(part, Outline) and not part.part and "edge" in part.css
    ]
