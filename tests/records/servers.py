"""A PostgreSQL server of its own, thrown away at the end: Debian's package, reached by a socket in its folder."""

from __future__ import annotations

import contextlib
import ctypes
import glob
import os
import shutil
import signal
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

from tests.patience import until

PR_SET_PDEATHSIG = 1
OWNER = "postgres"


def bin_folder() -> Path | None:
    """Where the programs of the server lie, None where there are none."""
    found = sorted(glob.glob("/usr/lib/postgresql/*/bin/initdb"))
    named = found[-1] if found else shutil.which("initdb")
    return Path(named).parent if named else None


def _as_user() -> dict[str, object]:
    """The server refuses to run as root."""
    return {"user": OWNER, "group": OWNER, "extra_groups": []} if os.geteuid() == 0 else {}


def _ends_with_us() -> None:
    if sys.platform == "linux":
        ctypes.CDLL(None).prctl(PR_SET_PDEATHSIG, signal.SIGQUIT)


class Server:
    """A running server."""

    def __init__(self, folder: Path, programs: Path) -> None:
        self.folder, self._programs = folder, programs
        self._made = 0

    def start(self) -> None:
        """Start it, and wait until it answers."""
        command = [str(self._programs / "postgres"), "-D", f"{self.folder}/data", "-k", str(self.folder)]
        options = {
            "listen_addresses": "",
            "shared_buffers": "16MB",
            "max_connections": "40",
            "autovacuum": "off",
            "recovery_init_sync_method": "syncfs",
        }
        for name, value in options.items():
            command += ["-c", f"{name}={value}"]
        log = open(self.folder / "log", "ab")  # noqa: SIM115
        self._process = subprocess.Popen(
            command, stdout=log, stderr=log, preexec_fn=_ends_with_us, cwd=self.folder, **_as_user()
        )
        log.close()
        until(self._answers, "the server")

    def crash(self) -> None:
        """End it without a word, all its processes at once, as when the power goes."""
        self._process.send_signal(signal.SIGQUIT)  # its own immediate stop: nothing is written any more
        self._process.wait()

    def ask(self, sql: str, database: str = "postgres") -> list[tuple[object, ...]]:
        """One statement, past the program."""
        import psycopg

        with psycopg.connect(
            host=str(self.folder), user=OWNER, dbname=database, autocommit=True
        ) as connection:
            cursor = connection.execute(sql)
            return cursor.fetchall() if cursor.description else []

    def new_database(self) -> str:
        """A database of its own; gives its name."""
        self._made += 1
        name = f"shop_{self._made}"
        self.ask(f"CREATE DATABASE {name} TEMPLATE template0 ENCODING 'UTF8'")
        return name

    def address(self, database: str) -> str:
        """How a shop writes it into its setting."""
        return f"postgresql://{OWNER}@{str(self.folder).replace('/', '%2F')}/{database}"

    def _answers(self) -> bool:
        import psycopg

        assert self._process.poll() is None, (self.folder / "log").read_text()
        with contextlib.suppress(psycopg.OperationalError):
            self.ask("SELECT 1")
            return True
        return False


@contextlib.contextmanager
def running(programs: Path) -> Iterator[Server]:
    """A server while it is needed."""
    folder = Path(
        tempfile.mkdtemp(prefix="hw-pg-", dir="/tmp")
    )  # a socket's path is short, and its letters small
    try:
        if os.geteuid() == 0:
            shutil.chown(folder, OWNER, OWNER)
        subprocess.run(
            [str(programs / "initdb"), "-D", f"{folder}/data", "-U", OWNER, "-A", "trust", "-E", "UTF8", "--no-locale",
             "--no-sync", "--no-instructions"],
            check=True, capture_output=True, cwd=folder, **_as_user(),
        )  # fmt: skip
        server = Server(folder, programs)
        server.start()
        try:
            yield server
        finally:
            server.crash()  # what it has is thrown away
    finally:
        shutil.rmtree(folder)
