"""Lines on disk: they outlive the program, and nothing that happens to their file is ever told or stops anything."""

from __future__ import annotations

import os
import sqlite3
import stat
import threading
from contextlib import closing

import pytest

from hatchwright.web.kept_lines import KeptLines, place_of_lines


@pytest.fixture
def place(tmp_path):
    return tmp_path / "cache" / "hatchwright" / "lines.sqlite"


def test_a_line_outlives_the_program_and_only_its_user_may_read_it(place):
    KeptLines(place).put("key", "words – in “UTF-8”")
    assert KeptLines(place).get(["key", "another"]) == {"key": "words – in “UTF-8”"}
    assert stat.S_IMODE(place.stat().st_mode) == 0o600
    assert stat.S_IMODE(place.parent.stat().st_mode) & 0o077 == 0


def test_the_oldest_lines_go_first(place):
    kept = KeptLines(place, most=3)
    for number in (1, 2, 3, 1, 4):
        kept.put(f"key {number}", "line")
    for one in (kept, KeptLines(place, most=3)):
        assert set(one.get(f"key {number}" for number in range(9))) == {"key 3", "key 1", "key 4"}


@pytest.mark.parametrize(
    "content", [b"", b"\0" * 4096, b"no database\n" * 999, b"SQLite format 3\0" + b"\xff" * 999]
)
def test_a_file_that_is_spoilt_is_begun_anew(place, content):
    place.parent.mkdir(parents=True)
    place.write_bytes(content)
    kept = KeptLines(place)
    assert kept.get(["key"]) == {}
    kept.put("key", "line")
    assert KeptLines(place).get(["key"]) == {"key": "line"}


def test_pages_spoilt_within_lose_lines_and_never_change_one(place):
    keys = [f"key {number}" for number in range(300)]
    for key in keys:
        KeptLines(place).put(key, f"the line of {key} " * 20)
    whole = bytearray(place.read_bytes())
    whole[len(whole) // 3 : len(whole) // 2] = b"\xa5" * (len(whole) // 2 - len(whole) // 3)
    place.write_bytes(whole)
    kept = KeptLines(place)
    assert all(line == f"the line of {key} " * 20 for key, line in kept.get(keys).items())
    kept.put("new", "line")
    assert kept.get(["new"]) == {"new": "line"}


def test_a_line_that_was_changed_on_disk_is_passed_over(place):
    """One letter more or less is another verdict."""
    KeptLines(place).put("key", "2 STOP")
    with closing(sqlite3.connect(place)) as base, base:
        base.execute("UPDATE line SET value = '0 STOP'")
    assert KeptLines(place).get(["key"]) == {}


@pytest.mark.parametrize(
    "hindrance", ["no folder", "a file where the folder would be", "a folder where the file would be"]
)
def test_where_nothing_can_be_written_lines_are_kept_in_memory(place, hindrance):
    if hindrance == "a file where the folder would be":
        place.parent.parent.write_bytes(b"")
    elif hindrance == "a folder where the file would be":
        place.mkdir(parents=True)
    kept = KeptLines(None if hindrance == "no folder" else place)
    kept.put("key", "line")
    assert kept.get(["key"]) == {"key": "line"}
    assert KeptLines(None if hindrance == "no folder" else place).get(["key"]) == {}


@pytest.mark.skipif(os.name != "posix" or os.geteuid() == 0, reason="who may do anything is refused nothing")
def test_a_folder_that_may_not_be_written_is_left_alone(place):
    KeptLines(place).put("key", "line")
    place.parent.chmod(0o500)
    place.chmod(0o400)
    try:
        kept = KeptLines(place)
        kept.put("another", "line")
        assert kept.get(["another"]) == {"another": "line"}
    finally:
        place.parent.chmod(0o700)


def test_another_program_that_holds_the_file_stops_nothing(place, monkeypatch):
    monkeypatch.setattr("hatchwright.web.kept_lines._OTHERS_TAKE_S", 0.01)
    KeptLines(place).put("key", "line")
    with closing(sqlite3.connect(place, isolation_level=None)) as other:
        other.execute("BEGIN EXCLUSIVE")
        kept = KeptLines(place)
        assert kept.get(["key"]) == {}
        kept.put("mine", "line")
        assert kept.get(["mine"]) == {"mine": "line"}
        other.execute("ROLLBACK")
    assert kept.get(["key"]) == {"key": "line"}


def test_two_programs_that_write_at_once_lose_nothing(place):
    def write(name: str) -> None:
        kept = KeptLines(place)
        for number in range(20):
            kept.put(f"{name} {number}", name)

    writers = [threading.Thread(target=write, args=(name,)) for name in ("one", "two")]
    for writer in writers:
        writer.start()
    for writer in writers:
        writer.join()
    keys = [f"{name} {number}" for name in ("one", "two") for number in range(20)]
    assert set(KeptLines(place).get(keys)) == set(keys)


def test_the_file_stands_in_the_cache_folder_of_the_user(monkeypatch, tmp_path):
    """XDG Base Directory Specification: $XDG_CACHE_HOME, else ~/.cache; a relative path is invalid and is ignored."""
    monkeypatch.setenv("HOME", str(tmp_path))
    for given, folder in ((str(tmp_path / "c"), "c"), ("", ".cache"), ("relative", ".cache")):
        monkeypatch.setenv("XDG_CACHE_HOME", given)
        found = place_of_lines()
        assert found is not None
        assert found.parent == tmp_path / folder / "hatchwright"
