"""The head of the records on papers as the commands make them, read back with PDFium; looking makes no records."""

from __future__ import annotations

import hashlib
import itertools
import shutil
import sqlite3
from contextlib import closing
from pathlib import Path

import pypdfium2
import pytest
from click.testing import CliRunner

from hatchwright.cli.main import hatchwright
from hatchwright.drawings.writers import Paper
from hatchwright.errors import RecordError
from hatchwright.page.made_papers import PaperChoice
from hatchwright.page.papers_version import papers_version
from hatchwright.page.screen import Asked
from hatchwright.records.database import PLACE
from hatchwright.workflow.examine import examine_file
from hatchwright.workflow.fleet_papers import LineTask, line_papers
from hatchwright.workflow.recorded_now import recorded_now
from tests.conftest import EXAMPLES
from tests.documents.test_record_papers import STAMP


@pytest.fixture
def job(tmp_path: Path) -> Path:
    folder = tmp_path / "jobs"
    folder.mkdir()
    shutil.copy(EXAMPLES / "dogwood.toml", folder)
    return folder / "dogwood.toml"


def run(*arguments: object) -> tuple[int, str]:
    done = CliRunner().invoke(hatchwright, [*map(str, arguments)])
    return done.exit_code, done.output


def printed(job: Path, out: Path) -> str:
    status, told = run("papers", job, "--only", "card,record", "--out", out, "--overwrite")
    assert status in (0, 1), told
    found = []
    for file in out.glob("dogwood_*.pdf"):
        with pypdfium2.PdfDocument(file) as pdf:
            found += [page.get_textpage().get_text_range().replace("\ufffe", "-") for page in pdf]
    return " ".join(found)


def head_by_hand(folder: Path) -> str:
    """SHA-256 over hash and signature of the newest entry, its first 12 digits by fours: docs/adr/0029-records.md."""
    with closing(sqlite3.connect(folder / PLACE / "records.sqlite3")) as database:
        ((table,),) = database.execute("SELECT name FROM sqlite_master WHERE name LIKE '%entry'").fetchall()
        newest = database.execute(f"SELECT hash, signature FROM {table} ORDER BY seq DESC").fetchone()
    digits = hashlib.sha256("".join(newest).encode()).hexdigest()
    return "-".join((digits[:4], digits[4:8], digits[8:12]))


def test_a_folder_without_records_stays_so_and_prints_no_head(job, tmp_path):
    assert "Head " not in printed(job, tmp_path / "out")
    assert [path.name for path in job.parent.iterdir()] == [job.name]


def test_papers_bear_the_head_that_the_records_have_now(job, tmp_path):
    assert run("record", job, "--name", "A. Mechanic")[0] == 0
    head = head_by_hand(job.parent)
    text = printed(job, tmp_path / "out")
    assert text.count(f"Head {head}") == text.count("CALCULATION AID")  # on every sheet


def test_records_that_cannot_be_read_print_nothing(job, tmp_path):
    assert run("record", job, "--name", "A. Mechanic")[0] == 0
    for file in (job.parent / PLACE).iterdir():
        file.write_bytes(b"no database" * 1000)
    with pytest.raises(RecordError):
        recorded_now(examine_file(job), job.parent, job.name, on=STAMP.date())
    done = CliRunner().invoke(
        hatchwright, ["papers", str(job), "--only", "card", "--out", str(tmp_path / "out")]
    )
    assert isinstance(done.exception, RecordError)
    assert not (tmp_path / "out").exists()


def test_the_pages_papers_are_made_anew_when_the_records_say_more_of_their_job(job):
    """And of no other job, and where the fleet file was changed."""
    asked = Asked(job.read_text(), job.parent, job.name)
    shutil.copy(EXAMPLES / "birch.toml", job.parent)
    seen = [papers_version(asked, PaperChoice())]
    for change in ("dogwood", "birch", "fleet"):
        if change == "fleet":
            (job.parent / "two.fleet").write_text("schema = 1\n")
        else:
            assert run("record", job.with_name(f"{change}.toml"), "--name", "A. Mechanic")[0] == 0
        seen.append(papers_version(asked, PaperChoice()))
    assert [one != other for one, other in itertools.pairwise(seen)] == [True, False, True]


def test_the_pages_papers_are_made_anew_when_the_other_side_of_the_aircraft_was_changed(job):
    """Its weight stands in the records of both."""
    (job.parent / "two.fleet").write_text(
        """
        schema = 1
        title = "Two"
        [[aircraft]]
        registration = "EXAMPLE-4"
        serial = "0004"
        lines = [{ side = "left", job = "dogwood.toml" }, { side = "right", job = "right.toml" }]
        """
    )
    asked = Asked(job.read_text(), job.parent, job.name)
    seen = papers_version(asked, PaperChoice())
    shutil.copy(job, job.with_name("right.toml"))
    assert papers_version(asked, PaperChoice()) != seen


def test_a_set_of_a_fleet_bears_it_too(job):
    assert run("record", job, "--name", "A. Mechanic")[0] == 0
    made = line_papers(LineTask("line", str(job), STAMP.timestamp(), Paper.LETTER))
    with pypdfium2.PdfDocument(made.files[0].content) as pdf:
        card = pdf[0].get_textpage().get_text_range().replace("\ufffe", "-")
    assert f"Head {head_by_hand(job.parent)}" in card


def test_what_a_fleet_file_says_for_records_is_printed_and_the_aircrafts_own_comes_first(job, tmp_path):
    (job.parent / "two.fleet").write_text(
        """
        schema = 1
        title = "Two"
        records = { address = "A. Shop, 1 Example Road", compatibility = "none earlier", major = true }
        [[aircraft]]
        registration = "EXAMPLE-4"
        serial = "0004"
        records = { make_model = "Example 1", owner = "#emph[A. Owner]", compatibility = "antenna of 2019" }
        """
    )
    text = " ".join(printed(job, tmp_path / "out").split())
    for told in ("A. Shop, 1 Example Road", "Example 1, S/N 0004, EXAMPLE-4", "#emph[A. Owner]"):
        assert told in text
    assert "antenna of 2019" in text
    assert "none earlier" not in text
