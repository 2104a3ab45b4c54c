"""Two programs on one folder of jobs, one that is killed on its way, and files that others have put there."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from hatchwright.errors import JobError
from hatchwright.job.text_file import HALF_WRITTEN, LARGEST_FILE_BYTES, load_text, save_text
from hatchwright.workflow import job_folder
from hatchwright.workflow.job_folder import EARLIER, ChangedElsewhereError, Hand, JobFolder, version_of

NAME = "a.toml"


@pytest.fixture
def place(tmp_path: Path) -> Path:
    (tmp_path / NAME).write_text("n = 0\n")
    return tmp_path


def entered(jobs: JobFolder, text: str, *, page: str = "p", serial: int = 1, step: str = "") -> str:
    """Enter a text as a page does that shows what is there."""
    return jobs.enter(NAME, Hand(page, serial, step, version_of(jobs.read(NAME))), lambda _: text)


def test_compare_and_write_are_one_step_across_programs(place: Path) -> None:
    """Each program has a folder of its own in memory: while one is between the two, the other is told to wait."""
    one, other = JobFolder(place), JobFolder(place, patience_s=0.02)

    def change(text: str) -> str:
        with pytest.raises(JobError, match="another program is writing there"):
            entered(other, "n = 2\n", page="q")
        return "n = 1\n"

    assert one.enter(NAME, Hand("p", 1, "", version_of("n = 0\n")), change) == "n = 1\n"
    with pytest.raises(ChangedElsewhereError):
        other.enter(NAME, Hand("q", 1, "", version_of("n = 0\n")), lambda _: "n = 2\n")
    assert (place / NAME).read_text() == "n = 1\n"


def test_a_page_goes_on_after_its_program_was_killed_before_it_answered(place: Path) -> None:
    base = version_of("n = 0\n")
    JobFolder(place).enter(NAME, Hand("p", 1, "s", base), lambda _: "n = 1\n")
    again = JobFolder(place)
    assert again.enter(NAME, Hand("p", 2, "s", base), lambda _: "n = 2\n") == "n = 2\n"
    assert again.undo(NAME, version_of("n = 2\n")) == "n = 0\n"  # still one step
    with pytest.raises(ChangedElsewhereError):
        again.enter(NAME, Hand("q", 1, "", version_of("n = 1\n")), lambda _: "n = 9\n")


@pytest.mark.parametrize("killed_at", range(1, 5))
def test_a_page_goes_on_wherever_its_program_was_killed(
    place: Path, monkeypatch: pytest.MonkeyPatch, killed_at: int
) -> None:
    """Each way of writing on the disk ends the program in turn; afterwards the same page enters the same again."""
    written = 0

    def counted(way):
        def write(*given):
            nonlocal written
            written += 1
            if written == killed_at:
                raise KeyboardInterrupt
            return way(*given)

        return write

    with monkeypatch.context() as dying:
        dying.setattr(os, "replace", counted(os.replace))
        dying.setattr(os, "fsync", counted(os.fsync))
        with pytest.raises(KeyboardInterrupt):
            JobFolder(place).enter(NAME, Hand("p", 1, "s", version_of("n = 0\n")), lambda _: "n = 1\n")
    jobs = JobFolder(place)
    assert jobs.read(NAME) == "n = 0\n"
    assert jobs.steps(NAME) == (0, 0)  # a text that was kept for a step that never came is none
    assert jobs.enter(NAME, Hand("p", 2, "s", version_of("n = 0\n")), lambda _: "n = 1\n") == "n = 1\n"
    assert jobs.steps(NAME) == (1, 0)


def test_what_was_undone_outlives_a_restart(place: Path) -> None:
    jobs = JobFolder(place)
    entered(jobs, "n = 1\n")
    jobs.undo(NAME, version_of("n = 1\n"))
    assert JobFolder(place).steps(NAME) == (0, 1)
    assert JobFolder(place).redo(NAME, version_of("n = 0\n")) == "n = 1\n"


@pytest.mark.parametrize(
    "foreign", ["99999999.toml", "conflict copy 00000001.toml", "00000001 (1).toml", "0.toml", "x.toml", "é"]
)
def test_what_another_program_left_among_earlier_texts_is_passed_over(place: Path, foreign: str) -> None:
    jobs = JobFolder(place)
    entered(jobs, "n = 1\n")
    stray = place / EARLIER / NAME / foreign
    stray.write_text("not ours\n")
    (place / EARLIER / NAME / "00000077.toml").mkdir()
    (place / EARLIER / NAME / "last.json").write_text("{")
    entered(jobs, "n = 2\n", serial=2)
    assert jobs.undo(NAME, version_of("n = 2\n")) == "n = 1\n"
    assert jobs.undo(NAME, version_of("n = 1\n")) == "n = 0\n"
    assert stray.read_text() == "not ours\n"


@pytest.mark.parametrize("link", [EARLIER, f"{EARLIER}/{NAME}", f"{EARLIER}/{NAME}/undone"])
@pytest.mark.parametrize("to_itself", [True, False])
def test_no_link_leads_the_steps_of_a_job_out_of_its_folder(
    place: Path, tmp_path_factory, link: str, to_itself: bool
) -> None:
    outside = tmp_path_factory.mktemp("outside")
    (place / link).parent.mkdir(parents=True, exist_ok=True)
    (place / link).symlink_to((place / link).name if to_itself else outside)
    for ask in (lambda: entered(JobFolder(place), "n = 1\n"), lambda: JobFolder(place).steps(NAME)):
        with pytest.raises(JobError, match="a link that leads elsewhere"):
            ask()
    assert not list(outside.iterdir())


@pytest.mark.parametrize("top", ["00000009.toml", "\u0660\u0660\u0660\u0660\u0660\u0660\u0661\u0661.toml"])
def test_an_earlier_text_that_was_cut_off_keeps_no_step_from_being_undone(place: Path, top: str) -> None:
    jobs = JobFolder(place)
    entered(jobs, "n = 1\n")
    (place / EARLIER / NAME / top).write_bytes(b"\xff\xfe")
    (place / EARLIER / NAME / "00000010.toml").symlink_to(place / "outside")
    assert jobs.steps(NAME) == (1, 0)
    entered(jobs, "n = 2\n", serial=2)
    assert jobs.undo(NAME, version_of("n = 2\n")) == "n = 1\n"
    assert jobs.undo(NAME, version_of("n = 1\n")) == "n = 0\n"
    assert not (place / "outside").exists()


@pytest.mark.skipif(os.name != "posix", reason="makes a pipe")
@pytest.mark.parametrize("spoilt", ["pipe", "deep", "types"])
def test_a_spoilt_note_of_the_last_step_stops_no_entry(place: Path, spoilt: str) -> None:
    jobs = JobFolder(place)
    entered(jobs, "n = 1\n")
    note = place / EARLIER / NAME / "last.json"
    if spoilt == "pipe":
        note.unlink()
        os.mkfifo(note)
    else:
        held = note.read_text().replace('"serial": 1', '"serial": "1"')
        note.write_text("[" * 100_000 if spoilt == "deep" else held)
    assert entered(jobs, "n = 2\n", serial=2) == "n = 2\n"


def test_a_backup_by_hard_links_of_the_steps_stops_no_entry_and_keeps_what_it_held(
    place: Path, tmp_path_factory
) -> None:
    jobs = JobFolder(place)
    entered(jobs, "n = 1\n")
    note = place / EARLIER / NAME / "last.json"
    backup = tmp_path_factory.mktemp("backup") / "last.json"
    os.link(note, backup)
    before = backup.read_bytes()
    entered(jobs, "n = 2\n", serial=2)
    assert backup.read_bytes() == before != note.read_bytes()


def test_nothing_is_written_that_cannot_be_read_back(place: Path) -> None:
    jobs = JobFolder(place)
    for text, why in (
        ("#" * LARGEST_FILE_BYTES, "too large to be opened again"),
        ("a = '\0'", "a text file can't hold"),
        ("a = '\udcff'", "a text file can't hold"),
    ):
        with pytest.raises(JobError, match=why):
            entered(jobs, text)
    assert jobs.read(NAME) == "n = 0\n"
    almost = "#" * (LARGEST_FILE_BYTES - 3)
    save_text(place / NAME, almost)
    assert load_text(place / NAME) == almost


@pytest.mark.parametrize("spoilt", [b"\xff\xfe", b"#" * (LARGEST_FILE_BYTES + 1)])
def test_undo_needs_no_file_that_can_be_read(place: Path, spoilt: bytes) -> None:
    jobs = JobFolder(place)
    assert jobs.spoilt(NAME) == ""
    entered(jobs, "n = 1\n")
    (place / NAME).write_bytes(spoilt)
    with pytest.raises(JobError):
        jobs.read(NAME)
    assert jobs.undo(NAME, jobs.spoilt(NAME)) == "n = 0\n"
    assert (place / EARLIER / NAME / "undone" / "00000001.toml").read_bytes() == spoilt  # nothing is lost


def test_a_link_inside_the_folder_is_written_through(place: Path) -> None:
    (place / "b.toml").symlink_to(NAME)
    jobs = JobFolder(place)
    jobs.enter("b.toml", Hand("p", 1, "", version_of("n = 0\n")), lambda _: "n = 1\n")
    assert (place / "b.toml").is_symlink()
    assert (place / NAME).read_text() == "n = 1\n"


def test_a_file_with_a_second_name_is_refused_with_the_reason(place: Path) -> None:
    os.link(place / NAME, place / "b.toml")
    jobs = JobFolder(place)
    with pytest.raises(JobError, match="hard link"):
        entered(jobs, "n = 1\n")
    assert (place / NAME).read_text() == (place / "b.toml").read_text() == "n = 0\n"
    assert jobs.steps(NAME) == (0, 0)


def test_what_was_half_written_goes_at_the_next_start_unless_somebody_is_writing(place: Path) -> None:
    jobs = JobFolder(place, patience_s=0.02)
    entered(jobs, "n = 1\n")
    left = [folder / f"{HALF_WRITTEN}x" for folder in (place, place / EARLIER / NAME)]
    for path in left:
        path.write_text("half")
    with job_folder.jobs_alone(place):
        jobs.sweep_up()
        assert all(path.exists() for path in left)
    jobs.sweep_up()
    assert not any(path.exists() for path in left)
    assert jobs.read(NAME) == "n = 1\n"


@pytest.mark.parametrize("held", [b"\xef\xbb\xbfn = 0\r\n# x\r\n", b"n = 0\r\n", b"n = 0\n"])
def test_marks_and_line_ends_of_other_editors_stay(place: Path, held: bytes) -> None:
    (place / NAME).write_bytes(held)
    entered(JobFolder(place), "n = 1\nm = 2\n")
    end = b"\r\n" if b"\r\n" in held else b"\n"
    mark = held[: held.index(b"n")]
    assert (place / NAME).read_bytes() == mark + b"n = 1" + end + b"m = 2" + end
