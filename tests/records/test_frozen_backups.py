"""A backup and an export of every form that was released can be put back; see `freeze_backup`."""

from __future__ import annotations

import zipfile
from datetime import timedelta
from pathlib import Path

import pytest

from hatchwright.records.manifest import VERSION
from hatchwright.records.store import Store
from hatchwright.workflow.plain_files import take_in
from hatchwright.workflow.restore import restore
from tests.records.conftest import MECHANIC, NOW
from tests.records.freeze_backup import FROZEN
from tests.records.worked import CARD, ENTRIES

HEADS = {1: "8fce-97c0-67bc"}
"""Of the chain in each, as it was printed when they were frozen."""


def test_each_released_form_is_frozen():
    forms = [f"{what}-{version}.zip" for version in range(1, VERSION + 1) for what in ("backup", "export")]
    assert sorted(path.name for path in FROZEN.iterdir()) == sorted(forms)
    assert sorted(HEADS) == list(range(1, VERSION + 1))


@pytest.mark.parametrize("version", HEADS)
def test_a_frozen_backup_and_a_frozen_export_give_the_chain_of_then(version, new_folder, tmp_path):
    with zipfile.ZipFile(FROZEN / f"export-{version}.zip") as archive:
        archive.extractall(tmp_path / "plain")
    restored, imported = new_folder(), new_folder()
    file, head = FROZEN / f"backup-{version}.zip", HEADS[version]
    assert restore(file, restored, now=NOW + timedelta(days=1), printed=head).manifest.head == head
    assert take_in(tmp_path / "plain", imported, printed=head).head == head
    chains = [list(Store.opened(folder).entries())[:ENTRIES] for folder in (restored, imported)]
    assert chains[0] == chains[1]
    assert [(entry.author, entry.head) for entry in chains[0]][-1] == (MECHANIC, head)
    for folder in (restored, imported):
        signed = Store.opened(folder).entry(ENTRIES).said
        assert Store.opened(folder).kept(signed["papers"][0]["sha256"]) == CARD
        assert Path(folder, "alder.toml").read_text() == 'title = "Frozen"\n\n# looked at\n'
