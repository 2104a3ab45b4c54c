"""`hatchwright template` for a printer that is off, run as a person runs it."""

from __future__ import annotations

import json

import pypdfium2
import pytest


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
    assert (status, err) == (0, "")
    (left, right) = sorted(out.glob("*_A4_CORRECTED.pdf"))
    assert left.name == "alder_TEMPLATE_LEFT_A4_CORRECTED.pdf"
    for page in words_of(left) + words_of(right):
        assert "SHORT SIDE x 1.00860, LONG SIDE x 1.00503" in page or "NOTES" in page
    assert (out / "alder_TEMPLATE_LEFT_IN.dxf").exists()


@pytest.mark.parametrize("command", ["template", "papers", "trial"])
@pytest.mark.parametrize(
    ("options", "words"),
    [
        (("--bar-short-side", "5.6", "--bar-long-side", "6"), "mend the printer"),
        (("--bar-short-side", "5.95"), "--bar-long-side: only one bar is given"),
        (("--bar-short-side", "5,95", "--bar-long-side", "6"), "--bar-short-side: a comma in an inch length"),
        (("--bar-short-side", "wide", "--bar-long-side", "6"), "--bar-short-side: this is not a length"),
        (("--bar-short-side", "-6", "--bar-long-side", "6"), "--bar-short-side: a drill is a diameter"),
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
    assert (status, err) == (0, "")
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


@pytest.fixture
def made(shell, alder_file, tmp_path):
    out = tmp_path / "shop"
    assert shell("template", alder_file, "--out", out)[0] == 0
    return out


def test_the_template_in_hand_is_that_of_its_own_job_and_side(shell, alder_file, made):
    for side, options in (("LEFT", ()), ("RIGHT", ("--other-side",))):
        status, out, _ = shell(
            "template", alder_file, "--in-hand", made / f"alder_TEMPLATE_{side}_IN.dxf", *options
        )
        assert (status, out.split()[:2]) == (0, ["OK", "T802"])


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


@pytest.mark.parametrize(
    ("name", "text", "words"),
    [
        ("none.dxf", None, "there is no file none.dxf"),
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


def test_a_layout_is_no_template(shell, alder_file, tmp_path):
    assert shell("papers", alder_file, "--out", tmp_path / "p")[0] == 0
    layout = tmp_path / "p" / "alder_LAYOUT_LEFT_IN.dxf"
    status, _, err = shell("template", alder_file, "--in-hand", layout)
    assert status == 2
    assert "no closed edge on the layer TEMPLATE" in err


def test_nothing_to_do_is_refused(shell, alder_file):
    status, out, err = shell("template", alder_file)
    assert (status, out) == (2, "")
    assert "--out: no folder is given" in err
