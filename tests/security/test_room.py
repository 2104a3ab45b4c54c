"""Memory: what will not fit is refused before it is begun, and where it runs out the program says so in words."""

from __future__ import annotations

import errno
import re
import resource
import subprocess
import sys

import pytest

from hatchwright.cli import main as command_line
from hatchwright.errors import RoomError, out_of_memory
from hatchwright.fem import analysis, soundness
from hatchwright.room import room_mb
from hatchwright.search import sweep_work
from hatchwright.search.strength_answer import answer_of
from hatchwright.search.sweep_work import Task, do_task
from hatchwright.search.variation import Variant
from hatchwright.web.worker import Worker
from hatchwright.words.findings import advice_text
from hatchwright.words.tell import tell
from tests.conftest import EXAMPLES
from tests.strength.jobs import ANSWERED, layout_of, running

SAID = "memory ran out. Close other programs, or run the job on a machine with more memory"
ALWAYS_OUT = (
    MemoryError(),
    ImportError("x.so: failed to map segment from shared object"),
    OSError(errno.ENOMEM, ""),
)


def runs_out(*_values, **_options):
    raise MemoryError


@pytest.mark.parametrize("error", ALWAYS_OUT, ids=["of Python", "of the loader", "of the system"])
def test_a_command_that_runs_out_ends_in_words_and_with_2(error, monkeypatch, capsys):
    def command(**_options):
        raise error

    monkeypatch.setattr(command_line, "hatchwright", command)
    with pytest.raises(SystemExit) as ended:
        command_line.main()
    assert ended.value.code == 2
    out, err = capsys.readouterr()
    assert (out, err) == ("", f"Refused: {SAID}\n")


def test_another_failure_is_not_taken_for_it():
    assert out_of_memory(ImportError("no module named x")) is None
    assert out_of_memory(OSError(errno.ENOENT, "")) is None


@pytest.mark.parametrize("limit_mb", [120, 250, 400])
def test_too_low_a_limit_of_the_shell_is_refused_before_a_library_ends_the_program(limit_mb):
    """As `ulimit -v` sets it."""
    call = [sys.executable, "-m", "hatchwright", "strength", str(EXAMPLES / "juniper.toml")]
    limit = (limit_mb << 20, limit_mb << 20)
    ended = subprocess.run(
        call,
        capture_output=True,
        text=True,
        check=False,
        preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_AS, limit),
    )
    assert (ended.returncode, ended.stdout) == (2, "")
    told = (
        r"Refused: this shell leaves a program \d+ MB of memory, and a command needs 400 MB\. Raise the limit"
    )
    assert re.match(told, ended.stderr)


def test_the_page_says_so_and_its_process_starts_anew():
    worker = Worker("strength", is_kept=True)
    try:
        before = worker.ask(sum, (1, 2))
        with pytest.raises(RoomError, match=SAID):
            worker.ask(runs_out)
        assert worker._running is None  # what the process held is given back
        assert before == worker.ask(sum, (1, 2)) == 3
    finally:
        worker._end()


def test_a_sweep_ends_in_words_and_calls_no_variant_refused(monkeypatch):
    monkeypatch.setattr(sweep_work, "answer_of", runs_out)
    text = (EXAMPLES / "juniper.toml").read_text(encoding="utf-8")
    with pytest.raises(RoomError, match=SAID):
        do_task(Task(text, "", (Variant(()),), buckling=False))


def test_what_will_not_fit_is_refused_before_it_is_begun_and_the_hand_methods_stand(monkeypatch):
    monkeypatch.setattr(soundness, "room_mb", lambda: 100.0)
    monkeypatch.setattr(analysis, "patch_radii", None)  # nothing is begun
    layout = layout_of(ANSWERED, running({"nx": 100.0}))
    report = answer_of(layout).report
    (refused,) = (finding for finding in report.findings if finding.code == "S816")
    assert refused.status.holds_back
    rivets = len(layout.holes_of("rivet"))
    assert f"finite elements of {rivets} fasteners take" in tell(refused.subject)
    assert "100 MB are left" in tell(refused.subject)
    assert advice_text(refused, "in").startswith(
        "Close other programs, or run the job on a machine with more memory. The hand methods stand. Until then"
    )
    assert report.margins


def test_the_limit_of_the_shell_is_room_too(monkeypatch):
    """A process that may address 4 GB, and has some of them already, gets less than 4 GB."""
    whole = room_mb()
    monkeypatch.setattr(resource, "getrlimit", lambda _of: (4 << 30, 4 << 30))
    assert room_mb() < min(whole, 4295.0)


@pytest.mark.parametrize(("rivets", "took_mb"), [(66, 202 - 110), (327, 349 - 110), (855, 664 - 110)])
def test_more_is_asked_for_than_was_measured(rivets, took_mb):
    """Peak of `hatchwright strength` on jobs of so many rivets, less that of a job without loads [MB]."""
    assert took_mb < soundness.needed_mb(rivets) < 1.8 * took_mb
