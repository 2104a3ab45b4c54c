"""`hatchwright trial` from its sheet to the job made anew, run as a person runs it."""

from __future__ import annotations

import json
import re
import tomllib

import pypdfium2
import pytest

from hatchwright.errors import JobError
from hatchwright.job.file import load_job
from hatchwright.page.fill_in import with_unit
from hatchwright.workflow.trial import take_over, try_out

FILLED = {
    'template_x = ""': 'template_x = "3.277"',
    'template_y = ""': 'template_y = "3.277"',
    'template_uncertainty = ""': 'template_uncertainty = ".0005"',
    'gauge_limit = ""': 'gauge_limit = ".001"',
    "x = []": 'x = ["2.978", "2.977", "2.979"]',
    "y = []": 'y = ["2.977", "2.978", "2.978"]',
}


@pytest.fixture
def sheet(shell, alder_file):
    status, text, told = shell("trial", alder_file)
    assert status == 1  # the sheet is printed; the aircraft of ALDER is held back, and that is said beside it
    assert "DO NOT CUT" in told
    for empty, filled in FILLED.items():
        assert text.count(empty) == 1
        text = text.replace(empty, filled)
    path = alder_file.with_name("readings.toml")
    path.write_text(text, encoding="utf-8")
    return path


def test_sheet_tells_what_to_make(shell, alder_file):
    _, text, _ = shell("trial", alder_file, "--piece", "disc", "--size", "80 mm")
    assert "2024-T3 clad .032 in." in text
    assert f"{80 / 25.4 - 0.030 + 2 * 0.1535:.3f} in along X and Y" in text


def test_readings_give_offset_and_template(shell, alder_file, sheet):
    status, out, _ = shell("trial", alder_file, sheet, "--json")
    told = json.loads(out)
    mean = (2.978 + 2.977 + 2.979 + 2.977 + 2.978 + 2.978) / 6
    assert told["offset"]["offset_in"] == pytest.approx((3.277 - mean) / 2)
    rounding = 5e-5  # the new width of cut is entered with four decimals
    assert told["template"]["width_in"] == pytest.approx(4.970 + 3.277 - mean, abs=rounding)
    assert told["template"]["revision"] == "B"
    assert (status, told["verdicts"][0]["holds_back"]) == (1, True)  # by the job, whatever the trial says
    codes = [finding["code"] for finding in told["findings"]]
    assert codes == ["T201", "T202", "T203", "T204", "T207", "T208", "T209"]
    assert told["may_take_over"]


def test_words_for_people(shell, alder_file, sheet):
    _, out, _ = shell("trial", alder_file, sheet)
    assert "CAUTION  T201" in out
    assert "Template revision B would be 5.2692 in x 4.2692 in." in out
    assert "not approved data" in out


def test_real_width_goes_into_the_job(shell, alder_file, sheet):
    before = alder_file.read_text(encoding="utf-8")
    shell("trial", alder_file, sheet, "--take-over")
    after = load_job(alder_file)
    assert after.cutter.cut_width.text == ".2008"
    assert after.template.revision == "B"
    assert "a cut of .2008 in, not .1930 in" in after.template.reason
    assert len(set(alder_file.read_text(encoding="utf-8").splitlines()) ^ set(before.splitlines())) == 4


@pytest.mark.parametrize(
    ("before", "after", "code"),
    [
        ('template_x = "3.277"', 'template_x = "3.377"', "T208"),
        ('"2.978", "2.977", "2.979"', '"2.978", "2.977", "2.978", "2.797", "2.979"', "T209"),
        ('x = ["2.978", "2.977", "2.979"]', 'x = ["2.968", "2.967", "2.969"]', "T204"),
    ],
)
def test_a_trial_that_stops_is_not_taken_over(shell, alder_file, sheet, before, after, code):
    """A template or a width misread would go into the job by half of its error and ruin the opening."""
    text = sheet.read_text(encoding="utf-8")
    assert before in text
    sheet.write_text(text.replace(before, after), encoding="utf-8")
    job = alder_file.read_text(encoding="utf-8")
    status, out, err = shell("trial", alder_file, sheet, "--take-over")
    assert status == 1
    assert f"STOP  {code}" in out
    assert "No new template from a trial with a STOP." in out
    assert "Template revision B" not in out
    assert "not taken over, nothing written" in err
    assert code in err
    assert alder_file.read_text(encoding="utf-8") == job
    told = json.loads(shell("trial", alder_file, sheet, "--json")[1])
    assert (told["template"], told["may_take_over"], told["must_stop"]) == (None, False, True)


def test_a_job_that_was_changed_meanwhile_gets_no_offset_of_another_cutter(alder_file, sheet):
    """As by a page that entered another cutter while the command was judging."""
    report = try_out(alder_file, sheet)
    changed = alder_file.read_text(encoding="utf-8").replace('body = "1.75"', 'body = "1.80"')
    assert changed != alder_file.read_text(encoding="utf-8")
    alder_file.write_text(changed, encoding="utf-8")
    with pytest.raises(JobError, match="changed while it was being judged"):
        take_over(alder_file, report)
    assert alder_file.read_text(encoding="utf-8") == changed


def test_a_job_behind_a_link_is_written_with_nobody_else_in_its_folder(alder_file, sheet, tmp_path_factory):
    link = tmp_path_factory.mktemp("elsewhere") / "link.toml"
    link.symlink_to(alder_file)
    take_over(link, try_out(link, sheet))
    assert link.is_symlink()
    assert [path.name for path in link.parent.iterdir()] == ["link.toml"]
    assert load_job(alder_file).template.revision == "B"


def test_a_stopped_trial_is_refused_by_the_workflow_too(alder_file, sheet):
    text = sheet.read_text(encoding="utf-8").replace('template_x = "3.277"', 'template_x = "3.377"')
    sheet.write_text(text, encoding="utf-8")
    report = try_out(alder_file, sheet)
    with pytest.raises(JobError, match="T208"):
        take_over(alder_file, report)


def test_a_metric_trial_is_told_and_taken_over_in_millimeters(shell, alder_text, sheet, tmp_path):
    job = tmp_path / "mm.toml"
    job.write_text(with_unit(alder_text, "mm"), encoding="utf-8")
    _, out, _ = shell("trial", job, sheet, "--take-over")
    assert "mm" in out
    assert not re.search(r"\d in\b", out)
    cut = 0.5 - (3.277 - (2.978 + 2.977 + 2.979 + 2.977 + 2.978 + 2.978) / 6)
    after = load_job(job)
    assert after.cutter.cut_width.text.endswith(" mm")
    assert after.cutter.cut_width.mm == pytest.approx(cut * 25.4, abs=6e-4)
    assert f"a cut of {cut * 25.4:.3f} mm, not 4.902 mm" in after.template.reason


def test_wrong_unit_is_refused_and_nothing_written(shell, alder_file, sheet):
    text = sheet.read_text(encoding="utf-8").replace('"2.977", "2.979"]', '"75.6", "2.979"]')
    sheet.write_text(text, encoding="utf-8")
    before = alder_file.read_text(encoding="utf-8")
    status, out, err = shell("trial", alder_file, sheet, "--take-over")
    assert (status, out) == (2, "")
    assert "25.4 times too large" in err
    assert alder_file.read_text(encoding="utf-8") == before


@pytest.mark.parametrize(("option", "word"), [("ten", "--size"), ("0.2", "no straight sides")])
def test_a_size_that_will_not_do(shell, alder_file, option, word):
    status, _, err = shell("trial", alder_file, "--size", option)
    assert status == 2
    assert word in err


def test_the_sheet_of_a_metric_job_is_metric(shell, alder_text, tmp_path):
    (tmp_path / "mm.toml").write_text(with_unit(alder_text, "mm"), encoding="utf-8")
    status, text, _ = shell("trial", tmp_path / "mm.toml", "--size", "80")
    sheet = tomllib.loads(text)
    assert (status, sheet["units"], sheet["size"]) == (1, "mm", "80.00")
    assert "75.00" in shell("trial", tmp_path / "mm.toml")[1]


def test_the_trial_template_is_written(shell, alder_file, tmp_path):
    out = tmp_path / "shop"
    status, said, err = shell(
        "trial", alder_file, "--piece", "disc", "--out", out, "--paper", "11x17", "--json"
    )
    assert (status, err) == (1, "")
    names = sorted(path.name for path in out.iterdir())
    assert names == sorted(json.loads(said)["files"])
    assert names == [
        "alder_TRIAL_DISC_LEFT_11X17.pdf",
        "alder_TRIAL_DISC_LEFT_IN.dxf",
        "alder_TRIAL_DISC_LEFT_IN.svg",
        "alder_TRIAL_DISC_LEFT_READINGS.txt",
    ]
    printed = shell("trial", alder_file, "--piece", "disc")[1]
    assert (out / "alder_TRIAL_DISC_LEFT_READINGS.txt").read_text(encoding="utf-8") == printed


def test_the_trial_template_is_corrected_for_a_printer_that_is_off(shell, alder_file, tmp_path):
    out = tmp_path / "shop"
    bars = ("--bar-short-side", "5.95", "--bar-long-side", "153.2 mm")
    status, _, err = shell("trial", alder_file, "--out", out, "--paper", "11x17", *bars)
    assert (status, err) == (1, "")
    for page in pypdfium2.PdfDocument(out / "alder_TRIAL_SQUARE_LEFT_11X17_CORRECTED.pdf"):
        assert "SHORT SIDE x 1.00840, LONG SIDE x 0.99478" in page.get_textpage().get_text_bounded()


def test_a_piece_too_small_for_the_cutter_writes_nothing(shell, alder_file, tmp_path):
    status, out, err = shell("trial", alder_file, "--size", "0.2", "--out", tmp_path / "shop")
    assert (status, out) == (2, "")
    assert "no straight sides" in err
    assert not (tmp_path / "shop").exists()
