"""Backup, restore, export and import as a person gives them: what is told, and the exit status."""

from __future__ import annotations

import sqlite3
from datetime import UTC, datetime
from pathlib import Path

import pytest

from hatchwright.records.kinds import Kind
from hatchwright.records.store import Store


@pytest.fixture
def hangar(tmp_path, alder_text) -> Path:
    """A folder of one job that was recorded once."""
    folder = tmp_path / "hangar"
    folder.mkdir()
    (folder / "alder.toml").write_text(alder_text, encoding="utf-8")
    store = Store.opened(folder)
    store.add(Kind.REVISION, "alder.toml", {}, author="A. Mechanic", now=datetime(2026, 3, 9, tzinfo=UTC))
    store.close()
    return folder


def test_a_backup_drill_from_the_manual(shell, hangar, tmp_path):
    """`docs/records.md`: back up, restore into a new folder, compare the heads; export, import, the same head again."""
    head = Store.opened(hangar).head()
    status, out, err = shell("backup", hangar, "--out", tmp_path / "disk")
    file = Path(out.splitlines()[0])
    assert (status, "same disk" in err) == (0, True)
    assert f"1 entry, 0 signed. Head {head}" in out

    status, out, _ = shell("restore", file, tmp_path / "drill", "--head", head)
    assert status == 0
    assert f"1 entry verified and restored, head {head}" in out
    status, _, err = shell("restore", file, tmp_path / "drill")
    assert (status, "--overwrite" in err) == (2, True)
    status, out, _ = shell("restore", file, tmp_path / "drill", "--overwrite")
    assert (status, "before-restore-" in out) == (0, True)

    status, out, _ = shell("export", hangar, "--out", tmp_path / "plain")
    assert (status, f"Head {head}" in out) == (0, True)
    status, out, _ = shell("import", tmp_path / "plain", tmp_path / "again")
    assert (status, f"Head {head}, as before." in out) == (0, True)


def test_a_second_place_on_the_same_disk_is_told_too(shell, hangar, tmp_path):
    status, out, err = shell("backup", hangar, "--out", tmp_path / "disk", "--second", tmp_path / "stick")
    assert (status, "same disk" in err) == (0, True)
    assert [Path(line).parent.name for line in out.splitlines()[:2]] == ["disk", "stick"]


def test_an_outline_that_is_not_in_it_is_told(shell, hangar, tmp_path):
    """A job may read one of any name; a backup holds no files but those of its own kind."""
    for name in ("ring.dxf", "ring.txt", "no-outline.txt"):
        (hangar / name).write_text("0")
    text = '[opening]\nshape = "dxf"\nfile = "ring.{}"\n'
    (hangar / "birch.toml").write_text(text.format("dxf"))
    for command in ("backup", "export"):
        assert "NOT IN IT" not in shell(command, hangar, "--out", tmp_path / command)[2]
    (hangar / "birch.toml").write_text(text.format("txt"))
    for command in ("backup", "export"):
        status, _, err = shell(command, hangar, "--out", tmp_path / f"{command}-2")
        assert (status, "NOT IN IT: ring.txt." in err) == (0, True)


def test_records_that_are_not_sound_are_backed_up_and_told(shell, hangar, tmp_path):
    with sqlite3.connect(hangar / "records/records.sqlite3") as file:
        sql = "SELECT sql FROM sqlite_master WHERE name = 'records_entry_no_update'"
        trigger = file.execute(sql).fetchone()[0]
        file.execute("DROP TRIGGER records_entry_no_update")
        file.execute("UPDATE records_entry SET author = 'C. Forger'")
        file.execute(trigger)
    file.close()
    status, out, err = shell("backup", hangar, "--out", tmp_path / "disk")
    assert (status, "NOT SOUND" in err, "Entry 1: " in err) == (1, True, True)
    status, _, err = shell("restore", out.splitlines()[0], tmp_path / "new")
    assert (status, "not sound" in err) == (2, True)
    assert not (tmp_path / "new").exists()
    assert shell("export", hangar, "--out", tmp_path / "plain")[0] == 1
    assert shell("import", tmp_path / "plain", tmp_path / "new")[0] == 2


def test_a_folder_without_records_is_backed_up_without_making_any(shell, tmp_path):
    folder = tmp_path / "jobs"
    folder.mkdir()
    (folder / "alder.toml").write_text("x = 1\n")
    status, out, _ = shell("backup", folder, "--out", tmp_path / "disk")
    assert (status, "Nothing has been recorded" in out) == (0, True)
    assert shell("restore", out.splitlines()[0], tmp_path / "new")[0] == 0
    assert (tmp_path / "new/alder.toml").read_text() == "x = 1\n"
    assert not (folder / "records").exists()
    assert not (tmp_path / "new/records").exists()


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (("backup", "{}/none", "--out", "{}/disk"), "no such folder"),
        (("restore", "{}/none.zip", "{}/new"), "No such file"),
        (("restore", "{}/a.txt", "{}/new"), "damaged or cut off"),
        (("restore", "{}", "{}/new"), "Is a directory"),
        (("import", "{}/none", "{}/new"), "no export"),
        (("import", "{}", "{}/new"), "no export"),
        (("backup", "{}", "--out", "{}/disk"), "no jobs, no fleets"),
        (("export", "{}/none", "--out", "{}/plain"), "no such folder"),
    ],
)
def test_what_is_not_there_is_refused_in_words(arguments, told, shell, tmp_path):
    (tmp_path / "a.txt").write_text("not a backup\n")
    status, _, err = shell(*(one.replace("{}", str(tmp_path)) for one in arguments))
    assert (status, told in err) == (2, True), err
    assert sorted(path.name for path in tmp_path.iterdir()) == ["a.txt"]
