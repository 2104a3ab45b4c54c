"""A job in the chain without a signature: its bytes, its steps as they lie on disk, and nothing made by looking."""

from __future__ import annotations

import hashlib
from datetime import UTC, datetime
from pathlib import Path

import pytest

from hatchwright.errors import RecordError
from hatchwright.records.store import Store
from hatchwright.records.verify import verify
from hatchwright.workflow.job_folder import ChangedElsewhereError, Hand, JobFolder, version_of
from hatchwright.workflow.record import record_job, store_of
from hatchwright.workflow.revision import revision_of

EXAMPLES = Path(__file__).parents[2] / "examples"
NOW = datetime(2026, 3, 9, 14, 5, tzinfo=UTC)
NAME = "alder.toml"


@pytest.fixture
def jobs(tmp_path):
    (tmp_path / NAME).write_bytes((EXAMPLES / NAME).read_bytes())
    return JobFolder(tmp_path)


def change(jobs: JobFolder, old: str, new: str) -> None:
    """One step of work as the page makes it."""
    hand = Hand(page=new, serial=1, step="", base=version_of(jobs.read(NAME)))
    jobs.enter(NAME, hand, lambda text: text.replace(old, new))


def record(jobs: JobFolder, **how):
    return record_job(jobs, NAME, author="A. Mechanic", now=NOW, **how)


def on_disk(jobs: JobFolder) -> list[str]:
    """SHA-256 of each kept step, read from the folder by nothing but its names."""
    files = sorted((jobs.folder / ".earlier" / NAME).glob("0*.toml"))
    return [hashlib.sha256(file.read_bytes()).hexdigest() for file in files]


def test_looking_makes_no_records(jobs):
    assert store_of(jobs.folder) is None
    assert not (jobs.folder / "records").exists()


def test_the_file_and_every_step_since_the_last_record_go_in_as_bytes(jobs):
    change(jobs, '".62"', '".63"')
    change(jobs, '".63"', '".64"')
    first = record(jobs)
    assert [one["sha256"] for one in first.entry.said["steps"]] == on_disk(jobs)
    change(jobs, '".64"', '".65"')
    second = record(jobs)
    assert [one["sha256"] for one in second.entry.said["steps"]] == on_disk(jobs)[2:]
    store = Store.opened(jobs.folder)
    for entry in (first.entry, second.entry):
        for step in entry.said["steps"]:
            assert hashlib.sha256(store.kept(step["sha256"])).hexdigest() == step["sha256"]
    assert store.kept(second.entry.said["file"]["sha256"]) == (jobs.folder / NAME).read_bytes()
    assert verify(store).is_sound


def test_a_step_that_another_took_the_place_of_is_kept_too(jobs):
    """Undo frees the number of a step; the next step takes it, with other bytes."""
    change(jobs, '".62"', '".63"')
    change(jobs, '".63"', '".64"')
    first = record(jobs)
    jobs.undo(NAME, version_of(jobs.read(NAME)))
    change(jobs, '"7.00"', '"7.10"')
    jobs.undo(NAME, version_of(jobs.read(NAME)))
    jobs.undo(NAME, version_of(jobs.read(NAME)))
    change(jobs, '"6.00"', '"6.10"')
    change(jobs, '"6.10"', '"6.20"')
    second = record(jobs)
    was, now = first.entry.said["steps"][-1], second.entry.said["steps"][-1]
    assert was["number"] == now["number"]
    assert was["sha256"] != now["sha256"] == on_disk(jobs)[-1]


def test_what_was_not_changed_is_not_recorded_twice(jobs):
    first, second = record(jobs), record(jobs)
    assert (first.is_new, second.is_new) == (True, False)
    assert second.entry == first.entry
    assert record(jobs, note="before the shift ends").is_new


def test_a_job_with_faults_is_kept_as_it_is(jobs):
    broken = b"schema = 2\ntitle = unquoted\n"
    (jobs.folder / NAME).write_bytes(broken)
    entry = record(jobs).entry
    assert Store.opened(jobs.folder).kept(entry.said["file"]["sha256"]) == broken
    assert entry.said["title"] == ""


@pytest.mark.parametrize("name", ["", "  ", "A\x00B", "x" * 121])
def test_a_record_names_who_made_it(jobs, name):
    with pytest.raises(RecordError):
        record_job(jobs, NAME, author=name, now=NOW)
    assert not (jobs.folder / "records").exists()


def test_a_job_that_somebody_changed_meanwhile_is_not_recorded(jobs):
    seen = version_of(jobs.read(NAME))
    change(jobs, '".62"', '".63"')
    with pytest.raises(ChangedElsewhereError):
        record(jobs, base=seen)


def test_an_outline_beside_that_somebody_changed_meanwhile_is_seen(jobs):
    text = (jobs.folder / NAME).read_text(encoding="utf-8")
    (jobs.folder / NAME).write_text(f'{text}\n[[outlines]]\nfile = "hole.dxf"\n', encoding="utf-8")
    (jobs.folder / "hole.dxf").write_bytes(b"one")
    seen = revision_of(jobs, NAME)
    (jobs.folder / "hole.dxf").write_bytes(b"two")
    with pytest.raises(ChangedElsewhereError):
        record(jobs, base=seen.version)
    with pytest.raises(RecordError, match="was changed while"), seen.standing():
        pass
