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
        "template", alder_file, "--out", out, "--paper", "a4", "--bar-across", "151.1 mm", "--bar-up", "5.97"
    )
    assert (status, err) == (0, "")
    (left, right) = sorted(out.glob("*_A4_CORRECTED.pdf"))
    assert left.name == "alder_TEMPLATE_LEFT_A4_CORRECTED.pdf"
    for page in words_of(left) + words_of(right):
        assert "ACROSS x 1.00860, UP x 1.00503" in page or "NOTES" in page
    assert (out / "alder_TEMPLATE_LEFT_IN.dxf").exists()


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (("--bar-across", "5.6", "--bar-up", "6"), "mend the printer"),
        (("--bar-across", "5.95"), "--bar-up: only one bar is given"),
        (("--bar-across", "5,95", "--bar-up", "6"), "--bar-across: a comma in an inch length"),
        (("--bar-across", "wide", "--bar-up", "6"), "--bar-across: this is not a length"),
        (("--bar-across", "-6", "--bar-up", "6"), "--bar-across: a drill is a diameter"),
    ],
)
def test_bars_that_will_not_do_are_refused_and_nothing_is_written(
    shell, alder_file, tmp_path, options, words
):
    status, out, err = shell("template", alder_file, "--out", tmp_path / "shop", *options)
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
        assert (led["parts"], len(led["numbers"])) == (["skin", "doubler"], 64)
        assert {"T101", "T102", "T103"} <= {finding["code"] for finding in one["findings"]}
