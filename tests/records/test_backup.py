"""A backup is one sound file while others write, and a damaged, cut off or tricked one is refused.

Outside checks: Python's `zipfile`, `hashlib` and `sqlite3`, which read the backup without a line of this program.
"""

from __future__ import annotations

import hashlib
import json
import sqlite3
import warnings
import zipfile
from pathlib import Path

import pytest

from hatchwright.errors import RecordError
from hatchwright.records.backup import MANIFEST, pack, unpack
from hatchwright.records.manifest import BACKUP, HeldFile, Manifest, held_in
from hatchwright.records.store import sha256_of
from hatchwright.workflow.backup import HEADS, back_up
from hatchwright.workflow.plain_files import export, take_in
from hatchwright.workflow.restore import restore
from tests.records.conftest import NOW
from tests.records.worked import files_below, writing_in


def entries_read_by_hand(file: Path) -> list[tuple[object, ...]]:
    """The chain in a SQLite file, by SQLite alone."""
    with sqlite3.connect(file) as connection:
        rows = connection.execute(
            "SELECT seq, prev, kind, about, body, author, at, key, hash, signature FROM records_entry ORDER BY seq"
        )
        found = rows.fetchall()
    connection.close()
    return found


def test_a_backup_holds_every_file_and_every_entry_with_its_sha256(worked, shop, tmp_path):
    done = back_up(worked, (tmp_path / "disk", tmp_path / "stick"), now=NOW)
    first, second = done.files
    assert first.read_bytes() == second.read_bytes()
    assert done.sha256 == hashlib.sha256(first.read_bytes()).hexdigest()
    with zipfile.ZipFile(first) as archive:
        assert archive.testzip() is None
        manifest = json.loads(archive.read(MANIFEST))
        held = {one["path"]: one for one in manifest["files"]}
        for path, one in held.items():
            assert hashlib.sha256(archive.read(path)).hexdigest() == one["sha256"]
        (tmp_path / "chain.sqlite3").write_bytes(archive.read("records/records.sqlite3"))
        assert {path: archive.read(path) for path in held if not path.startswith("records/")} == files_below(
            worked
        )
    rows = entries_read_by_hand(tmp_path / "chain.sqlite3")
    assert rows == [
        tuple(getattr(entry, field) for field in entry.__struct_fields__) for entry in shop.store.entries()
    ]
    link = hashlib.sha256(f"{rows[-1][-2]}{rows[-1][-1]}".encode()).hexdigest()
    assert manifest["head"].replace("-", "") == link[:12]
    assert manifest["entries"] == len(rows) == 4
    for place in (tmp_path / "disk", tmp_path / "stick"):
        assert (place / HEADS).read_text().split() == [
            manifest["made"],
            manifest["head"],
            "4",
            done.sha256,
            first.name,
        ]


def test_a_backup_made_while_another_program_writes_is_a_whole_beginning_of_the_chain(worked, shop, tmp_path):
    done = []
    with writing_in(worked) as said:
        for number in range(3):
            acknowledged = int(next(said).split()[0])
            made = back_up(worked, (tmp_path / str(number),), now=NOW)
            assert made.verified.is_sound
            assert made.verified.entries >= acknowledged
            done.append((made.verified.entries, made.verified.head))
    chain = {entry.seq: entry.head for entry in shop.store.entries()}
    assert all(chain[entries] == head for entries, head in done)
    assert done[0] < done[-1]


@pytest.fixture
def small(tmp_path):
    """A backup of two short files, small enough for every place of it to be tried."""
    (tmp_path / "a.toml").write_text("title = 1\n")
    (tmp_path / "records").mkdir()
    (tmp_path / "records/records.sqlite3").write_bytes(b"a chain")
    manifest = Manifest(
        BACKUP, 1, "2026-03-09T14:05:00Z", 0, "", "", held_in(tmp_path, ("a.toml", "records/records.sqlite3"))
    )
    with (tmp_path / "small.zip").open("wb") as out:
        pack(tmp_path, manifest, out)
    return tmp_path / "small.zip"


def unpacked(content: bytes, place: Path, number: int) -> dict[str, bytes] | None:
    """What comes out of a backup, None where it is refused."""
    file, folder = place / "changed.zip", place / f"out-{number}"
    file.write_bytes(content)
    folder.mkdir()
    try:
        unpack(file, folder)
    except RecordError:
        return None
    return {str(path.relative_to(folder)): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def test_every_changed_byte_of_a_backup_is_refused_or_changes_nothing_that_comes_out(small, tmp_path):
    whole = small.read_bytes()
    sound = unpacked(whole, tmp_path, -1)
    assert set(sound) == {"a.toml", "records/records.sqlite3"}
    refused = 0
    for place in range(len(whole)):
        changed = bytearray(whole)
        changed[place] ^= 1 << place % 8
        found = unpacked(bytes(changed), tmp_path, place)
        assert found in (None, sound), place
        refused += found is None
    assert refused > len(whole) / 2


def test_a_backup_that_was_cut_off_anywhere_is_refused(small, tmp_path):
    whole = small.read_bytes()
    assert [
        length for length in range(len(whole)) if unpacked(whole[:length], tmp_path, length) is not None
    ] == []


def test_jobs_whose_names_differ_by_capitals_alone_are_backed_up_and_come_back(tmp_path):
    """A server has both; a system that takes them for one refuses the second when it comes out."""
    shop = tmp_path / "shop"
    shop.mkdir()
    for name in ("alder.toml", "Alder.toml"):
        (shop / name).write_text(f'title = "{name}"\n')
    restore(back_up(shop, (tmp_path / "disk",), now=NOW).files[0], tmp_path / "new", now=NOW)
    take_in(export(shop, tmp_path / "plain", now=NOW).place, tmp_path / "again")
    assert files_below(tmp_path / "new") == files_below(tmp_path / "again") == files_below(shop)


def by_hand(tmp_path: Path, *files: tuple[str, bytes], **changed: object) -> Path:
    """A backup as somebody puts it together by hand, each file with its true SHA-256."""
    held = tuple(HeldFile(path, len(content), sha256_of(content)) for path, content in files)
    manifest = json.loads(Manifest(BACKUP, 1, "2026-03-09T14:05:00Z", 0, "", "", held).encoded()) | changed
    with (
        warnings.catch_warnings(),
        zipfile.ZipFile(tmp_path / "hand.zip", "w", zipfile.ZIP_DEFLATED) as archive,
    ):
        warnings.simplefilter("ignore")  # of a name that is there twice
        archive.writestr(MANIFEST, json.dumps(manifest))
        for path, content in files:
            archive.writestr(path, content)
    return tmp_path / "hand.zip"


@pytest.mark.parametrize(
    "path",
    [
        "../a.toml", "/etc/a.toml", "..\\a.toml", "C:a.toml", "C:/a.toml", "a\0.toml", "sub/a.toml", "a.toml/",
        ".a.toml", "./a.toml", "records/database.toml", "records/../a.toml", ".earlier/lock",
        ".earlier/../b.toml/1.toml", ".earlier/a.toml", ".earlier/a.toml/../../../x.toml", "a.sh", "backup.json",
    ],
)  # fmt: skip
def test_a_path_that_leads_elsewhere_is_refused_and_nothing_is_written(path, tmp_path):
    out = tmp_path / "deep" / "out"
    out.mkdir(parents=True)
    with pytest.raises(RecordError) as refusal:
        unpack(by_hand(tmp_path, ("ok.toml", b"x = 1"), (path, b"x = 1")), out)
    assert refusal.value.what.id == "backup.path"
    assert sorted(str(one.relative_to(tmp_path)) for one in tmp_path.rglob("*")) == [
        "deep",
        "deep/out",
        "hand.zip",
    ]


def test_what_somebody_put_together_by_hand_is_refused(tmp_path):
    job = ("a.toml", b"x = 1")
    for files, changed, id in (
        ((job, job), {}, "backup.twice"),
        ((job,), {"version": 2, "what": "is new"}, "backup.newer_program"),
        ((job,), {"form": "hatchwright export"}, "backup.not_one"),
        ((job,), {"what": "is this"}, "backup.not_one"),
        ((job,), {"files": []}, "backup.damaged"),
        ((job,), {"files": [{"path": "a.toml", "bytes": 4, "sha256": sha256_of(b"x = ")}]}, "backup.damaged"),
        ((job,), {"files": [{"path": "a.toml", "bytes": 5, "sha256": sha256_of(b"x = 2")}]}, "backup.damaged"),
        (
            (("a.toml", bytes(30_000_000)),),
            {"files": [{"path": "a.toml", "bytes": 1, "sha256": sha256_of(b"\0")}]},
            "backup.damaged",
        ),
    ):  # fmt: skip
        with pytest.raises(RecordError) as refusal:
            unpack(by_hand(tmp_path, *files, **changed))
        assert refusal.value.what.id == id, (files[0][0], changed)


def test_a_link_in_a_backup_comes_out_as_a_file(tmp_path):
    """It is written as what it holds, a text; never followed."""
    file = by_hand(tmp_path, ("a.toml", b"/etc/passwd"))
    with zipfile.ZipFile(file) as archive:
        manifest = archive.read(MANIFEST)
    with zipfile.ZipFile(file, "w") as archive:
        archive.writestr(MANIFEST, manifest)
        link = zipfile.ZipInfo("a.toml")
        link.external_attr = 0o120777 << 16
        archive.writestr(link, b"/etc/passwd")
    (tmp_path / "out").mkdir()
    unpack(file, tmp_path / "out")
    assert not (tmp_path / "out/a.toml").is_symlink()
    assert (tmp_path / "out/a.toml").read_bytes() == b"/etc/passwd"
