"""What was acknowledged is never lost, whatever is killed while it writes; what can't be written is told."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tempfile
import threading
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from hatchwright.errors import RecordError
from hatchwright.records import database
from hatchwright.records.kinds import Kind
from hatchwright.records.schema import alone
from hatchwright.records.store import Store, sha256_of
from hatchwright.records.verify import verify
from tests.records.conftest import MECHANIC, NOW, keep_on

ROOT = Path(__file__).parents[2]
ROUNDS = 30
"""On each database, two writers each; benchmarks/bench_records.py has a thousand."""


def killed(folder: Path, rounds: int, seed: int) -> tuple[dict[int, str], int]:
    """What writers acknowledged before they were killed, and how often they left a journal behind."""
    command = [sys.executable, "-m", "tests.records.killing", str(folder), str(rounds), str(seed)]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    *lines, last = done.stdout.splitlines()
    acknowledged = {int(seq): hash for seq, hash in (line.split() for line in lines)}
    assert len(acknowledged) == len(lines)
    return acknowledged, int(last.removeprefix("left "))


def lost(folder: Path, acknowledged: dict[int, str]) -> dict[int, str]:
    """What was acknowledged and isn't there."""
    store = Store.opened(folder)
    there = {entry.seq: entry.hash for entry in store.entries()}
    assert verify(store).is_sound
    store.close()
    return {seq: hash for seq, hash in acknowledged.items() if there.get(seq) != hash}


def add_until_refused(
    store: Store, acknowledged: dict[int, str], each: Callable[[], object] = lambda: None
) -> str:
    """Add entries with a paper each, entered where they were acknowledged; gives the id of what refuses the last."""
    try:
        while True:
            paper = os.urandom(5000)
            body, kept = {"sha256": sha256_of(paper)}, {sha256_of(paper): paper}
            entry = store.add(Kind.REVISION, "a.toml", body, author=MECHANIC, now=NOW, kept=kept)
            acknowledged[entry.seq] = entry.hash
            each()
    except RecordError as error:
        return error.what.id


def test_writers_killed_thirty_times_lose_nothing(folder, kind_of_database):
    acknowledged, left = killed(folder, ROUNDS, seed=18)
    assert lost(folder, acknowledged) == {}
    assert len(acknowledged) >= ROUNDS
    assert (left > 0) == (kind_of_database == "sqlite")  # some were hit in the midst of a writing


def test_a_server_that_crashes_and_comes_back_has_lost_nothing(server, tmp_path):
    keep_on(server, tmp_path)
    store, acknowledged, is_far = Store.opened(tmp_path), {}, threading.Event()

    def crash() -> None:
        is_far.wait()
        server.crash()

    crashing = threading.Thread(target=crash)
    crashing.start()
    refused = add_until_refused(store, acknowledged, lambda: len(acknowledged) == 20 and is_far.set())
    crashing.join()
    assert refused == "records.lost_touch"
    with pytest.raises(RecordError, match="stopped answering"):
        Store.opened(tmp_path)
    server.start()
    assert lost(tmp_path, acknowledged) == {}
    store.add(Kind.REVISION, "a.toml", {}, author=MECHANIC, now=NOW)  # the same store goes on
    assert verify(store).is_sound


def test_a_program_that_holds_the_records_is_told_and_waited_for(folder, monkeypatch):
    monkeypatch.setattr(database, "PATIENCE_S", 0.05)
    first, second = Store.opened(folder), Store.opened(folder)
    first.add(Kind.REVISION, "a.toml", {}, author=MECHANIC, now=NOW)

    def add_elsewhere() -> str:
        with pytest.raises(RecordError) as caught:
            second.add(Kind.REVISION, "a.toml", {}, author=MECHANIC, now=NOW)
        second.close()
        return caught.value.what.id

    with alone(first.connection), ThreadPoolExecutor(1) as other:
        assert other.submit(add_elsewhere).result() == "records.busy"
    assert [entry.seq for entry in first.entries()] == [1]
    second.add(Kind.REVISION, "a.toml", {}, author=MECHANIC, now=NOW)
    assert verify(first).entries == 2


def test_a_full_disk_is_told_and_nothing_is_lost(tmp_path):
    """SQLite stops at so many pages as it does where the disk has no more."""
    store = Store.opened(tmp_path)
    acknowledged = {}
    with store.connection.cursor() as cursor:
        cursor.execute("PRAGMA page_count")
        cursor.execute(f"PRAGMA max_page_count = {cursor.fetchone()[0] + 20}")
    assert add_until_refused(store, acknowledged) == "records.full"
    assert len(acknowledged) > 3
    assert lost(tmp_path, acknowledged) == {}
    assert store.last().seq == len(acknowledged)
    store.close()
    Store.opened(tmp_path).add(Kind.REVISION, "a.toml", {}, author=MECHANIC, now=NOW)


READ_ONLY = """
import os, sys
from datetime import datetime, UTC
from pathlib import Path
from hatchwright.errors import RecordError
from hatchwright.records.kinds import Kind
from hatchwright.records.store import Store
from hatchwright.records.verify import verify
folder = Path(sys.argv[1])
verify(Store.opened(folder))  # so that all is loaded while it may be
Store.opened(folder).close()
(folder / "records" / "records.sqlite3").chmod(0o444)
(folder / "records").chmod(0o555)
if os.geteuid() == 0:
    os.seteuid(65534)  # who may do anything is refused nothing
store = Store.opened(folder)
try:
    store.add(Kind.REVISION, "a.toml", {}, author="A. Mechanic", now=datetime.now(UTC))
except RecordError as error:
    print(error.what.id, verify(store).entries, verify(store).is_sound)
"""


def test_records_that_can_only_be_read_are_read_and_the_rest_is_told():
    folder = Path(tempfile.mkdtemp())
    try:
        folder.chmod(0o755)
        Store.opened(folder).add(Kind.REVISION, "a.toml", {}, author=MECHANIC, now=NOW)
        done = subprocess.run(
            [sys.executable, "-c", READ_ONLY, str(folder)], capture_output=True, text=True, check=False
        )  # fmt: skip
        assert (done.stdout, done.stderr) == ("records.read_only 1 True\n", "")
    finally:
        (folder / "records").chmod(0o755)
        shutil.rmtree(folder)


def test_a_server_that_only_lets_read_or_could_lose_is_told(server, tmp_path):
    name = keep_on(server, tmp_path)
    store = Store.opened(tmp_path)
    store.add(Kind.REVISION, "a.toml", {}, author=MECHANIC, now=NOW)
    store.close()
    server.ask(f"ALTER DATABASE {name} SET default_transaction_read_only = on")
    assert verify(Store.opened(tmp_path)).entries == 1
    with pytest.raises(RecordError) as caught:
        store.add(Kind.REVISION, "a.toml", {}, author=MECHANIC, now=NOW)
    assert caught.value.what.id == "records.read_only"
    store.close()
    server.ask(
        f"ALTER DATABASE {name} SET session_replication_role = replica"
    )  # the triggers stay, and do nothing
    with pytest.raises(RecordError, match="session_replication_role"):
        Store.opened(tmp_path)
    other = tmp_path / "latin"
    (other / database.PLACE).mkdir(parents=True)
    server.ask("CREATE DATABASE latin TEMPLATE template0 ENCODING 'LATIN1'")
    (other / database.PLACE / database.SETTING).write_text(f'database = "{server.address("latin")}"')
    with pytest.raises(RecordError, match="encoding is LATIN1"):
        Store.opened(other)
