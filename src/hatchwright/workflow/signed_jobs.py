"""Which jobs of a folder somebody signed for."""

from __future__ import annotations

from pathlib import Path

from hatchwright.records.store import Store


def signed_jobs(folder: Path) -> frozenset[str]:
    """File names of the jobs with a signed entry in the folder's store; none where it has no store.

    Raises:
        RecordError: the store can't be opened.
    """
    if not Store.is_there(folder):
        return frozenset()
    store = Store.opened(folder)
    return frozenset(about for about, (_, signed) in store.newest().items() if signed)
