"""`hatchwright verify`: what it says, what it gives to programs, and its exit status."""

from __future__ import annotations

import json
import sqlite3
from contextlib import closing
from datetime import UTC, datetime

import pytest
from click.testing import CliRunner

from hatchwright.cli.verify import command
from hatchwright.errors import RecordError
from hatchwright.records.kinds import Kind
from hatchwright.records.store import Store

NOW = datetime(2026, 3, 9, 14, 5, tzinfo=UTC)


@pytest.fixture
def recorded(tmp_path):
    """A folder with three entries, and their heads."""
    store = Store.opened(tmp_path)
    heads = [
        store.add(Kind.REVISION, f"{n}.toml", {"n": n}, author="A. Mechanic", now=NOW).head for n in range(3)
    ]
    store.close()
    return tmp_path, heads


def verify(folder, *more: str):
    done = CliRunner().invoke(command, [str(folder), *more])
    if isinstance(done.exception, RecordError):
        raise done.exception
    return done.exit_code, done.output if "--json" in more else " ".join(done.output.split())


def past_the_program(folder, sql: str) -> None:
    with closing(sqlite3.connect(folder / "records" / "records.sqlite3")) as connection:
        connection.executescript(sql)


def test_it_says_what_it_found_and_what_to_do(recorded):
    folder, heads = recorded
    status, told = verify(folder)
    assert (status, heads[2] in told, "--head" in told) == (0, True, True)
    assert "is entry 2, as printed. 1 entry came after" in verify(folder, "--head", heads[1])[1]
    past_the_program(
        folder, "DROP TRIGGER records_entry_no_update; UPDATE records_entry SET body = '{}' WHERE seq = 2"
    )
    status, told = verify(folder)
    assert (status, "NOT SOUND" in told, "Entry 2:" in told, "restore a backup" in told) == (
        1,
        True,
        True,
        True,
    )
    assert verify(folder, "--head", "0000-0000-0000")[1].count("0000-0000-0000") == 1


def test_programs_get_the_same(recorded):
    folder, heads = recorded
    found = json.loads(verify(folder, "--json", "--head", heads[1])[1])
    assert found == {
        "sound": True, "whole": True, "entries": 3, "signed": 0, "head": heads[2], "newest": "2026-03-09T14:05:00Z",
        "printed_head": heads[1], "printed_entry": 2, "faults": [],
    }  # fmt: skip
    past_the_program(folder, "DROP TRIGGER records_entry_no_update")
    status, told = verify(folder, "--json")
    assert (status, [fault["code"] for fault in json.loads(told)["faults"]]) == (1, ["unguarded"])


def test_what_guards_the_records_is_put_back_only_around_sound_ones(recorded):
    folder, _ = recorded
    past_the_program(folder, "DROP TRIGGER records_kept_no_delete; DELETE FROM records_newest")
    status, told = verify(folder)
    assert (status, "--mend" in told, "NOT SOUND" in told) == (1, True, False)
    assert verify(folder, "--mend")[0] == 0
    assert Store.opened(folder).newest()["1.toml"] == (2, 0)
    past_the_program(folder, "DROP TRIGGER records_entry_no_delete; DELETE FROM records_entry WHERE seq = 1")
    with pytest.raises(RecordError, match="nothing can put back"):
        verify(folder, "--mend")


def test_bad_input_is_refused_and_makes_nothing(tmp_path, recorded):
    empty = tmp_path / "empty"
    empty.mkdir()
    for folder, more in ((empty, ()), (tmp_path / "none", ()), (recorded[0], ("--head", "12345"))):
        with pytest.raises(RecordError):
            verify(folder, *more)
    assert list(empty.iterdir()) == []
    (recorded[0] / "records" / "records.sqlite3").write_bytes(
        b"no database at all, but long enough to be read" * 99
    )
    with pytest.raises(RecordError, match="damaged"):
        verify(recorded[0])


def test_records_without_an_entry_are_not_called_sound(tmp_path):
    with pytest.raises(RecordError, match="no records yet"):
        verify(tmp_path)
    assert not list(tmp_path.iterdir())
    Store.opened(tmp_path).close()
    with pytest.raises(RecordError, match="hold nothing"):
        verify(tmp_path)
