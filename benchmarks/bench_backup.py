"""Backup, restore, export and import of 100,000 entries in 1,000 jobs, each as a multiple of what verifying them takes.

A backup verifies its copy once; a restore and an import verify what they were given and again what they put in place.
"""

from __future__ import annotations

import sys
import tempfile
import time
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from hatchwright.records.keys import new_key
from hatchwright.records.store import Store
from hatchwright.records.verify import verify
from hatchwright.workflow.backup import back_up
from hatchwright.workflow.plain_files import export, take_in
from hatchwright.workflow.restore import restore
from tests.records.chains import Kept, long_chain
from tests.records.conftest import PASS_PHRASE

ENTRIES, JOBS, SIGNED_EVERY = 100_000, 1_000, 10


def once_s(do: Callable[[], object]) -> float:
    """Time of one call [s]."""
    begun = time.perf_counter()
    do()
    return time.perf_counter() - begun


def main() -> None:
    """Print what each takes, against `verify`."""
    with tempfile.TemporaryDirectory() as place:
        folder, disk, now = Path(place, "jobs"), Path(place, "disk"), datetime.now(UTC)
        folder.mkdir()
        store, locked = Store.opened(folder), new_key(PASS_PHRASE)
        kept: Kept = {}
        key = locked, locked.opened(PASS_PHRASE)
        entries = list(long_chain(key, ENTRIES, about=JOBS, signed_every=SIGNED_EVERY, kept=kept))
        store.fill(entries, kept.items())
        for number in range(JOBS):
            (folder / f"job-{number}.toml").write_text('title = "A job"\n' * 300)
        verify_s = once_s(lambda: verify(store))
        print(f"verify {ENTRIES:,} entries: {verify_s:.1f} s")
        for name, do in (
            ("backup", lambda: back_up(folder, (disk,), now=now)),
            ("restore", lambda: restore(next(disk.glob("*.zip")), Path(place, "new"), now=now)),
            ("restore over", lambda: restore(next(disk.glob("*.zip")), folder, now=now, overwrite=True)),
            ("export", lambda: export(Path(place, "new"), Path(place, "plain"), now=now)),
            ("import", lambda: take_in(Path(place, "plain"), Path(place, "again"))),
        ):
            print(f"{name}: {once_s(do) / verify_s:.1f} x verify")


if __name__ == "__main__":
    main()
