"""The list's lines: each text is judged once, by content, beside the page, and what fails is told once."""

from __future__ import annotations

import os
import threading
from collections import Counter
from pathlib import Path

import pytest

from hatchwright.judged import Status
from hatchwright.page.job_line import JobLine, job_line
from hatchwright.page.screen import Asked
from hatchwright.tables.row import Row
from hatchwright.tables.table import ShopTables
from hatchwright.web.job_list import JobList
from hatchwright.web.kept_lines import KeptLines
from hatchwright.web.worker import Worker, WorkerError
from hatchwright.web.workers import line_beside, processor_time_of_at_most
from hatchwright.workflow.job_folder import JobFolder
from hatchwright.workings import Grade, Source
from tests.patience import PATIENCE_S, until
from web.conftest import EXAMPLES

OUTLINED = '[opening]\nshape = "dxf"\nfile = "cut.dxf"\n'


class Judge:
    """Counts what it is asked to judge, and tells the first words of each text."""

    def __init__(self, *, has_loads: bool = False, fails: str = "\0") -> None:
        self.asked: Counter[str] = Counter()
        self.order: list[tuple[str, bool]] = []
        self.has_loads = has_loads
        self.fails = fails

    def __call__(self, asked: Asked, with_strength: bool) -> JobLine:
        self.asked[asked.text] += 1
        self.order.append((asked.name, with_strength))
        if self.fails in asked.text:
            raise WorkerError.saying("page.worker_ended", where="lines")
        beside = job_line(asked, False).beside if "file =" in asked.text else {}
        lacks = self.has_loads and not with_strength
        heads = ((Status.STOP, asked.text[:20]),)
        return JobLine(
            "page.about", asked.text[:9], heads=heads, revision="A", beside=beside, lacks_strength=lacks
        )


@pytest.fixture
def jobs(tmp_path) -> JobFolder:
    (tmp_path / "jobs").mkdir()
    return JobFolder(tmp_path / "jobs")


@pytest.fixture
def place(tmp_path) -> Path:
    return tmp_path / "lines.sqlite"


def judged(
    jobs: JobFolder, judge: Judge, place: Path | None, shop: ShopTables | None = None
) -> dict[str, JobLine]:
    """The list as one start of the program shows it once it is whole."""
    shown = JobList(jobs, shop, kept=KeptLines(place), judge=judge)
    found: dict[str, JobLine | None] = {}

    def is_whole() -> bool:
        found.update(shown.lines())
        return all(line and not line.lacks_strength for line in found.values())

    until(is_whole, "the list")
    assert shown.lines() == found
    return {name: line for name, line in found.items() if line}


def fill(jobs: JobFolder, number: int) -> None:
    for one in range(number):
        (jobs.folder / f"{one:04d}.toml").write_text(f'title = "{one:04d}"\n')


def test_six_hundred_jobs_are_judged_once_and_after_a_restart_none(jobs, place):
    fill(jobs, 600)
    judge, again = Judge(), Judge()
    lines = judged(jobs, judge, place)
    assert [line.heads[0][1] for line in lines.values()] == [f'title = "{one:04d}"\n' for one in range(600)]
    assert (len(judge.asked), set(judge.asked.values())) == (600, {1})  # however often the page asked
    assert judged(jobs, again, place) == lines
    assert not again.asked


def test_a_machine_a_shelf_and_a_trial_sheet_are_no_jobs_and_a_spoilt_job_is_one(jobs, place):
    others = {
        "router.toml": (EXAMPLES / "machines" / "machine.toml").read_text(encoding="utf-8"),
        "shelf.toml": 'schema = 1\n\n[[cutters]]\nname = "nibbler"\n',
        "trial.toml": 'schema = 1\nunits = "in"\npiece = "square"\ntemplate_x = "3"\n',
    }
    kept = {
        "empty.toml": "",
        "half.toml": 'schema = 2\ntitle = "Half written\n[[tools]]\n',
        "no-aircraft.toml": 'schema = 2\ntitle = "Drain"\ntools = "none"\n',
        "of-old.toml": 'schema = 1\nname = "Drain"\n',
    }
    for name, text in (others | kept).items():
        (jobs.folder / name).write_text(text, encoding="utf-8")
    judge = Judge()
    assert judged(jobs, judge, place).keys() == kept.keys()
    assert not set(judge.asked) & set(others.values())


def test_the_same_text_under_many_names_is_judged_once(jobs, place):
    for name in ("a.toml", "b.toml", "c.toml"):
        (jobs.folder / name).write_text("title = 'Same'\n")
    judge = Judge()
    assert len(judged(jobs, judge, place)) == 3
    assert list(judge.asked.values()) == [1]


def test_a_changed_text_is_judged_alone_and_changed_back_it_is_known(jobs, place):
    fill(jobs, 5)
    before = judged(jobs, Judge(), place)
    file = jobs.folder / "0003.toml"
    was = file.read_text()
    file.write_text("title = 'Other'\n")
    judge, again = Judge(), Judge()
    after = judged(jobs, judge, place)
    assert list(judge.asked) == ["title = 'Other'\n"]
    assert [name for name in after if after[name] != before[name]] == ["0003.toml"]
    file.write_text(was)
    assert judged(jobs, again, place) == before
    assert not again.asked


def test_a_text_of_the_same_length_and_time_is_another_text(jobs, place):
    fill(jobs, 1)
    judged(jobs, Judge(), place)
    file, judge = jobs.folder / "0000.toml", Judge()
    time = file.stat().st_mtime_ns
    file.write_text('title = "0009"\n')
    os.utime(file, ns=(time, time))
    judged(jobs, judge, place)
    assert list(judge.asked) == ['title = "0009"\n']


def test_a_changed_outline_beside_is_judged_with_the_jobs_that_name_it(jobs, place):
    fill(jobs, 3)
    (jobs.folder / "0001.toml").write_text(OUTLINED)
    (jobs.folder / "cut.dxf").write_text("first")
    judged(jobs, Judge(), place)
    for content in ("other", None, "first"):
        if content is None:
            (jobs.folder / "cut.dxf").unlink()
        else:
            (jobs.folder / "cut.dxf").write_text(content)
        judge = Judge()
        judged(jobs, judge, place)
        assert list(judge.asked) == [OUTLINED]
    (jobs.folder / "another.dxf").write_text("nobody names it")
    judge = Judge()
    judged(jobs, judge, place)
    assert not judge.asked


def test_other_tables_of_the_shop_or_another_program_judge_all(jobs, place, monkeypatch):
    fill(jobs, 3)
    cells = {"key": "k", "source": "OUR-HANDBOOK", "place": "1", "edition": "2024", "basis": "shop"}
    mine = ShopTables({"rule_limits": (Row(cells, 2, Source("OUR-HANDBOOK", "1"), Grade.SHOP),)})
    for shop in (None, mine):
        judge = Judge()
        judged(jobs, judge, place, shop)
        assert len(judge.asked) == 3
    monkeypatch.setattr("hatchwright.web.job_list.program_mark", lambda: "the next program")
    judge = Judge()
    judged(jobs, judge, place)
    assert len(judge.asked) == 3


def test_no_job_waits_for_the_strength_of_another(jobs, place):
    """The first strength does not end before the last job is judged without."""
    fill(jobs, 4)
    judge, is_last = Judge(has_loads=True), threading.Event()

    def slow(asked: Asked, with_strength: bool) -> JobLine:
        if with_strength:
            assert is_last.wait(PATIENCE_S)
        line = judge(asked, with_strength)
        if asked.name == "0003.toml":
            is_last.set()
        return line

    lines = judged(jobs, slow, place)
    assert sorted(judge.order) == [(name, strength) for name in sorted(lines) for strength in (False, True)]


def test_a_job_that_gives_no_answer_is_told_once_and_keeps_nobody_waiting(jobs, place):
    fill(jobs, 5)
    judge = Judge(fails="0002")
    lines = judged(jobs, judge, place)
    assert judge.asked['title = "0002"\n'] == 1
    ((status, words),) = lines["0002.toml"].heads
    assert status is Status.UNKNOWN
    assert words.startswith("NOT SHOWN: ")
    assert [line.heads[0][0] for name, line in lines.items() if name != "0002.toml"] == [Status.STOP] * 4
    restarted = Judge()
    assert (
        judged(jobs, restarted, place)["0002.toml"].heads[0][0] is Status.STOP
    )  # a restart tries it once more
    assert list(restarted.asked) == ['title = "0002"\n']


def test_a_strength_that_gives_no_answer_leaves_the_rest_standing_and_is_not_shown(jobs, place):
    fill(jobs, 1)
    judge = Judge(has_loads=True)
    judge.fails = "\0"
    calls = []

    def fails_at_strength(asked: Asked, with_strength: bool) -> JobLine:
        calls.append(with_strength)
        if with_strength:
            raise WorkerError.saying("page.worker_ended", where="lines")
        return judge(asked, with_strength)

    shown = JobList(jobs, kept=KeptLines(place), judge=fails_at_strength)
    until(lambda: (line := shown.lines()["0000.toml"]) and not line.lacks_strength, "the line")
    (line,) = shown.lines().values()
    assert [status for status, _ in line.heads] == [Status.STOP, Status.UNKNOWN]
    assert calls == [False, True]


def test_what_cannot_be_read_says_why_at_once(jobs, tmp_path):
    """Too large, no text, a pipe that nobody writes into: nothing of them waits for a turn."""
    os.mkfifo(jobs.folder / "pipe.toml")
    (jobs.folder / "large.toml").write_bytes(b"#" * 1_000_001)
    (jobs.folder / "noise.toml").write_bytes(b"\xff\xfe\0")
    judge = Judge()
    found = JobList(jobs, kept=KeptLines(None), judge=judge).lines()
    assert {name: line and line.about for name, line in found.items()} == {
        "large.toml": "page.not_a_job",
        "noise.toml": "page.not_a_job",
        "pipe.toml": "page.not_a_job",
    }
    assert all(line and line.points[0][0] is Status.STOP for line in found.values())
    assert not judge.asked


def test_a_name_that_is_none_of_the_folder_is_refused_and_read_nowhere(jobs, tmp_path):
    (tmp_path / "secret.toml").write_text("title = 'SECRET'\n")
    judge = Judge()
    asked = ("../secret.toml", str(tmp_path / "secret.toml"), "gone.toml", "a\0b.toml")
    found = JobList(jobs, kept=KeptLines(None), judge=judge).lines(asked)
    assert [line and line.about for line in found.values()] == ["page.not_a_job"] * len(asked)
    assert not judge.asked


def test_a_line_is_the_same_after_it_lay_on_disk():
    text = (EXAMPLES / "alder.toml").read_text(encoding="utf-8")
    line = job_line(Asked(text, EXAMPLES, "alder.toml"))
    assert len(line.heads) == 2
    assert line.more > 0
    assert JobLine.unpacked(line.packed()) == line
    for spoilt in (
        "",
        "{",
        "[]",
        "null",
        "{}",
        line.packed().replace('"stop"', '"fine"'),
        '{"heads": 3, "points": []}',
    ):
        assert JobLine.unpacked(spoilt) is None


def test_loads_are_left_for_later_and_said_to_be(alder_text):
    text = (EXAMPLES / "finch.toml").read_text(encoding="utf-8")
    assert job_line(Asked(text, EXAMPLES, "finch.toml"), False).lacks_strength
    assert not job_line(Asked(alder_text, EXAMPLES, "alder.toml"), False).lacks_strength


def compute_for_ever(most_s: float) -> None:
    with processor_time_of_at_most(most_s):
        while True:
            pass


def test_what_computes_for_ever_is_ended_and_the_next_is_answered():
    worker = Worker("for ever", is_kept=True)
    with pytest.raises(WorkerError, match="ended from outside"):
        worker.ask(compute_for_ever, 0.05)
    worker.is_kept = False
    assert worker.ask(len, "next") == 4


def test_a_job_of_an_earlier_schema_is_judged_beside_the_page_as_it_would_be_here(alder_text):
    text = alder_text.replace("schema = 2", "schema = 1")
    asked = Asked(text, EXAMPLES, "alder.toml")
    assert line_beside(asked, False) == job_line(Asked(alder_text, EXAMPLES, "alder.toml"), False)
