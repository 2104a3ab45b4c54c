"""An export can be read and checked without this program, and makes the same chain again.

Outside checks: `sha256sum` of the system, and the recipe in the export's own text for whoever finds it, done by hand
here with Python's `json` and `hashlib` and the Ed25519 of the library `cryptography`.
"""

from __future__ import annotations

import hashlib
import json
import re
import shutil
import subprocess
from datetime import timedelta
from pathlib import Path

import pytest
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey

from hatchwright.errors import RecordError
from hatchwright.records.kinds import Kind
from hatchwright.records.manifest import Manifest, held_in
from hatchwright.records.store import Store, sha256_of
from hatchwright.records.verify import verify
from hatchwright.workflow.plain_files import CHECKSUMS, MANIFEST, export, take_in
from tests.records.conftest import NOW
from tests.records.worked import CARD, ENTRIES, files_below


@pytest.fixture
def plain(worked, tmp_path) -> Path:
    return export(worked, tmp_path / "plain", now=NOW).place


def every_file(place: Path) -> dict[str, bytes]:
    return {str(path.relative_to(place)): path.read_bytes() for path in place.rglob("*") if path.is_file()}


def refusal_of(place: Path, folder: Path, printed: str = "") -> str:
    """The id of what is refused; nothing may be there then that was not there before."""
    before = files_below(folder) if folder.exists() else None
    with pytest.raises(RecordError) as refusal:
        take_in(place, folder, printed=printed)
    assert (files_below(folder) if folder.exists() else None) == before
    return refusal.value.what.id


def test_a_person_reads_and_checks_it_without_this_program(worked, plain, shop):
    done = subprocess.run(
        ["sha256sum", "--check", "--strict", "--quiet", CHECKSUMS], cwd=plain, capture_output=True
    )
    assert (done.returncode, done.stdout, done.stderr) == (0, b"", b"")
    listed = {line.split("  ", 1)[1] for line in (plain / CHECKSUMS).read_text().splitlines()}
    there = {str(path.relative_to(plain)) for path in plain.rglob("*") if path.is_file()}
    assert there == listed | {CHECKSUMS, MANIFEST}

    prev = "0" * 64
    for line in (plain / "chain.jsonl").read_text("utf-8").splitlines():
        entry = json.loads(line)
        hashed = {key: entry[key] for key in ("about", "at", "author", "body", "key", "kind", "prev", "seq")}
        text = json.dumps(hashed, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
        assert (hashlib.sha256(text.encode()).hexdigest(), entry["prev"]) == (entry["hash"], prev)
        if entry["signature"]:
            public = Ed25519PublicKey.from_public_bytes(bytes.fromhex(entry["key"]))
            public.verify(bytes.fromhex(entry["signature"]), bytes.fromhex(entry["hash"]))
        prev = hashlib.sha256((entry["hash"] + entry["signature"]).encode()).hexdigest()
    assert prev[:12] == shop.store.head().replace("-", "")

    of_job = plain / "records/alder.toml"
    assert (of_job / "000004-card.pdf").read_bytes() == CARD
    assert (of_job / "000003-alder.toml").read_bytes() == (worked / "alder.toml").read_bytes()
    history = (of_job / "history.txt").read_text("utf-8")
    assert "signed by A. Mechanic" in history
    assert "000004-card.pdf" in history
    assert shop.store.head() in history
    assert len((plain / "index.txt").read_text("utf-8").splitlines()) == 2 + ENTRIES
    jobs = {
        path.removeprefix("folder/"): held
        for path, held in files_below(plain).items()
        if path.startswith("folder/")
    }
    assert jobs == files_below(worked)


def test_taken_in_it_is_the_same_folder_and_the_same_chain(worked, shop, plain, new_folder, tmp_path):
    folder = new_folder()
    done = take_in(plain, folder, printed=shop.store.head())
    store = Store.opened(folder)
    assert files_below(folder) == files_below(worked)
    assert list(store.entries()) == list(shop.store.entries())
    assert dict(store.all_kept()) == dict(shop.store.all_kept())
    assert (store.newest(), store.head()) == (shop.store.newest(), done.head)
    assert verify(store, printed=shop.store.head()).is_sound
    again = export(folder, tmp_path / "again", now=NOW).place
    assert every_file(again) == every_file(plain)


def test_each_changed_or_missing_file_is_named(plain, tmp_path, new_folder):
    folder, every = new_folder(), sorted(path for path in plain.rglob("*") if path.is_file())
    assert len(every) == 15
    for path in every:
        held = path.read_bytes()
        path.write_bytes(held[:-1] + bytes([held[-1] ^ 1]))
        assert refusal_of(plain, folder).startswith("backup."), path
        path.unlink()
        assert refusal_of(plain, folder).startswith("backup."), path
        path.write_bytes(held)
    assert take_in(plain, folder).entries == ENTRIES


def listed_anew(plain: Path, **changed) -> None:
    """What somebody does who knows the form: he makes every checksum anew."""
    was = json.loads((plain / MANIFEST).read_text("utf-8"))
    held = held_in(plain, [one["path"] for one in was["files"]])
    made = Manifest(**{**was, "files": held, **changed})
    (plain / MANIFEST).write_bytes(made.encoded())
    (plain / CHECKSUMS).write_text(
        "".join(f"{one.sha256}  {one.path}\n" for one in made.files), "utf-8", newline="\n"
    )


def test_a_chain_that_was_changed_with_all_its_checksums_is_refused(shop, plain, new_folder):
    folder, chain = new_folder(), plain / "chain.jsonl"
    whole = chain.read_text("utf-8")
    lines = whole.splitlines(keepends=True)
    for changed, id in (
        (whole.replace("A. Mechanic", "C. Forger"), "records.not_sound"),
        ("".join([*lines[:2], *lines[3:]]), "records.not_sound"),
        ("".join(lines[:-1]), "backup.other_head"),
        (whole + "{}\n", "backup.no_entry"),
        (whole[:-40], "backup.no_entry"),
    ):
        chain.write_text(changed, "utf-8", newline="\n")
        listed_anew(plain)
        assert refusal_of(plain, folder) == id
    # Who also makes the head anew is found by the printed one alone.
    chain.write_text("".join(lines[:-1]), "utf-8", newline="\n")
    last = shop.store.entry(ENTRIES - 1)
    listed_anew(plain, entries=ENTRIES - 1, head=last.head, link=last.link)
    assert refusal_of(plain, folder, printed=shop.store.head()) == "backup.unsound"
    chain.write_text(whole, "utf-8", newline="\n")
    (plain / "records/alder.toml/000004-card.pdf").write_bytes(b"%PDF-1.7 another card")
    listed_anew(plain)
    assert refusal_of(plain, folder) == "records.bytes_gone"


@pytest.mark.parametrize("kind_of_database", ["sqlite"])
def test_tricks_with_paths_and_full_places_are_refused(worked, plain, tmp_path):
    assert refusal_of(plain, worked) == "backup.import_not_empty"
    with pytest.raises(RecordError) as refusal:
        export(worked, plain, now=NOW + timedelta(days=1))
    assert refusal.value.what.id == "backup.export_not_empty"
    assert refusal_of(worked, tmp_path / "new") == "backup.no_export"

    manifest = json.loads((plain / MANIFEST).read_text("utf-8"))
    (tmp_path / "secret.txt").write_text("secret")
    for path in (
        "../secret.txt",
        "folder/../../secret.txt",
        "/etc/passwd",
        "folder/records/records.sqlite3",
        "folder/x.sh",
    ):
        one = {"path": path, "bytes": 6, "sha256": sha256_of(b"secret")}
        (plain / "folder/records").mkdir(exist_ok=True)
        for name in ("records/records.sqlite3", "x.sh"):
            (plain / "folder" / name).write_text("secret")
        made = manifest | {"files": [*manifest["files"], one]}
        (plain / MANIFEST).write_text(json.dumps(made))
        text = "".join(f"{held['sha256']}  {held['path']}\n" for held in made["files"])
        (plain / CHECKSUMS).write_text(text)
        assert refusal_of(plain, tmp_path / "new") == "backup.path", path
        assert not (tmp_path / "new").exists()

    shutil.rmtree(plain)
    place = export(worked, tmp_path / "plain", now=NOW).place
    (place / "folder/birch.toml").unlink()
    (place / "folder/birch.toml").symlink_to(worked / "birch.toml")
    assert refusal_of(place, tmp_path / "new") == "backup.export_missing"


@pytest.mark.parametrize("kind_of_database", ["sqlite"])
def test_names_that_another_system_can_not_take_are_no_names_of_an_export(shop, worked, tmp_path):
    """What an entry is about is anybody's to name: it makes folders and files with plain letters alone."""
    wild = ("..", "CON:<a>|b?.toml", "Alder.toml", "shop", "x" * 200, "Übung nº 7.fleet")
    for number, about in enumerate(wild):
        kept = f"file {number}".encode()
        name = {"name": f"../../{about}", "sha256": sha256_of(kept)}
        shop.says(Kind.REVISION, about, {"files": [name]}, signs=False, kept={sha256_of(kept): kept})
    place = export(worked, tmp_path / "plain", now=NOW).place
    paths = [str(path.relative_to(place)) for path in (place / "records").rglob("*")]
    assert len({path.casefold() for path in paths}) == len(paths)
    assert all(re.fullmatch(r"[A-Za-z0-9._/-]+", path) for path in paths)
    assert max(len(part) for path in paths for part in path.split("/")) < 100
    take_in(place, tmp_path / "new")
    assert list(Store.opened(tmp_path / "new").entries()) == list(shop.store.entries())
