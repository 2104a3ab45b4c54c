"""The process beside the page: one question at a time, memory given back, what nobody wants dropped, and ends told."""

from __future__ import annotations

import multiprocessing
import os
import threading
from pathlib import Path

import pytest

from hatchwright.web.worker import NICE, Worker, WorkerError
from tests.patience import until
from tests.told import remedy_of

POLL_S = 0.05


def number_of_this_process() -> int:
    return os.getpid()


def wait_for_file(begun: Path, go: Path) -> int:
    """Say that it has begun by one byte, and wait until it may go on."""
    with begun.open("ab") as file:
        file.write(b"x")
    while not go.exists():
        threading.Event().wait(POLL_S)
    return os.getpid()


def niceness() -> int:
    return os.getpriority(os.PRIO_PROCESS, 0)


def fail() -> None:
    raise KeyError("no such drill")


def processes(name: str) -> list:
    return [child for child in multiprocessing.active_children() if child.name == name]


def in_thread(do) -> tuple[threading.Thread, list]:
    answers: list = []
    thread = threading.Thread(target=lambda: answers.append(do()))
    thread.start()
    return thread, answers


@pytest.fixture
def fresh():
    return Worker("fresh for the test", is_kept=False)


@pytest.fixture
def kept():
    worker = Worker("kept for the test", is_kept=True)
    yield worker
    for process in processes(worker.name):
        process.kill()


def test_each_answer_of_a_fresh_process_gives_its_memory_back(fresh):
    numbers = [fresh.ask(number_of_this_process) for _ in range(2)]
    assert len({*numbers, os.getpid()}) == 3
    assert not processes(fresh.name)


def test_a_kept_process_answers_again(kept):
    assert kept.ask(number_of_this_process) == kept.ask(number_of_this_process) != os.getpid()


@pytest.mark.parametrize(("asked", "yields"), [(None, 19), ("", 19), ("as you like", 19), ("0", 0), ("3", 3)])
def test_a_process_yields_to_all_others_unless_it_is_told_how_far(fresh, monkeypatch, asked, yields):
    """19 is the most that POSIX systems know, so nothing is added to it."""
    monkeypatch.delenv(NICE)
    if asked is not None:
        monkeypatch.setenv(NICE, asked)
    assert fresh.ask(niceness) == min(19, niceness() + yields)


def test_a_second_question_waits_for_the_first(fresh, tmp_path):
    begun, go = tmp_path / "begun", tmp_path / "go"
    first, one = in_thread(lambda: fresh.ask(wait_for_file, begun, go))
    until(begun.exists)
    looked = threading.Event()
    second, other = in_thread(
        lambda: fresh.ask(
            wait_for_file, begun, go, is_wanted=lambda: not looked.set()
        )  # looked, and still wanted
    )
    until(looked.is_set)
    assert begun.read_bytes() == b"x"
    assert len(processes(fresh.name)) == 1
    go.touch()
    first.join()
    second.join()
    assert begun.read_bytes() == b"xx"
    assert one != other


def test_a_question_that_nobody_waits_for_is_never_begun(fresh, tmp_path):
    begun, go = tmp_path / "begun", tmp_path / "go"
    first, one = in_thread(lambda: fresh.ask(wait_for_file, begun, go))
    until(begun.exists)
    assert fresh.ask(wait_for_file, begun, go, is_wanted=lambda: False) is None
    go.touch()
    first.join()
    assert begun.read_bytes() == b"x"
    assert isinstance(one[0], int)


def test_what_was_begun_ends_when_nobody_waits_any_more(fresh, tmp_path):
    begun = tmp_path / "begun"
    assert fresh.ask(wait_for_file, begun, tmp_path / "never", is_wanted=lambda: not begun.exists()) is None
    assert not processes(fresh.name)
    assert fresh.ask(number_of_this_process) != os.getpid()


def test_a_kept_process_finishes_what_it_has_begun(kept, tmp_path):
    begun, go = tmp_path / "begun", tmp_path / "go"
    is_left = threading.Event()
    first, one = in_thread(lambda: kept.ask(wait_for_file, begun, go, is_wanted=lambda: not is_left.is_set()))
    until(begun.exists)
    is_left.set()
    go.touch()
    first.join()
    assert one == [kept.ask(number_of_this_process)]


@pytest.mark.parametrize("is_kept", [True, False])
def test_a_process_ended_from_outside_is_told_and_the_next_question_is_answered(is_kept, tmp_path):
    worker = Worker(f"ended {is_kept}", is_kept=is_kept)
    begun = tmp_path / "begun"

    def end() -> None:
        until(begun.exists)
        (process,) = processes(worker.name)
        process.kill()

    ending, _ = in_thread(end)
    with pytest.raises(WorkerError, match="ended from outside") as told:
        worker.ask(wait_for_file, begun, tmp_path / "never")
    ending.join()
    assert told.value.where == worker.name
    assert remedy_of(told.value) == "Try again"
    assert worker.ask(number_of_this_process) != os.getpid()
    for process in processes(worker.name):
        process.kill()


def test_a_fault_of_the_program_is_told_in_the_terminal_with_its_place(kept, caplog):
    with pytest.raises(WorkerError, match="the program failed here"):
        kept.ask(fail)
    (line,) = caplog.messages
    assert "KeyError: 'no such drill' at " in line
    assert Path(__file__).name in line
    assert kept.ask(number_of_this_process) != os.getpid()


def test_a_worker_that_rests_has_ended_and_answers_again_all_the_same():
    worker = Worker("resting", is_kept=True)
    first = worker.ask(os.getpid)
    worker.rest()
    with pytest.raises(ProcessLookupError):
        os.kill(first, 0)
    assert worker.ask(os.getpid) not in (first, None)
    worker.rest()
    worker.rest()  # who does not run rests already
