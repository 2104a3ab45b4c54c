"""Every table that ships is listed, reads, and is sound by the check that a shop's own rows must pass."""

from __future__ import annotations

from pathlib import Path

import pytest

import hatchwright.tables
from hatchwright.tables.catalog import TABLES
from hatchwright.tables.soundness import faults_of
from hatchwright.tables.sources import documents
from hatchwright.tables.table import Table
from hatchwright.words.tell import tell

FOLDER = Path(hatchwright.tables.__file__).parent


def test_every_file_is_listed_once() -> None:
    names = [table.name for table in TABLES]
    assert sorted(names) == sorted(path.stem for path in FOLDER.glob("*.csv") if path.stem != "sources")
    assert all(tell(table.about) for table in TABLES)


@pytest.mark.parametrize("table", TABLES, ids=lambda table: table.name)
def test_every_row_is_sound(table: Table) -> None:
    assert [str(fault) for fault in faults_of(table, table.rows())] == []


@pytest.mark.parametrize("table", TABLES, ids=lambda table: table.name)
def test_every_row_can_print_the_title_of_its_document(table: Table) -> None:
    for row in table.rows():
        assert documents()[row.source.key].title
