"""The titles of the documents that the tables cite."""

from __future__ import annotations

from hatchwright.tables.sources import documents


def test_a_document() -> None:
    found = documents()["AC43.13-1B"]
    assert found.title.startswith("FAA Advisory Circular 43.13-1B")
    assert found.edition == "8 Sep 1998, Change 1 of 27 Sep 2001"


def test_every_document_has_a_title_and_an_edition() -> None:
    assert len(documents()) > 40
    assert all(found.title and found.edition and found.key == key for key, found in documents().items())
