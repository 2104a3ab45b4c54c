"""A folder is put back as a backup holds it; nothing is replaced unverified, and nothing that was there is lost.

Outside checks: files by their bytes, the chain by SQLite alone, a program that is really ended.
"""

from __future__ import annotations

import sqlite3
import zipfile
from datetime import timedelta
from pathlib import Path

import pytest

from hatchwright.errors import RecordError
from hatchwright.records.backup import MANIFEST, unpack
from hatchwright.records.kinds import Kind
from hatchwright.records.manifest import BACKUP, Manifest, held_in
from hatchwright.records.people import Role
from hatchwright.records.store import Store
from hatchwright.records.verify import verify
from hatchwright.workflow.backup import back_up
from hatchwright.workflow.restore import restore
from tests.records.conftest import MECHANIC, NOW, Shop
from tests.records.worked import ENTRIES, files_below

LATER = NOW + timedelta(days=1)


@pytest.fixture
def backup(worked, tmp_path) -> Path:
    return back_up(worked, (tmp_path / "disk",), now=NOW).files[0]


def chain(store: Store) -> list[object]:
    return list(store.entries())


def refusal_of(*arguments, **options) -> str:
    """The id of what is refused."""
    with pytest.raises(RecordError) as refusal:
        restore(*arguments, now=LATER, **options)
    return refusal.value.what.id


def test_a_new_folder_gets_every_file_and_the_whole_chain_with_its_head(worked, shop, backup, new_folder):
    folder = new_folder()
    done = restore(backup, folder, now=LATER, printed=shop.store.head())
    assert files_below(folder) == files_below(worked)
    times = [
        {path: int((place / path).stat().st_mtime) for path in files_below(worked)}
        for place in (worked, folder)
    ]
    assert times[0] == times[1]
    back = Store.opened(folder)
    *same, note = chain(back)
    assert same == chain(shop.store)
    assert dict(back.all_kept()) == dict(shop.store.all_kept())
    assert (note.kind, note.said["restored"]["head"]) == (Kind.STORE, shop.store.head())
    assert verify(back, printed=shop.store.head()).is_sound
    assert (done.head_now, done.aside) == (back.head(), None)


def test_from_a_file_to_a_server_and_back_nothing_is_lost(worked, shop, backup, server, tmp_path):
    """A backup has one form: it moves a shop to a server, and from there into a file again."""
    there, here = tmp_path / "on-a-server", tmp_path / "in-a-file"
    (there / "records").mkdir(parents=True)
    (there / "records/database.toml").write_text(f'database = "{server.address(server.new_database())}"\n')
    restore(backup, there, now=LATER)
    second = back_up(there, (tmp_path / "second",), now=LATER).files[0]
    restore(second, here, now=LATER + timedelta(days=1))
    with sqlite3.connect(here / "records/records.sqlite3") as file:
        rows = file.execute("SELECT seq, body, signature FROM records_entry ORDER BY seq").fetchall()
    file.close()
    assert rows[:ENTRIES] == [(one.seq, one.body, one.signature) for one in shop.store.entries()]
    assert len(rows) == ENTRIES + 2
    assert not (here / "records/database.toml").exists()  # a server's address and password are in no backup


def test_what_was_there_is_refused_first_and_then_set_aside_whole(worked, shop, backup):
    (worked / "birch.toml").unlink()
    (worked / "cedar.toml").write_text("x = 1\n")
    (worked / "alder.toml").write_text("changed = 1\n")
    (worked / "notes.txt").write_text("not ours\n")
    shop.says(Kind.REVISION, "cedar.toml", {}, signs=False)
    before, entries = files_below(worked), chain(shop.store)
    assert refusal_of(backup, worked) == "backup.in_the_way"
    assert (files_below(worked), chain(shop.store)) == (before, entries)

    done = restore(backup, worked, now=LATER, overwrite=True)
    assert files_below(done.aside) == {path: held for path, held in before.items() if path != "notes.txt"}
    aside = Store.as_it_is(done.aside)
    assert chain(aside) == entries
    with zipfile.ZipFile(backup) as archive:
        assert files_below(worked).items() - {("notes.txt", b"not ours\n")} == {
            (path, archive.read(path))
            for path in archive.namelist()
            if not path.startswith(("records/", MANIFEST))
        }
    *same, note = chain(shop.store)
    assert same == entries[:ENTRIES]
    assert note.said["instead_of"] == {"entries": ENTRIES + 1, "head": entries[-1].head}
    assert verify(shop.store).is_sound


def forged(backup: Path, tmp_path: Path, *statements: str) -> Path:
    """The same backup by somebody who knows its form: he changes the chain and makes every SHA-256 and head anew."""
    stage = tmp_path / "forger"
    stage.mkdir()
    manifest = unpack(backup, stage)
    with sqlite3.connect(stage / "records/records.sqlite3") as file:
        for (trigger,) in file.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'").fetchall():
            sql = file.execute("SELECT sql FROM sqlite_master WHERE name = ?", [trigger]).fetchone()[0]
            file.execute(f"DROP TRIGGER {trigger}")
            statements = (*statements, sql)
        for statement in statements:
            file.execute(statement)
    file.close()
    store = Store.in_file(stage / "records/records.sqlite3")
    last, count = store.last(), len(chain(store))
    store.close()
    made = Manifest(
        BACKUP,
        1,
        manifest.made,
        count,
        last.head,
        last.link,
        held_in(stage, [held.path for held in manifest.files]),
    )
    with zipfile.ZipFile(tmp_path / "forged.zip", "w") as archive:
        archive.writestr(MANIFEST, made.encoded())
        for held in made.files:
            archive.write(stage / held.path, held.path)
    return tmp_path / "forged.zip"


@pytest.mark.parametrize(
    ("statement", "id"),
    [
        ("UPDATE records_entry SET body = '{}' WHERE seq = 3", "backup.unsound"),
        ("DELETE FROM records_entry WHERE seq = 2", "backup.unsound"),
        ("UPDATE records_entry SET signature = '' WHERE seq = 4", "backup.unsound"),
        ("UPDATE records_kept SET content = x'00'", "backup.unsound"),
        ("INSERT INTO django_migrations VALUES (99, 'records', '9999_new', '2026-01-01')", "records.newer_program"),
        ("CREATE TRIGGER sly AFTER INSERT ON records_entry BEGIN SELECT 1; END", "records.unguarded"),
    ],
)  # fmt: skip
def test_a_forged_backup_is_refused_and_nothing_is_changed(statement, id, worked, shop, backup, tmp_path):
    if id == "backup.unsound":
        backup = forged(backup, tmp_path, statement)
    else:
        backup = forged_schema(backup, tmp_path, statement)
    (worked / "alder.toml").write_text("x = 1\n")
    before, entries = files_below(worked), chain(shop.store)
    assert refusal_of(backup, worked, overwrite=True) == id
    assert (files_below(worked), chain(shop.store)) == (before, entries)
    assert sorted(path.name for path in worked.iterdir()) == [
        ".earlier", "alder.toml", "birch.toml", "records", "twelve.fleet"
    ]  # fmt: skip


def forged_schema(backup: Path, tmp_path: Path, statement: str) -> Path:
    """The same for what this program would not open any more: the manifest keeps its head."""
    stage = tmp_path / "forger"
    stage.mkdir()
    manifest = unpack(backup, stage)
    with sqlite3.connect(stage / "records/records.sqlite3") as file:
        file.execute(statement)
    file.close()
    paths = [held.path for held in manifest.files]
    made = Manifest(
        BACKUP, 1, manifest.made, manifest.entries, manifest.head, manifest.link, held_in(stage, paths)
    )
    with zipfile.ZipFile(tmp_path / "forged.zip", "w") as archive:
        archive.writestr(MANIFEST, made.encoded())
        for path in paths:
            archive.write(stage / path, path)
    return tmp_path / "forged.zip"


def test_a_tail_that_was_cut_off_shows_by_the_printed_head_alone(worked, shop, backup, tmp_path):
    head = shop.store.head()
    short = forged(
        backup, tmp_path, f"DELETE FROM records_entry WHERE seq = {ENTRIES}", "DELETE FROM records_newest"
    )
    assert refusal_of(short, tmp_path / "new", printed=head) == "backup.unsound"
    assert not (tmp_path / "new").exists()
    assert restore(short, tmp_path / "new", now=LATER).manifest.entries == ENTRIES - 1


def test_another_shops_backup_is_refused(worked, backup, new_folder, keys):
    other = Shop(Store.opened(new_folder()), keys)
    other.now += timedelta(hours=1)
    other.names(MECHANIC, Role.INSPECTOR, MECHANIC)
    entries = chain(other.store)
    assert refusal_of(backup, other.store.place.parent, overwrite=True) == "backup.other_shop"
    assert chain(other.store) == entries


def test_a_clock_that_stands_before_the_newest_entry_is_told_and_nothing_is_changed(worked, shop, backup):
    before, entries = files_below(worked), chain(shop.store)
    with pytest.raises(RecordError) as refusal:
        restore(backup, worked, now=NOW - timedelta(days=1), overwrite=True)
    assert refusal.value.what.id == "records.clock_back"
    assert (files_below(worked), chain(shop.store)) == (before, entries)
    assert verify(shop.store).is_sound


def spoilt(file: Path, how: str) -> None:
    """A file as a failing disk leaves it."""
    raw = bytearray(file.read_bytes())
    if how == "head":
        raw[:16] = b"nothing of ours."
    elif how == "middle":
        raw[4096 : len(raw) - 4096] = b"\xaa" * (len(raw) - 8192)
    file.write_bytes(raw[: len(raw) // 3] if how == "cut off" else raw)


@pytest.mark.parametrize("how", ["head", "middle", "cut off", "unguarded"])
def test_records_that_are_damaged_are_set_aside_as_they_are(how, worked, shop, backup, kind_of_database):
    entries = chain(shop.store)
    if how == "unguarded":
        on = "" if kind_of_database == "sqlite" else " ON records_entry"
        with shop.store.connection.cursor() as cursor:
            cursor.execute(f"DROP TRIGGER records_entry_no_update{on}")
    elif kind_of_database == "postgresql":
        return  # a server's files are not ours to damage; that it is damaged is told, and whoever runs it mends it
    shop.store.close()
    file = worked / "records/records.sqlite3"
    if how != "unguarded":
        spoilt(file, how)
    left = file.read_bytes() if file.exists() else b""
    done = restore(backup, worked, now=LATER, overwrite=True)
    back = Store.opened(worked)
    assert chain(back)[:ENTRIES] == entries
    assert verify(back).is_sound
    if how != "unguarded":
        assert (done.aside / "records/records.sqlite3").read_bytes() == left
