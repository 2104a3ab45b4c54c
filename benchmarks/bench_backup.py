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

from hatchwright.records.entry import FIRST_PREV, Entered, hash_of
from hatchwright.records.store import Store
from hatchwright.records.verify import verify
from hatchwright.workflow.backup import back_up
from hatchwright.workflow.plain_files import export, take_in
from hatchwright.workflow.restore import restore

ENTRIES, JOBS = 100_000, 1_000
AT = "2026-03-09T14:05:00Z"


def chain() -> list[Entered]:
    """Entries without signatures: the rest of the work is what is compared."""
    entries, prev = [], FIRST_PREV
    for seq in range(1, ENTRIES + 1):
        about, body = f"job-{seq % JOBS}.toml", f'{{"note":"{"x" * 300}"}}'
        hash = hash_of(
            seq=seq, prev=prev, kind="revision", about=about, body=body, author="A. Mechanic", at=AT, key=""
        )
        entries.append(Entered(seq, prev, "revision", about, body, "A. Mechanic", AT, "", hash))
        prev = entries[-1].link
    return entries


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
        store = Store.opened(folder)
        store.fill(chain(), ())
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
