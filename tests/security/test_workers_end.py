"""Workers end with the program that they work for, by whatever signal it ends and whatever they are doing.

A process that is started inherits the output of its parent, so a test knows that all of them are gone, the workers and
what `multiprocessing` itself starts, when that output ends.
"""

from __future__ import annotations

import contextlib
import os
import re
import shutil
import signal
import subprocess
import sys
import threading
from collections.abc import Callable, Iterator
from pathlib import Path
from urllib.request import HTTPCookieProcessor, OpenerDirector, build_opener

import pytest

from hatchwright.job.text_file import load_text
from hatchwright.workflow.job_folder import version_of
from tests.conftest import EXAMPLES
from tests.patience import PATIENCE_S, until
from tests.strength.jobs import ANSWERED, RESTORE, SYMMETRIC

pytestmark = pytest.mark.skipif(os.name != "posix", reason="signals of POSIX")

ROOT = Path(__file__).parents[2]
IN_BACKGROUND = ["sh", "-c", "trap '' INT HUP; exec \"$@\"", "sh"]
"""Starts a program as a shell without job control starts it in the background, and as nohup does."""


@contextlib.contextmanager
def started(*call: str, **environment: str) -> Iterator[subprocess.Popen[str]]:
    """A program in a session of its own, of which nothing is left afterwards."""
    paths = os.pathsep.join([str(ROOT), os.environ.get("PYTHONPATH", "")])
    with subprocess.Popen(
        call,
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        env={**os.environ, "PYTHONPATH": paths, **environment},
        start_new_session=True,
    ) as program:
        try:
            yield program
        finally:
            with contextlib.suppress(ProcessLookupError):
                os.killpg(program.pid, signal.SIGKILL)


def end_of(program: subprocess.Popen[str]) -> tuple[str, str]:
    """What was still printed when the last process that has this output is gone."""
    return program.communicate(timeout=PATIENCE_S)


def let_in(program: subprocess.Popen[str]) -> tuple[OpenerDirector, Callable[[str], str]]:
    """A browser that came through the address which a program prints, and the address of what it may ask for."""
    assert program.stdout is not None
    door = next(found[0] for line in program.stdout if (found := re.search(r"http://\S+", line)))
    browser = build_opener(HTTPCookieProcessor())
    browser.open(door).close()
    return browser, lambda of_job: f"{door.partition('/enter')[0]}/job/{of_job}"


def status_of(browser: OpenerDirector, address: str) -> int:
    try:
        with browser.open(address) as answer:
            return int(answer.status)
    except OSError:  # the program has gone
        return 0


def working(kind: str, *more: str) -> list[str]:
    return [sys.executable, "-m", "tests.security.long_work", kind, *more]


@pytest.mark.parametrize(("kind", "workers"), [("pool", 2), ("page", 1)])
def test_workers_in_the_middle_of_a_calculation_end_with_a_killed_parent(kind: str, workers: int) -> None:
    with started(*IN_BACKGROUND, *working(kind)) as program:
        assert program.stdout is not None
        for _ in range(workers):
            assert program.stdout.readline() == "begun\n"
        program.kill()
        end_of(program)


def lines_of(table: Path) -> int:
    return table.read_text(encoding="utf-8").count("\n") if table.exists() else 0


def test_a_sweep_in_the_background_is_stopped_by_sigterm_and_keeps_what_is_done(tmp_path: Path) -> None:
    job, out = tmp_path / "job.toml", tmp_path / "out"
    job.write_text(SYMMETRIC + ANSWERED + RESTORE, encoding="utf-8")
    vary = ["--vary", "doubler.thickness=.032:.050", "--vary", "rows.count=6,8"]
    sweep = working("sweep", str(job), *vary, "--processes", "1", "--out", str(out))
    with started(*IN_BACKGROUND, *sweep) as program:
        assert program.stdout is not None
        assert program.stdout.readline() == "begun\n"
        until(lambda: lines_of(out / "sweep.csv") == 4, "the rows that are done")
        for name in ("SIGINT", "SIGHUP", "SIGTERM"):  # the first two are ignored
            program.send_signal(getattr(signal, name))
        _, said = end_of(program)
    assert program.returncode == 1
    assert re.search(r"Stopped: \d of 6 done. The same command continues.", said)
    assert "Traceback" not in said
    assert lines_of(out / "sweep.csv") == 4


def test_a_request_that_takes_for_ever_delays_no_other_job_and_not_the_end(tmp_path: Path) -> None:
    for name in ("long.toml", "other.toml"):
        shutil.copy(EXAMPLES / "dogwood.toml", tmp_path / name)
    serve = working("served", "--folder", str(tmp_path), "--until-input-closes", "--job", "other.toml")
    with started(*serve, XDG_STATE_HOME=str(tmp_path)) as program:
        browser, address = let_in(program)
        asking = threading.Thread(target=lambda: status_of(browser, address("long.toml/text")), daemon=True)
        asking.start()
        assert program.stdout is not None
        assert "begun\n" in program.stdout
        assert status_of(browser, address("other.toml/text")) == 200
        _, said = end_of(program)  # closes its input
        asking.join()
    assert program.returncode == 0
    assert "Traceback" not in said


def test_the_page_and_its_workers_end_with_a_command_that_is_killed(tmp_path: Path) -> None:
    call = [sys.executable, "-m", "hatchwright", "run", str(EXAMPLES / "dogwood.toml")]
    version = version_of(load_text(EXAMPLES / "dogwood.toml"))
    with started(*call, XDG_STATE_HOME=str(tmp_path)) as program:
        browser, address = let_in(program)
        # by a worker, which waits for the next question
        assert status_of(browser, address(f"dogwood.toml/judged?version={version}")) == 200
        program.kill()
        end_of(program)
