"""A tool that is led by hand takes no template: `template` and `pins` say so and end as `check` does.

The window is worked by hand from the entries of alder: cut .193, guide .500, .015 left to file on each side of an
opening of 5.00 x 4.00 with corners of .75: 5.00 - 2 x .015 + (.500 - .193) = 5.277, 4.277, and
.75 - .015 + (.500 - .193) / 2 = .8885.
"""

from __future__ import annotations

import json
from datetime import UTC, datetime

import pytest

from hatchwright.job.file import read_job
from hatchwright.layout.lay_out import lay_out
from hatchwright.making.cutter.cutter_fit import cutter_findings
from hatchwright.page import made_papers
from hatchwright.page.screen import Asked
from tests.conftest import EXAMPLES
from tests.told import subject_of

WINDOW = "Template window 5.277 x 4.277, corners R .8885."
BY_HAND = "No template needed: the cut follows the line by hand (hand shear)."


def by_hand(kind: str = "hand shear", more: str = "") -> str:
    """The example cut by a tool of that kind."""
    text = (EXAMPLES / "alder.toml").read_text(encoding="utf-8")
    begin, end = text.index("[cutter]"), text.index("# Asked before anything is cut")
    return f'{text[:begin]}[hand_tool]\nkind = "{kind}"\n{more}\n{text[end:]}'


@pytest.fixture
def hand_file(tmp_path):
    file = tmp_path / "hand.toml"
    file.write_text(by_hand(), encoding="utf-8")
    return file


def test_check_prints_the_size_of_the_template(shell, alder_file):
    status, out, _ = shell("check", alder_file)
    assert status == 1
    assert out.splitlines().count(WINDOW) == 1


def test_template_prints_it_too(shell, alder_file, tmp_path):
    _, out, _ = shell("template", alder_file, "--out", tmp_path / "made")
    assert out.splitlines()[0] == WINDOW


@pytest.mark.parametrize("command", ["check", "template", "pins"])
def test_a_tool_led_by_hand_needs_no_template_and_nothing_is_written(shell, hand_file, tmp_path, command):
    out_dir = tmp_path / "made"
    status, out, err = shell(command, hand_file, *(["--out", out_dir] if command != "check" else []))
    assert (status, err) == (1, "")  # as the job is judged: R101 of it is not settled
    assert BY_HAND in out.splitlines()
    assert not out_dir.exists() or not list(out_dir.iterdir())


def test_machine_readable_output_has_no_template_then(shell, hand_file, tmp_path):
    _, out, _ = shell("template", hand_file, "--out", tmp_path / "made", "--json")
    told = json.loads(out)
    assert (told["templates"], told["files"]) == ([], [])


def test_a_print_package_lacks_nothing_for_want_of_a_template(monkeypatch):
    monkeypatch.setattr(
        made_papers, "papers", lambda *_, **__: ()
    )  # takes seconds, and is not what is asked here
    asked = Asked(by_hand(), EXAMPLES, "hand.toml")
    stamp = datetime(2026, 3, 1, tzinfo=UTC)
    made = made_papers.made_papers(asked, stamp=stamp, choice=made_papers.PaperChoice())
    assert made.refusals == ()


def test_the_hand_tool_is_judged_as_the_shelf_s_are_and_asks_at_its_own_boxes():
    layout = lay_out(read_job(by_hand("hole saw", 'diameters = ["1 1/2"]')))
    found = {one.code: one for one in cutter_findings(layout)}
    assert "1.500" in subject_of(found["T305"])  # two corner radii of .75
    assert found["T306"].enter == ("hand_tool.capacity",)
    assert found["T303"].enter == ("hand_tool.behind",)


def test_a_hole_saw_makes_its_hole_itself_and_snips_need_no_trial(shell, tmp_path):
    """A round opening and the saw of its size: no line is followed."""
    text = by_hand("hole saw", 'diameters = ["4"]')
    begin, end = text.index("[opening]"), text.index("[doubler]\n")
    opening = '[opening]\nshape = "circle"\ndiameter = "4"\ncenter = ["5.5", "4.5"]\n\n'
    saw, snips = tmp_path / "saw.toml", tmp_path / "snips.toml"
    saw.write_text((text[:begin] + opening + text[end:]).partition("[as_made]")[0], encoding="utf-8")
    assert "No template needed: the tool makes the round hole itself (hole saw)." in shell("check", saw)[1]
    snips.write_text(by_hand("snips"), encoding="utf-8")
    status, _, err = shell("trial", snips)
    assert status == 2
    assert "snips takes no template" in err
    assert "Add a cutter" not in err
