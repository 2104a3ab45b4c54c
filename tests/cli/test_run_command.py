"""`hatchwright run`: by whatever signal it ends, the pages that it serves end with it."""

from __future__ import annotations

import contextlib
import os
import re
import signal
import socket
import subprocess
import sys

import pytest

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


@pytest.fixture
def running(tmp_path, heard):
    """The command in a session of its own, and the port that it serves at."""
    call = [sys.executable, "-m", "hatchwright", "run", str(EXAMPLES / "alder.toml")]
    environment = {**os.environ, "XDG_STATE_HOME": str(tmp_path / "state")}
    with subprocess.Popen(
        call, stdout=subprocess.PIPE, text=True, env=environment, start_new_session=True
    ) as command:
        try:
            printed = "".join(command.stdout.readline() for _ in range(2))
            yield command, int(re.search(r"127\.0\.0\.1:(\d+)/", printed)[1])
        finally:
            with contextlib.suppress(ProcessLookupError):  # nothing of it is left, as it should be
                os.killpg(command.pid, signal.SIGKILL)


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
