"""The documents that the tables cite, so that a paper can print the full title of a key."""

from __future__ import annotations

import csv
from collections.abc import Mapping
from functools import cache
from pathlib import Path

from msgspec import Struct


class Document(Struct, frozen=True):
    """One entry of the bibliography: its key, full title and edition."""

    key: str
    title: str
    edition: str


@cache
def documents() -> Mapping[str, Document]:
    """All documents that the tables cite, by key."""
    with Path(__file__).with_name("sources.csv").open(encoding="utf-8", newline="") as file:
        return {row["key"]: Document(**row) for row in csv.DictReader(file)}
