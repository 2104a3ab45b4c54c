"""Records of a large shop: a million entries listed and opened, 100,000 verified, 1,000 kills survived.

Aims: 100 ms to open a store and list its jobs, and 100 ms to open one job's history; 10 s to verify 100,000 entries.
Kills and changed places are counts: none may be lost, none missed. On SQLite, and on PostgreSQL where there is one.
`bench_records.py [store] [verify] [killed] [places]` does some of it.
"""

from __future__ import annotations

import random
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from hatchwright.records.keys import LockedKey, SigningKey, new_key
from hatchwright.records.store import Store
from hatchwright.records.verify import verify
from tests.records.chains import long_chain
from tests.records.conftest import INSPECTOR, PASS_PHRASE, keep_on
from tests.records.servers import bin_folder, running
from tests.records.test_every_byte import large_file, missed
from tests.records.test_killed import killed, lost

ENTRIES, JOBS, VERIFIED = 1_000_000, 10_000, 100_000
KILLS, AT_ONCE = 1_000, 100
PLACES, PLACES_ENTRIES = 500, 5_000
_RUNS = 5

Key = tuple[LockedKey, SigningKey]


def least_ms(do: Callable[[], object]) -> float:
    """Time of a call as a person waits for it, least of some [ms]."""
    runs = []
    for _ in range(_RUNS):
        begun = time.perf_counter()
        do()
        runs.append(1e3 * (time.perf_counter() - begun))
    return min(runs)


def once_s(do: Callable[[], object]) -> float:
    """Time of one call [s]."""
    begun = time.perf_counter()
    do()
    return time.perf_counter() - begun


@contextmanager
def folders() -> Iterator[Callable[[str], Iterator[tuple[str, Path]]]]:
    """Makes a new folder of jobs on each database that there is."""
    programs = bin_folder()
    with tempfile.TemporaryDirectory() as place:

        def made(what: str) -> Iterator[tuple[str, Path]]:
            for database in ("sqlite", "postgresql") if programs else ("sqlite",):
                folder = Path(place) / f"{what}-{database}"
                folder.mkdir()
                if database == "sqlite":
                    yield database, folder
                    continue
                with running(programs) as server:
                    keep_on(server, folder)
                    yield database, folder

        yield made


def open_and_list(folder: Path, database: str, key: Key) -> None:
    """The list and one history of a large shop."""
    store = Store.opened(folder)
    took = once_s(lambda: store.fill(long_chain(key, ENTRIES, about=JOBS, signed_every=10), ()))
    store.close()

    def listed() -> None:
        store = Store.opened(folder)
        assert len(store.newest()) == JOBS + 1
        store.close()

    def history() -> None:
        store = Store.opened(folder)
        assert len(list(store.entries(about="job-00042.toml"))) == ENTRIES // JOBS
        assert store.head()
        store.close()

    print(f"  {database}: {ENTRIES} entries about {JOBS} jobs taken over in {took:.0f} s")
    print(f"    opened and listed: {least_ms(listed):.0f} ms, aim 100 ms")
    print(f"    one job of {ENTRIES // JOBS} entries, opened: {least_ms(history):.1f} ms, aim 100 ms")


def verified(folder: Path, database: str, key: Key, signed_every: int) -> None:
    """Every entry and every paper read and checked."""
    store, kept = Store.opened(folder), {}
    chain = list(long_chain(key, VERIFIED, about=JOBS, signed_every=signed_every, kept=kept))
    store.fill(chain, kept.items())
    found, begun = [], time.process_time()
    took = once_s(lambda: found.append(verify(store, printed=chain[-1].head)))
    used = time.process_time() - begun
    assert found[0].is_sound
    assert found[0].entries == VERIFIED
    store.close()
    print(
        f"  {database}: {VERIFIED} entries verified, 1 of {signed_every} signed, in {took:.1f} s, "
        f"{used:.1f} s of the processor, aim 10 s"
    )


def survived(folder: Path, database: str) -> None:
    """Two writers at a time, killed again and again."""
    acknowledged, left = {}, 0
    for seed in range(KILLS // AT_ONCE):
        more, halves = killed(folder, AT_ONCE, seed)
        acknowledged |= more
        left += halves
    gone = lost(folder, acknowledged)
    print(
        f"  {database}: {KILLS} kills of two writers, {len(acknowledged)} entries acknowledged, "
        f"{left} left half written, {len(gone)} lost"
    )
    assert not gone


def places(key: Key) -> None:
    """Bytes of a larger file, changed one at a time."""
    with tempfile.TemporaryDirectory() as place:
        file = large_file(Path(place) / "made", {INSPECTOR: key}, PLACES_ENTRIES)
        size = file.stat().st_size
        others, told = missed(file, random.Random(18).sample(range(size), PLACES))
    print(
        f"  {PLACES} places of {size / 1e6:.1f} MB changed: {told} said something else and were told, "
        f"{len(others)} missed"
    )
    assert not others


def main() -> None:
    """Measure and print."""
    asked = set(sys.argv[1:]) or {"store", "verify", "killed", "places"}
    locked = new_key(PASS_PHRASE)
    key = locked, locked.opened(PASS_PHRASE)
    with folders() as made:
        for database, folder in made("store") if "store" in asked else ():
            open_and_list(folder, database, key)
        for every in (4, 1) if "verify" in asked else ():
            for database, folder in made(f"verify-{every}"):
                verified(folder, database, key, every)
        for database, folder in made("killed") if "killed" in asked else ():
            survived(folder, database)
    if "places" in asked:
        places(key)


if __name__ == "__main__":
    main()
