"""Every single-byte change of a small file of records is found, or changes nothing that is said.

What is said is read for this by SQLite's own library alone, past the program: rows by the table and by each index, and
the triggers. Where that reads as before, nothing was changed; everywhere else the opening or verify has to tell.
"""

from __future__ import annotations

import random
import sqlite3
from collections.abc import Callable, Iterable
from contextlib import closing
from pathlib import Path

from hatchwright.errors import RecordError
from hatchwright.records.keys import LockedKey, SigningKey
from hatchwright.records.kinds import Kind
from hatchwright.records.people import Role
from hatchwright.records.store import Store, sha256_of
from hatchwright.records.verify import verify
from tests.records.chains import long_chain
from tests.records.conftest import INSPECTOR, Shop

SMALLEST_PAGE = 512
"""So that a file with every table and index is small [bytes]. Source: [SQLITE-FORMAT], from memory."""
LARGE_ENTRIES, PLACES = 400, 500
SEED = 20261130

READINGS = (
    "SELECT seq, prev, kind, about, body, author, at, key, hash, signature FROM records_entry NOT INDEXED ORDER BY seq",
    "SELECT about, seq FROM records_entry INDEXED BY entry_about WHERE about >= '' ORDER BY about, seq",
    "SELECT kind, seq FROM records_entry INDEXED BY entry_kind WHERE kind >= '' ORDER BY kind, seq",
    "SELECT prev FROM records_entry INDEXED BY sqlite_autoindex_records_entry_1 WHERE prev >= '' ORDER BY prev",
    "SELECT sha256, content FROM records_kept NOT INDEXED ORDER BY rowid",
    "SELECT sha256 FROM records_kept INDEXED BY sqlite_autoindex_records_kept_1 WHERE sha256 >= '' ORDER BY sha256",
    "SELECT about, seq, signed_seq FROM records_newest NOT INDEXED ORDER BY rowid",
    "SELECT about FROM records_newest INDEXED BY sqlite_autoindex_records_newest_1 WHERE about >= '' ORDER BY about",
    "SELECT name, sql FROM sqlite_master WHERE type = 'trigger' ORDER BY name",
)


def read_plainly(file: Path) -> list[list[tuple]] | None:
    """All that is said, None where it can't be read."""
    try:
        with closing(sqlite3.connect(f"file:{file}?immutable=1", uri=True)) as connection:
            return [connection.execute(sql).fetchall() for sql in READINGS]
    except (sqlite3.Error, UnicodeDecodeError):
        return None


def small_file(file: Path, make: Callable[[Store], None]) -> int:
    """Make a store in pages as small as there are; gives its size [bytes]."""
    with closing(sqlite3.connect(file)) as connection:
        connection.executescript(
            f"PRAGMA page_size={SMALLEST_PAGE}; CREATE TABLE a (b); DROP TABLE a; VACUUM;"
        )
    store = Store.in_file(file)
    make(store)
    assert verify(store).is_sound
    store.close()
    return file.stat().st_size


def large_file(folder: Path, keys: dict[str, tuple[LockedKey, SigningKey]], entries: int) -> Path:
    """A store with many entries about many jobs, of which every eighth is signed and speaks of a paper."""
    folder.mkdir()
    kept: dict[str, bytes] = {}
    chain = list(long_chain(keys[INSPECTOR], entries, about=50, signed_every=8, kept=kept))
    store = Store.in_file(folder / "large.sqlite3")
    store.fill(chain, kept.items())
    store.close()
    return folder / "large.sqlite3"


def missed(file: Path, places: Iterable[int]) -> tuple[dict[int, int], int]:
    """Places whose change is said otherwise and not told, with the mask of the change; how many were told."""
    whole, before = file.read_bytes(), read_plainly(file)
    assert before is not None
    others, told = {}, 0
    for place in places:
        mask = random.Random(SEED + place).randrange(1, 256)
        put_byte(file, place, whole[place] ^ mask)
        if read_plainly(file) != before:
            if is_told(file):
                told += 1
            else:
                others[place] = mask
        put_byte(file, place, whole[place])
    assert file.read_bytes() == whole  # who looks changes nothing
    return others, told


def put_byte(file: Path, place: int, byte: int) -> None:
    """Change one byte where it stands."""
    with file.open("r+b") as opened:
        opened.seek(place)
        opened.write(bytes([byte]))


def is_told(file: Path) -> bool:
    """Whether the opening refuses it, or verify finds a fault."""
    try:
        store = Store.in_file(file)
        try:
            return not verify(store).is_sound
        finally:
            store.close()
    except RecordError:
        return True


def test_every_byte_of_a_small_file(tmp_path, keys):
    def make(store: Store) -> None:
        shop = Shop(store, keys)
        shop.names(INSPECTOR, Role.INSPECTOR, INSPECTOR)
        shop.says(Kind.REVISION, "a.toml", {"n": 1}, signs=False)
        kept = {sha256_of(b"%PDF"): b"%PDF"}
        shop.says(Kind.SIGNED, "a.toml", {"sha256": next(iter(kept))}, INSPECTOR, kept=kept)

    size = small_file(tmp_path / "small.sqlite3", make)
    others, told = missed(tmp_path / "small.sqlite3", range(size))
    assert others == {}
    assert told > size / 4  # and much of what is in the file is said


def test_five_hundred_places_of_a_large_file(tmp_path, keys):
    file = tmp_path / "large.sqlite3"
    file.write_bytes(large_file(tmp_path / "made", keys, LARGE_ENTRIES).read_bytes())
    places = random.Random(SEED).sample(range(file.stat().st_size), PLACES)
    others, told = missed(file, places)
    assert others == {}
    assert told > PLACES / 2
