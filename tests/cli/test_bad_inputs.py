"""What would spoil skin or template is refused by every command that would write: told clearly, nothing written."""

from __future__ import annotations

import pytest

from tests.conftest import EXAMPLES

MACHINE = EXAMPLES / "machines" / "machine.toml"
SHOP = {
    "template": ("--out", "shop"),
    "papers": ("--out", "shop"),
    "toolpath": ("--machine", MACHINE, "--out", "shop"),
}


def changed(text, *pairs):
    for old, new in pairs:
        assert text.count(old) >= 1
        text = text.replace(old, new, 1)
    return text


def files_under(folder):
    return {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()}


@pytest.mark.parametrize("command", SHOP)
@pytest.mark.parametrize(
    ("pairs", "words"),
    [
        pytest.param(
            [('guide = ".500"', 'guide = ".180"')],
            ("cutter.guide", ".180", "smaller than the cut"),
            id="guide smaller than the cut",
        ),
        pytest.param(
            [('filing_allowance = ".015"', 'filing_allowance = "-.015"')],
            ("filing_allowance", "-.015"),
            id="negative allowance",
        ),
        pytest.param(
            [('thickness = ".125"', 'thickness = "-.125"')],
            ("template", "thickness", "-.125"),
            id="thickness",
        ),
    ],
)
def test_a_job_that_cannot_be_is_refused(shell, alder_file, tmp_path, monkeypatch, command, pairs, words):
    alder_file.write_text(changed(alder_file.read_text(encoding="utf-8"), *pairs), encoding="utf-8")
    refused(shell, tmp_path, monkeypatch, (command, alder_file, *SHOP[command]), words)


@pytest.mark.parametrize("command", ["template", "toolpath"])
@pytest.mark.parametrize(
    ("pairs", "words"),
    [
        pytest.param(
            [('guide = ".500"', 'guide = "5.2"')],
            ("T100", "cutter.guide", "wider"),
            id="collar wider than the window",
        ),
        pytest.param([('guide = ".500"', 'guide = "12.7"')], ("T100", "unit"), id="collar in the wrong unit"),
        pytest.param(
            [
                ('starter = "9/16"\n', ""),
                ('cut_width = ".193"', 'cut_width = "4.5"'),
                ('guide = ".500"', 'guide = "4.8"'),
            ],
            ("T100", "cut_width"),
            id="cut as wide as the opening",
        ),
    ],
)
def test_a_template_that_does_not_fit_is_refused(
    shell, alder_file, tmp_path, monkeypatch, command, pairs, words
):
    alder_file.write_text(changed(alder_file.read_text(encoding="utf-8"), *pairs), encoding="utf-8")
    refused(shell, tmp_path, monkeypatch, (command, alder_file, *SHOP[command]), words)


@pytest.mark.parametrize(
    ("pairs", "words"),
    [
        pytest.param(
            [('"12", "12"', '"8.3", "8.3"')],
            ("template.blank", "leaves the blank by .114"),
            id="the cutter would leave the blank",
        ),
        pytest.param([('"12", "12"', '"6", "6"')], ("template.blank", "does not fit"), id="blank too small"),
    ],
)
def test_a_path_that_would_leave_the_blank_is_refused(shell, alder_file, tmp_path, monkeypatch, pairs, words):
    """The template is 8.277 x 7.277; in a blank 8.3 wide an end mill of 1/8 reaches .125 - .0115 too far."""
    alder_file.write_text(changed(alder_file.read_text(encoding="utf-8"), *pairs), encoding="utf-8")
    refused(shell, tmp_path, monkeypatch, ("toolpath", alder_file, *SHOP["toolpath"]), words)


@pytest.mark.parametrize(
    ("x", "words"),
    [
        ('["75.6", "75.7", "75.6"]', ("25.4 times too large",)),
        ('[".1172", ".1172", ".1172"]', ("25.4 times too small",)),
        ('["-2.977", "2.978", "2.977"]', ("x",)),
    ],
)
def test_readings_in_the_wrong_unit_are_refused(shell, alder_file, tmp_path, monkeypatch, x, words):
    sheet = tmp_path / "readings.toml"
    status, text, _ = shell("trial", alder_file)
    assert status == 1
    filled = changed(
        text,
        ('template_x = ""', 'template_x = "3.277"'),
        ('template_y = ""', 'template_y = "3.277"'),
        ('template_uncertainty = ""', 'template_uncertainty = ".0005"'),
        ('gauge_limit = ""', 'gauge_limit = ".001"'),
        ("x = []", f"x = {x}"),
        ("y = []", 'y = ["2.977", "2.978", "2.978"]'),
    )
    sheet.write_text(filled, encoding="utf-8")
    refused(shell, tmp_path, monkeypatch, ("trial", alder_file, sheet, "--take-over"), words)


def refused(shell, folder, monkeypatch, arguments, words):
    """Status 2, a message with every word in it and what to do, no traceback, and no file made or changed."""
    monkeypatch.chdir(folder)
    before = files_under(folder)
    status, out, err = shell(*arguments)
    assert (status, out) == (2, "")
    assert "Refused" in err
    assert "Traceback" not in err
    for word in words:
        assert word in " ".join(err.split())
    assert files_under(folder) == before
    assert not (folder / "shop").exists()
