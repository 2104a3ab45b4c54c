"""`hatchwright run`: by whatever signal it ends, the pages that it serves end with it."""

from __future__ import annotations

import contextlib
import os
import re
import signal
import socket
import subprocess
import sys
import time

import pytest

from tests.conftest import EXAMPLES

_MOST_S = 30.0


@pytest.fixture
def running(tmp_path):
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
        socket.create_connection(("127.0.0.1", port), timeout=5).close()
    except ConnectionRefusedError:
        return False
    return True


@pytest.mark.skipif(os.name != "posix", reason="signals of POSIX")
@pytest.mark.parametrize("name", ["SIGINT", "SIGTERM", "SIGHUP", "SIGKILL"])
def test_the_server_ends_with_the_command(running, name):
    command, port = running
    assert is_served(port)
    command.send_signal(getattr(signal, name))
    command.wait(timeout=_MOST_S)
    until = time.monotonic() + _MOST_S
    while is_served(port):
        assert time.monotonic() < until, f"port {port} is still served after {name}"
        time.sleep(0.1)
