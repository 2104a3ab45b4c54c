"""Freeze a backup and an export of the present form, once for each form that is released:
`python -m tests.records.freeze_backup` in the folder of the project. What was frozen is never made
again."""

from __future__ import annotations

import shutil
import tempfile
from pathlib import Path

from hatchwright.records.keys import new_key
from hatchwright.records.manifest import VERSION
from hatchwright.records.people import Role
from hatchwright.records.store import Store
from hatchwright.workflow.backup import back_up
from hatchwright.workflow.plain_files import export
from tests.records.conftest import INSPECTOR, MECHANIC, NOW, PASS_PHRASE, Shop
from tests.records.worked import worked_in

FROZEN = Path(__file__).parent / "backups"


def freeze() -> None:
    """A shop of two people with a job that was signed, as a backup and as plain files in an archive."""
    keys = {}
    for name in (INSPECTOR, MECHANIC):
        locked = new_key(PASS_PHRASE)
        keys[name] = (locked, locked.opened(PASS_PHRASE))
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place, "jobs")
        folder.mkdir()
        shop = Shop(Store.opened(folder), keys)
        shop.names(INSPECTOR, Role.INSPECTOR, INSPECTOR)
        shop.names(MECHANIC, Role.MECHANIC, INSPECTOR)
        worked_in(shop, 'title = "Frozen"\n')
        file = back_up(folder, (Path(place, "disk"),), now=NOW).files[0]
        shutil.copy(file, FROZEN / f"backup-{VERSION}.zip")
        plain = export(folder, Path(place, "plain"), now=NOW).place
        shutil.make_archive(str(FROZEN / f"export-{VERSION}"), "zip", plain)
        print(shop.store.head())


if __name__ == "__main__":
    freeze()
