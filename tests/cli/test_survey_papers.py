"""`hatchwright survey` on paper: an empty sheet without a job, the sheet of a job, and the drawing of its survey."""

from __future__ import annotations

import pypdfium2

from tests.conftest import EXAMPLES
from tests.drawings.test_site_view import SURVEY


def words_of(path) -> str:
    with pypdfium2.PdfDocument(path) as pdf:
        assert len(pdf) == 1
        return " ".join(pdf[0].get_textpage().get_text_range().split())


def test_an_empty_sheet_needs_no_job(shell, tmp_path):
    code, out, _ = shell("survey", "--blank", "--out", tmp_path, "--paper", "a4")
    assert code == 0
    assert "SURVEY_SHEET_BLANK_A4.pdf" in out
    assert "FIRST: IS THIS THE RIGHT BAY?" in words_of(tmp_path / "SURVEY_SHEET_BLANK_A4.pdf")
    assert shell("survey")[0] == 2


def test_the_sheet_of_a_job_has_what_is_known_and_leaves_the_rest_empty(shell, tmp_path):
    job = EXAMPLES / "birch.toml"
    assert shell("survey", job, "--out", tmp_path)[0] == 0
    words = words_of(tmp_path / "SURVEY_SHEET_RIGHT_LETTER.pdf")
    for known in ("EXAMPLE-2", "M-118", "X 8.00", "rib 6", "spar flange", "X OUTBD", "Y AFT"):
        assert known in words
    assert "6.72" not in words  # what was measured before is to be measured again


def test_a_surveyed_job_is_drawn_with_what_to_tape(shell, tmp_path):
    job = tmp_path / "wing.toml"
    alder = (EXAMPLES / "alder.toml").read_text(encoding="utf-8").partition("[as_made]")[0]
    job.write_text(alder + SURVEY, encoding="utf-8")
    shell("survey", job, "--out", tmp_path / "out")
    words = words_of(tmp_path / "out" / "SURVEY_DRAWING_LEFT_LETTER.pdf")
    assert "near: X 3.000" in words
    assert "push-pull tube" in words
    assert "10.00" in words_of(tmp_path / "out" / "SURVEY_SHEET_LEFT_LETTER.pdf")
    shell("survey", job, job, "--out", tmp_path / "both")
    assert "BOTH SIDES" in words_of(tmp_path / "both" / "SURVEY_DRAWING_BOTH_SIDES_LETTER.pdf")
