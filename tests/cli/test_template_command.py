"""`hatchwright template`: what it prints, the template in hand, a printer that is off; run as a person runs it."""

from __future__ import annotations

import json
import re
import shutil
from datetime import UTC, datetime
from pathlib import Path

import ezdxf
import pypdfium2
import pytest

from hatchwright.drawings.writers import Paper
from hatchwright.workflow.papers import papers

STAMP = datetime(2026, 3, 1, 10, tzinfo=UTC)
"""As of the papers that `tests/workflow/test_papers.py` reads: they are made once for both."""
EXAMPLES = Path(__file__).parents[2] / "examples"


def words_of(path):
    return [page.get_textpage().get_text_bounded() for page in pypdfium2.PdfDocument(path)]


def test_pages_are_corrected_from_what_the_bars_measured(shell, alder_file, tmp_path):
    out = tmp_path / "shop"
    status, _, err = shell(
        "template",
        alder_file,
        "--out",
        out,
        "--paper",
        "a4",
        "--bar-short-side",
        "151.1 mm",
        "--bar-long-side",
        "5.97",
    )
    assert (status, err) == (1, "")  # R101 of this job is not settled
    (left, right) = sorted(out.glob("*_A4_CORRECTED.pdf"))
    assert left.name == "alder_TEMPLATE_LEFT_A4_CORRECTED.pdf"
    for page in words_of(left) + words_of(right):
        assert "SHORT SIDE x 1.00860, LONG SIDE x 1.00503" in page or "NOTES" in page
    assert (out / "alder_TEMPLATE_LEFT_IN.dxf").exists()


@pytest.mark.parametrize("command", ["template", "papers", "trial"])
@pytest.mark.parametrize(
    ("options", "words"),
    [
        (
            ("--bar-short-side", "5.6", "--bar-long-side", "6"),
            "--bar-short-side: the bar of 6.000 in measured 5.6",
        ),
        (("--bar-short-side", "6", "--bar-long-side", "5.6"), "repair the printer"),
        (
            ("--bar-short-side", "151.6", "--bar-long-side", "6"),
            "--bar-short-side: a bare 151.6 means inches",
        ),
        (("--bar-short-side", "5.95"), "--bar-long-side: only one bar is entered"),
        (
            ("--bar-short-side", "1,000", "--bar-long-side", "6"),
            "--bar-short-side: the comma could be a thousands",
        ),
        (("--bar-short-side", "wide", "--bar-long-side", "6"), "--bar-short-side: this is not a length"),
        (("--bar-short-side", "-6", "--bar-long-side", "6"), "--bar-short-side: a drill size is a diameter"),
    ],
)
def test_bars_that_will_not_do_are_refused_and_nothing_is_written(
    shell, alder_file, tmp_path, command, options, words
):
    status, out, err = shell(command, alder_file, "--out", tmp_path / "shop", *options)
    assert (status, out) == (2, "")
    assert words in err
    assert not (tmp_path / "shop").exists()


def test_template_for_programs(shell, alder_file, tmp_path):
    out = tmp_path / "shop"
    status, said, err = shell("template", alder_file, "--out", out, "--json")
    told = json.loads(said)
    assert (status, err) == (1, "")
    assert {finding["code"] for finding in told["stops"]} >= {"R101"}
    assert {finding["status"] for finding in told["stops"]} == {"stop", "unknown"}
    assert sorted(told["files"]) == sorted(path.name for path in out.iterdir())
    assert [one["side"] for one in told["templates"]] == ["LEFT", "RIGHT"]
    for one in told["templates"]:
        assert (one["kind"], one["deviations"]) == ("female", [])
        assert one["offset_in"] == pytest.approx((0.5 - 0.193) / 2)
        assert (one["width_in"], one["height_in"]) == pytest.approx((5.277, 4.277))
        assert one["least_corner_in"] == pytest.approx(0.735 + 0.1535)
        (led,) = one["holes"]
        assert (led["diameter_in"], led["parts"], len(led["numbers"])) == (0.098, ["skin", "doubler"], 64)
        assert {"T101", "T102", "T103"} <= {finding["code"] for finding in one["findings"]}


@pytest.fixture(scope="module")
def written(shell, alder_text, tmp_path_factory):
    """What the command writes for the job ALDER."""
    place = tmp_path_factory.mktemp("written")
    (place / "alder.toml").write_text(alder_text, encoding="utf-8")
    assert shell("template", place / "alder.toml", "--out", place / "shop")[0] == 1
    return place / "shop"


@pytest.fixture
def made(written, tmp_path):
    """The same for a test that may change it."""
    return shutil.copytree(written, tmp_path / "shop")


def test_the_template_in_hand_is_that_of_its_own_job_and_side(shell, alder_file, made):
    for side, options in (("LEFT", ()), ("RIGHT", ("--other-side",))):
        status, out, _ = shell(
            "template", alder_file, "--in-hand", made / f"alder_TEMPLATE_{side}_IN.dxf", *options
        )
        assert [line.split()[:2] for line in out.splitlines()[:2]] == [["OK", "T802"], ["OK", "T803"]]
        assert (status, out.splitlines()[2:4]) == (1, [f"{side} side", out.splitlines()[3]])
        assert out.splitlines()[3].startswith("DO NOT CUT")  # the template is right, and ALDER is held back


def test_a_left_template_on_a_right_job_is_refused_by_its_key(shell, alder_file, made):
    held = made / "alder_TEMPLATE_LEFT_IN.dxf"
    status, out, _ = shell("template", alder_file, "--in-hand", held, "--other-side", "--json")
    (finding,) = json.loads(out)["findings"]
    assert (status, finding["code"], finding["status"]) == (1, "T802", "stop")
    assert finding["value"] > 0.4
    assert "other side" in finding["advice"]


def test_a_template_of_an_earlier_cutter_is_refused(shell, alder_file, made):
    text = alder_file.read_text(encoding="utf-8")
    alder_file.write_text(text.replace('cut_width = ".193"', 'cut_width = ".201"'), encoding="utf-8")
    status, out, _ = shell("template", alder_file, "--in-hand", made / "alder_TEMPLATE_LEFT_IN.dxf")
    assert status == 1
    assert "before the job or its cutter was changed" in out


def test_rivets_that_were_moved_since_are_told_hole_by_hole(shell, alder_file, made):
    """A row is moved by .08, its pilots are the same: eight holes lie .08 off, the others where they were."""
    text = alder_file.read_text(encoding="utf-8")
    assert text.count('"1.78"') == 2
    alder_file.write_text(text.replace('"1.78"', '"1.70"'), encoding="utf-8")
    status, out, _ = shell("template", alder_file, "--in-hand", made / "alder_TEMPLATE_LEFT_IN.dxf")
    assert status == 1
    assert "OK  T802" in out
    named = ", ".join(f"rivet {number}" for number in range(71, 79))
    assert f"{named.capitalize()}: .080 off its place." in out


def test_an_opening_that_was_moved_leaves_every_hole_off(shell, alder_file, made):
    """The window's edges are the same: only its holes tell."""
    text = alder_file.read_text(encoding="utf-8")
    moved = text.replace('center = ["5.50", "4.50"]', 'center = ["5.50", "4.51"]')
    assert moved != text
    alder_file.write_text(moved, encoding="utf-8")
    held = made / "alder_TEMPLATE_LEFT_IN.dxf"
    status, out, _ = shell("template", alder_file, "--in-hand", held, "--json")
    edges, holes = json.loads(out)["findings"]
    assert (status, edges["status"], holes["status"]) == (1, "pass", "stop")
    assert "64 of 64 differ" in holes["subject"]
    assert holes["value"] == pytest.approx(0.01)


def test_a_pilot_of_another_size_is_told_with_both_sizes(shell, alder_file, made):
    text = alder_file.read_text(encoding="utf-8").replace("[template]\n", '[template]\npin = "#51"\n')
    alder_file.write_text(text, encoding="utf-8")
    status, out, _ = shell("template", alder_file, "--in-hand", made / "alder_TEMPLATE_LEFT_IN.dxf")
    assert (status, ": .0980, not .0670." in out) == (1, True)


def test_holes_that_are_missing_or_too_many_are_named(shell, alder_file, made):
    """One pilot of the file goes to a layer that nothing reads; another lands a foot away."""
    held = made / "alder_TEMPLATE_LEFT_IN.dxf"
    drawing = ezdxf.readfile(held)
    pilots = [
        one for one in drawing.modelspace() if one.dxf.layer == "DRILL_PILOT" and one.dxftype() == "CIRCLE"
    ]
    assert len(pilots) == 64
    pilots[0].dxf.layer = "ENGRAVE"
    pilots[5].dxf.center = (20.0, -4.0)
    drawing.saveas(held)
    status, out, _ = shell("template", alder_file, "--in-hand", held)
    assert status == 1
    assert "Rivet 1, rivet 6: not in it. A hole at X 20.000 Y -4.000 of the file: not in this job." in out


def test_a_file_without_holes_cannot_be_told_from_the_right_one(shell, alder_file, made):
    held = made / "alder_TEMPLATE_LEFT_IN.dxf"
    held.write_text(held.read_text(encoding="utf-8").replace("DRILL_PILOT", "NOTES"), encoding="utf-8")
    status, out, _ = shell("template", alder_file, "--in-hand", held)
    assert status == 1
    assert "NOT SHOWN  T803  Holes in the template in hand: none to compare" in out


def test_what_stops_is_printed_and_told_by_the_exit_status(shell, alder_file, tmp_path):
    """DOGWOOD's plug leaves corners of (.625 + .25) / 2 where .300 is wanted, and its starter lies over a line."""
    dogwood = EXAMPLES / "dogwood.toml"
    status, out, err = shell("template", dogwood, "--out", tmp_path / "dogwood")
    assert (status, err) == (1, "")
    assert re.search(r"STOP .+\[T102\]", " ".join(out.split()))
    assert re.search(r"STOP .+\[T601\]", " ".join(out.split()))
    assert any(path.suffix == ".dxf" for path in (tmp_path / "dogwood").iterdir())


@pytest.mark.parametrize(
    ("name", "text", "words"),
    [
        ("none.dxf", None, "no file none.dxf"),
        ("no.dxf", "not a drawing", "not a DXF file"),
    ],
)
def test_what_is_no_template_is_refused(shell, alder_file, tmp_path, name, text, words):
    path = tmp_path / name
    if text:
        path.write_text(text, encoding="utf-8")
    status, out, err = shell("template", alder_file, "--in-hand", path)
    assert (status, out) == (2, "")
    assert words in err


def test_a_layout_is_no_template(shell, alder, alder_file, made_once, tmp_path):
    files = made_once(papers, alder, stamp=STAMP, paper=Paper.LETTER, stem="alder")
    layout = tmp_path / "layout.dxf"
    layout.write_bytes(files["alder_LAYOUT_LEFT_IN.dxf"])
    status, _, err = shell("template", alder_file, "--in-hand", layout)
    assert status == 2
    assert "no closed edge on the layer TEMPLATE" in err


def test_nothing_to_do_is_refused(shell, alder_file):
    status, out, err = shell("template", alder_file)
    assert (status, out) == (2, "Template window 5.277 x 4.277, corners R .8885.\n")  # the number he came for
    assert "--out: no folder is given" in err
