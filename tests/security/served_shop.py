"""`hatchwright serve` as a shop starts it, in a process of its own."""

from __future__ import annotations

import contextlib
import os
import re
import signal
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

HOST = "127.0.0.1"
NAME = "hangar-2.example"


@dataclass(frozen=True)
class Served:
    """What it printed, its port, and where it keeps what is its own."""

    port: int
    printed: str
    state: Path

    @property
    def root(self) -> str:
        return f"https://{HOST}:{self.port}"


@contextlib.contextmanager
def served_shop(folder: Path, state: Path) -> Iterator[Served]:
    """Serve a folder in which people are named, until the end of what stands inside."""
    call = [sys.executable, "-m", "hatchwright", "serve", str(folder), "--host", HOST, "--port", "0"]
    environment = {**os.environ, "XDG_STATE_HOME": str(state)}
    with subprocess.Popen(
        [*call, "--name", NAME.title()],
        stdout=subprocess.PIPE,
        text=True,
        env=environment,
        start_new_session=True,
    ) as command:
        try:
            assert command.stdout is not None
            printed = "".join(next(command.stdout) for _ in range(3))
            found = re.search(rf"https://{re.escape(NAME)}:(\d+)/", printed)
            assert found, printed
            yield Served(int(found[1]), printed, state)
        finally:
            with contextlib.suppress(ProcessLookupError):
                os.killpg(command.pid, signal.SIGKILL)
