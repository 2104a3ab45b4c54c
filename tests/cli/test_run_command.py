"""`hatchwright run`: by whatever signal it ends, the pages that it serves end with it; it prints an address at once and
a new one at Enter, and opens a browser where there is one."""

from __future__ import annotations

import contextlib
import os
import re
import shutil
import signal
import socket
import subprocess
import sys
from http.client import HTTPConnection
from types import SimpleNamespace

import pytest

from hatchwright.cli import run
from hatchwright.web import browser
from tests.conftest import EXAMPLES
from tests.patience import PATIENCE_S, until

SIGNALS = ["SIGINT", "SIGTERM", "SIGHUP", "SIGKILL"]


@pytest.fixture
def heard():
    """No signal is ignored here, so none in what is started: who starts the tests in the background has some ignored,
    and that is inherited."""
    before = {
        number: signal.signal(number, signal.SIG_DFL)
        for number in (getattr(signal, name) for name in SIGNALS if name != "SIGKILL")
        if signal.getsignal(number) is signal.SIG_IGN
    }
    yield
    for number, handler in before.items():
        signal.signal(number, handler)


CALL = [sys.executable, "-m", "hatchwright", "run", str(EXAMPLES / "alder.toml")]


@contextlib.contextmanager
def started(tmp_path, call=CALL, **how):
    """The command in a session of its own, and the address that it prints."""
    environment = {**os.environ, "XDG_STATE_HOME": str(tmp_path / "state")}
    with subprocess.Popen(
        call, stdout=subprocess.PIPE, text=True, env=environment, start_new_session=True, **how
    ) as command:
        try:
            yield command, printed(command)
        finally:
            with contextlib.suppress(ProcessLookupError):  # nothing of it is left, as it should be
                os.killpg(command.pid, signal.SIGKILL)


def printed(command):
    """The next address that it prints."""
    return next(found[0] for line in command.stdout if (found := re.search(r"http://\S+", line)))


def port_of(address):
    return int(re.search(r"127\.0\.0\.1:(\d+)/", address)[1])


@pytest.fixture
def running(tmp_path, heard):
    """The command, and the port that it serves at."""
    with started(tmp_path) as (command, address):
        yield command, port_of(address)


def opened(address):
    """The status with which an address answers."""
    line = HTTPConnection("127.0.0.1", port_of(address), timeout=PATIENCE_S)
    line.request("GET", "/" + address.split("/", 3)[3])
    status = line.getresponse().status
    line.close()
    return status


def is_served(port):
    try:
        socket.create_connection(("127.0.0.1", port), timeout=PATIENCE_S).close()
    except ConnectionRefusedError:
        return False
    return True


@pytest.mark.skipif(os.name != "posix", reason="signals of POSIX")
@pytest.mark.parametrize("name", SIGNALS)
def test_the_server_ends_with_the_command(running, name):
    command, port = running
    assert is_served(port)
    command.send_signal(getattr(signal, name))
    command.wait(timeout=PATIENCE_S)
    until(lambda: not is_served(port), f"the end of what is served after {name}")


def test_enter_prints_a_new_address_and_the_one_before_opens_no_longer(tmp_path):
    with started(tmp_path, stdin=subprocess.PIPE) as (command, first):
        assert "Press Enter for a new address" in command.stdout.readline()
        command.stdin.write("\n")
        command.stdin.flush()
        second = printed(command)
        assert second.rpartition("/")[0] == first.rpartition("/")[0]
        assert [opened(first), opened(second), opened(second)] == [403, 302, 403]


@pytest.mark.skipif(os.name != "posix", reason="a shell of POSIX closes the input")
def test_without_an_input_it_serves_all_the_same(tmp_path):
    call = ["sh", "-c", 'exec "$@" <&-', "sh", *CALL]
    with started(tmp_path, call) as (_, address):
        assert opened(address) == 302


def test_an_input_that_is_at_its_end_ends_nothing(monkeypatch):
    """As in the background, where the input is nothing: the server would stop if its own input were closed."""
    back, to_server = os.pipe()
    with open(os.devnull) as nothing:
        monkeypatch.setattr(sys, "stdin", nothing)
        run._hand_on(to_server)
    os.write(to_server, b"still open")
    assert os.read(back, 100) == b"still open"
    os.close(to_server)
    os.close(back)


def test_a_folder_gets_the_same_address_at_each_start_and_another_while_that_is_taken(tmp_path):
    """So that a page which was left open goes on after a restart; in a folder that no other test shows meanwhile."""
    shutil.copy(EXAMPLES / "alder.toml", tmp_path)
    call = [*CALL[:-1], str(tmp_path / "alder.toml")]
    with started(tmp_path, call) as (_, first), started(tmp_path, call) as (_, beside):
        assert port_of(beside) != port_of(first)
    with started(tmp_path, call) as (_, again):
        assert again.partition("/enter/")[0] == first.partition("/enter/")[0]


UP_TO_THE_ADDRESS = """
import sys
from pathlib import Path
from hatchwright.web import server

def application(*given, **named):
    print("loaded:", *sorted(sys.modules))
    sys.exit()

server.sees_a_browser = lambda: True
server.open_in_browser = lambda address: print("opened:", address)
server.application = application
server.serve(Path(sys.argv[1]), opens_browser=True)
"""


def test_the_address_is_printed_and_opened_before_the_program_is_loaded():
    call = [sys.executable, "-c", UP_TO_THE_ADDRESS, str(EXAMPLES)]
    told = subprocess.run(call, capture_output=True, text=True, check=True).stdout
    printed, opened, loaded = told.rpartition("  http://")[2].splitlines()
    assert opened == f"opened: http://{printed}"
    large = ("django", "uvicorn", "numpy", "scipy", "pydantic", "hatchwright.tables.table")
    assert not set(large) & set(loaded.split())


@pytest.mark.parametrize(
    ("variables", "is_terminal", "sees"),
    [
        ({"DISPLAY": ":0"}, True, True),
        ({"WAYLAND_DISPLAY": "wayland-0"}, True, True),
        ({"BROWSER": "lynx"}, True, True),
        ({}, True, False),
        ({"DISPLAY": ":0"}, False, False),
        ({"DISPLAY": ":0", "CI": "true"}, True, False),
    ],
)
def test_a_browser_is_opened_where_a_person_sees_it(monkeypatch, variables, is_terminal, sees):
    for name in ("DISPLAY", "WAYLAND_DISPLAY", "BROWSER", "CI"):
        monkeypatch.delenv(name, raising=False)
    for name, value in variables.items():
        monkeypatch.setenv(name, value)
    monkeypatch.setattr(sys, "platform", "linux")
    monkeypatch.setattr(sys, "stdout", SimpleNamespace(isatty=lambda: is_terminal))
    assert browser.sees_a_browser() is sees


@pytest.mark.skipif(os.name != "posix", reason="the browser is a script of POSIX")
def test_a_browser_that_talks_and_fails_disturbs_nobody(tmp_path, monkeypatch, capfd):
    """As found by Python's `webbrowser`."""
    script, opened = tmp_path / "browser", tmp_path / "opened"
    script.write_text(f'#!/bin/sh\necho noise; echo noise >&2; echo "$@" >"{opened}.part"\n')
    with script.open("a") as lines:
        lines.write(f'mv "{opened}.part" "{opened}"; exit 1\n')
    script.chmod(0o755)
    monkeypatch.setenv("BROWSER", str(script))
    browser.open_in_browser("http://127.0.0.1:8000/")
    until(opened.exists, "the browser")
    assert opened.read_text() == "http://127.0.0.1:8000/\n"
    assert capfd.readouterr() == ("", "")
