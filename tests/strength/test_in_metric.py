"""A metric job speaks metric wherever its strength is told: command, paper, pictures, and the words of JSON."""

from __future__ import annotations

import io
import re
from datetime import UTC, datetime
from pathlib import Path

import pytest
from click.testing import CliRunner
from pypdf import PdfReader

from hatchwright.cli.strength import command
from hatchwright.job.file import read_job
from hatchwright.said import Amount
from hatchwright.words.amounts import amount_text
from hatchwright.workflow.strength import strength_of, strength_values
from hatchwright.workflow.strength_papers import strength_papers
from tests.made_once import by_name
from tests.strength.jobs import ANSWERED, COVER, RESTORE, SYMMETRIC, running

STAMP = datetime(2026, 3, 1, 10, 0, tzinfo=UTC)

OF_AN_INCH_JOB = re.compile(
    r"\b(?:psi|ksi|lbf|lb)\b|\[in\]|\d in\b(?! (?:a|an|the|tension|shear|bearing|line)\b)"
)
"""Units of an inch job; after a figure *in* is a unit unless it begins a phrase."""

AIR_LOAD = '[loads.cover]\nair_pressure = "3.5 kPa"\nscrew_shear = "1124"\n'
GUST = running({"nx": 21.0, "ny": -7.0, "q": 10.0}, more=AIR_LOAD)


def metric(text: str) -> str:
    """The same job with its lengths marked as inches where they bear no unit, in a job of millimeters."""
    marked = re.sub(r'"(-?\d*\.?\d+)"', r'"\1 in"', text).replace('alloy = "2024 in"', 'alloy = "2024"')
    return marked.replace("\ntitle = ", '\nunits = "mm"\ntitle = ', 1)


def in_newtons(text: str) -> str:
    return re.sub(r'(n[xy]|q) = "(-?[\d.]+)"', r'\1 = "\2 N/mm"', text)


JOBS = {
    "running": metric(SYMMETRIC + COVER) + ANSWERED + in_newtons(GUST),
    "restore": metric(SYMMETRIC) + RESTORE,
    "none": metric(SYMMETRIC),
}


def inches_in(text: str) -> list[str]:
    return [text[max(0, found.start() - 40) : found.end() + 10] for found in OF_AN_INCH_JOB.finditer(text)]


@pytest.mark.parametrize("name", JOBS)
def test_the_command_tells_no_inch_no_pound_and_no_psi(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", "400")
    path = tmp_path / "metric.toml"
    path.write_text(JOBS[name], encoding="utf-8")
    for more in ((), ("--all",)):
        told = CliRunner().invoke(command, [str(path), *more])
        assert told.exit_code in (0, 1), told.output
        assert not inches_in(told.output)
        assert " mm" in told.output
        if name != "none":
            assert re.search(r"\d N\b", told.output)
            assert re.search(r"\d MPa\b", told.output)


@pytest.mark.parametrize("name", JOBS)
def test_the_report_its_pictures_and_the_words_of_json_tell_none(name: str, tmp_path: Path) -> None:
    answer = strength_of(read_job(JOBS[name], folder=tmp_path, name="metric.toml"))
    made = by_name(strength_papers(answer, stamp=STAMP, stem="metric"))
    assert (len(made) == 1) is (name == "none")
    for file, content in made.items():
        if file.endswith(".pdf"):
            text = " ".join(page.extract_text() for page in PdfReader(io.BytesIO(content)).pages)
        else:
            text = " ".join(re.findall(r">([^<>]+)<", content.decode()))
        assert not inches_in(text), file
    values = strength_values(answer)
    words = [*values["inputs"], *values["assumptions"], *values["not_analyzed"]]
    words += [line[key] for line in values["margins"] for key in ("subject", "case", "advice")]
    words += [line[key] for line in (*values["gate"], *values["findings"]) for key in ("subject", "advice")]
    assert not inches_in(" ".join(words))


def test_a_stress_and_a_running_load_are_told_in_both_units() -> None:
    """[NIST SP 811], appendix B.8: 1 lbf = 4.4482216 N and 1 in = 25.4 mm, so 1 lbf/in = 0.1751268 N/mm and 1 psi =
    6.894757 kPa."""
    assert amount_text(Amount(100.0, "lbf/in"), "mm") == "17.5 N/mm"
    assert amount_text(Amount(59_000.0, "psi"), "mm") == "406.8 MPa"
    assert amount_text(Amount(100.0, "lbf/in"), "in") == "100 lbf/in"
