"""A folder is put back as a backup holds it; nothing is replaced unverified, and nothing that was there is lost.

Outside checks: files by their bytes, the chain by SQLite alone, a program that is really ended.
"""

from __future__ import annotations

import os
import resource
import shutil
import signal
import sqlite3
import sys
import tempfile
import warnings
import zipfile
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from hatchwright.errors import HatchwrightError, RecordError
from hatchwright.records.backup import MANIFEST, unpack
from hatchwright.records.kinds import Kind
from hatchwright.records.manifest import BACKUP, Manifest, held_in
from hatchwright.records.people import Role
from hatchwright.records.store import Store
from hatchwright.records.verify import verify
from hatchwright.workflow.backup import back_up
from hatchwright.workflow.people import people_of
from hatchwright.workflow.record import store_of
from hatchwright.workflow.restore import restore
from hatchwright.workflow.verify import verify_folder
from tests.records.conftest import MECHANIC, NOW, Shop
from tests.records.worked import ENTRIES, files_below, writing_in

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


def forged(backup: Path, tmp_path: Path, *statements: str, is_opened: bool = True) -> Path:
    """The same backup by somebody who knows its form: he changes the chain and makes every SHA-256 and head anew.

    Args:
        is_opened: False for what this program would not open any more: the head stays.
    """
    stage = Path(tempfile.mkdtemp(dir=tmp_path))
    was = unpack(backup, stage)
    with sqlite3.connect(stage / "records/records.sqlite3") as file:
        triggers = file.execute("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'").fetchall()
        down = [f"DROP TRIGGER {name}" for name, _ in triggers]
        for statement in (*down, *statements, *(sql for _, sql in triggers)):
            file.execute(statement)
    file.close()
    head, link, count = was.head, was.link, was.entries
    if is_opened:
        store = Store.in_file(stage / "records/records.sqlite3")
        head, link, count = store.head(), store.last().link, len(chain(store))
        store.close()
    held = held_in(stage, [one.path for one in was.files])
    with zipfile.ZipFile(stage / "forged.zip", "w") as archive:
        archive.writestr(MANIFEST, Manifest(BACKUP, 1, was.made, count, head, link, held).encoded())
        for one in held:
            archive.write(stage / one.path, one.path)
    return stage / "forged.zip"


FORGED = (
    "UPDATE records_entry SET body = '{}' WHERE seq = 3",
    "DELETE FROM records_entry WHERE seq = 2",
    "UPDATE records_entry SET signature = '' WHERE seq = 4",
    "UPDATE records_kept SET content = x'00'",
)
UNOPENED = {
    "records.newer_program": "INSERT INTO django_migrations VALUES (99, 'records', '9999_new', '2026-01-01')",
    "records.unguarded": "CREATE TRIGGER sly AFTER INSERT ON records_entry BEGIN SELECT 1; END",
}


def test_a_forged_backup_is_refused_and_nothing_is_changed(worked, shop, backup, tmp_path):
    (worked / "alder.toml").write_text("x = 1\n")
    before, entries = files_below(worked), chain(shop.store)
    tried = [(forged(backup, tmp_path, one), "backup.unsound") for one in FORGED]
    tried += [(forged(backup, tmp_path, one, is_opened=False), id) for id, one in UNOPENED.items()]
    for file, id in tried:
        assert refusal_of(file, worked, overwrite=True) == id
        assert (files_below(worked), chain(shop.store)) == (before, entries)
        assert not [path.name for path in worked.iterdir() if path.name.startswith((".restoring", "before-"))]


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


@pytest.mark.parametrize("kind_of_database", ["sqlite"])
def test_records_that_are_damaged_are_set_aside_as_they_are(worked, shop, backup):
    """A server's files are whoever runs it's to mend."""
    entries, file = chain(shop.store), worked / "records/records.sqlite3"
    shop.store.close()
    for day, how in enumerate(("head", "middle", "cut off")):
        spoilt(file, how)
        left = file.read_bytes()
        with pytest.raises(RecordError):
            restore(backup, worked, now=NOW - timedelta(days=9), overwrite=True)
        assert file.read_bytes() == left
        done = restore(backup, worked, now=LATER + timedelta(days=day), overwrite=True)
        assert (done.aside / "records/records.sqlite3").read_bytes() == left
        assert done.head_now == Store.opened(worked).head()
        back = Store.opened(worked)
        assert chain(back)[:ENTRIES] == entries
        assert verify(back).is_sound
        back.close()


def test_records_whose_guards_somebody_took_away_are_set_aside_and_guarded_again(worked, shop, backup):
    entries = chain(shop.store)
    on = " ON records_entry" if shop.store.connection.vendor == "postgresql" else ""
    with shop.store.connection.cursor() as cursor:
        cursor.execute(f"DROP TRIGGER records_entry_no_update{on}")
        cursor.execute("UPDATE records_entry SET author = 'C. Forger' WHERE seq = 3")
    assert refusal_of(backup, worked) == "backup.in_the_way"
    done = restore(backup, worked, now=LATER, overwrite=True)
    assert [entry.author for entry in Store.as_it_is(done.aside).entries()][2] == "C. Forger"
    assert chain(Store.opened(worked))[:ENTRIES] == entries


def test_what_another_program_records_during_a_restore_is_there_or_set_aside(worked, shop, backup):
    with writing_in(worked) as said:
        acknowledged = [next(said)]
        done = restore(backup, worked, now=datetime.now(UTC), overwrite=True)
        acknowledged += [next(said) for _ in range(3)]
    found = {
        f"{entry.seq} {entry.hash}"
        for store in (shop.store, Store.as_it_is(done.aside))
        for entry in store.entries()
    }
    assert set(acknowledged) <= found
    assert verify(shop.store).is_sound


STEPS = {
    "open",
    "os.rename",
    "os.mkdir",
    "os.remove",
    "os.rmdir",
    "os.utime",
    "sqlite3.connect",
    "shutil.rmtree",
}
"""What a program asks of the system on its way: it is ended before one of these."""


def ended_at(step: int, backup: Path, folder: Path) -> bool:
    """Restore in a process of its own that is killed before one of its steps; whether it came to its end before."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # of threads that the runner of the tests may have
        child = os.fork()
    if child:
        return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == 0
    left = iter(range(step))

    def kill(event: str, _arguments: object) -> None:
        if event in STEPS and next(left, None) is None:
            os.kill(os.getpid(), signal.SIGKILL)

    try:
        sys.addaudithook(kill)
        restore(backup, folder, now=LATER, overwrite=True)
    finally:
        os._exit(0)


@pytest.mark.parametrize("kind_of_database", ["sqlite"])
def test_a_restore_that_is_killed_anywhere_loses_nothing_and_is_ended_by_the_next(
    worked, shop, backup, tmp_path
):
    shop.says(Kind.REVISION, "alder.toml", {}, signs=False)
    (worked / "alder.toml").write_text("x = 1\n")
    (worked / "cedar.toml").write_text("x = 2\n")
    before, entries = files_below(worked), chain(shop.store)
    shop.store.close()
    with zipfile.ZipFile(backup) as archive:
        names = [path for path in archive.namelist() if not path.startswith(("records/", MANIFEST))]
        backed_up = {path: archive.read(path) for path in names}
    step, is_ended = 0, False
    while not is_ended:
        folder = tmp_path / f"killed-{step}"
        shutil.copytree(worked, folder)
        is_ended = ended_at(step, backup, folder)
        step += 3
        restore(backup, folder, now=LATER + timedelta(days=1), overwrite=True)
        asides = list(folder.glob("before-*"))
        there = [files_below(place) for place in asides]
        for path, held in before.items():
            assert any(one.get(path) == held for one in there), (step, path)
        assert {
            path: held for path, held in files_below(folder).items() if path != ".earlier/lock"
        } == backed_up
        chains = [
            chain(Store.as_it_is(place)) for place in asides if (place / "records/records.sqlite3").exists()
        ]
        assert any(one[: len(entries)] == entries for one in chains), step
        assert chain(Store.opened(folder))[:ENTRIES] == entries[:ENTRIES]
        assert not list(folder.glob(".restoring-*"))
    assert step > 60


@pytest.mark.parametrize("kind_of_database", ["sqlite"])
def test_a_disk_that_takes_no_more_is_told_and_nothing_is_changed(worked, shop, backup, tmp_path):
    """No file may grow beyond a size: the system refuses as a full disk does."""
    before, entries = files_below(worked), chain(shop.store)
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    whole = (worked / "records/records.sqlite3").stat().st_size
    for most_bytes in (100, 5_000, whole // 2, whole - 1):
        resource.setrlimit(resource.RLIMIT_FSIZE, (most_bytes, hard))
        try:
            with pytest.raises(HatchwrightError):
                restore(backup, worked, now=LATER, overwrite=True)
            with pytest.raises(HatchwrightError):
                back_up(worked, (tmp_path / "full",), now=LATER)
        finally:
            resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))
        assert (files_below(worked), chain(shop.store)) == (before, entries)
        assert not [path for path in (tmp_path / "full").glob("**/*") if path.is_file()]
    assert restore(backup, worked, now=LATER, overwrite=True).manifest.entries == ENTRIES


def test_records_that_got_lost_are_told_and_followed_by_a_restore_alone(
    worked, shop, backup, kind_of_database, request
):
    """Somebody takes the file of the database for rubbish, or makes the database of a server anew."""
    entries, place = chain(shop.store), worked / "records"
    shop.store.close()
    if kind_of_database == "sqlite":
        (place / "records.sqlite3").unlink()
    else:
        server = request.getfixturevalue("server")
        (place / "database.toml").write_text(f'database = "{server.address(server.new_database())}"\n')
    looks = (
        Store.opened,
        lambda folder: back_up(folder, (folder / "nightly",), now=LATER),
        people_of,
        store_of,
    )
    for look in looks:
        with pytest.raises(RecordError) as refusal:
            look(worked)
        assert refusal.value.what.id == "records.gone"
    with pytest.raises(RecordError):  # none there, where a server's tables were never made
        verify_folder(worked)
    if kind_of_database == "sqlite":
        assert not (place / "records.sqlite3").exists()  # looking makes none
    restore(backup, worked, now=LATER, overwrite=True)
    assert chain(Store.opened(worked))[:-1] == entries
