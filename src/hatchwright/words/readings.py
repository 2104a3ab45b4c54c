"""What people call a reading; a job file keeps it by its key."""

from __future__ import annotations

import re

from hatchwright.said import Said, said
from hatchwright.words.catalog import HOME, language


def reading_called(key: str) -> Said:
    """Name a reading as the trade does.

    Args:
        key: as a job keeps it when it is chosen, such as "Navy manual, any row".
    Returns:
        Said: the name of the document in the catalog; a document of the shop's own tables goes by the shop's name.
    """
    id = f"reading.name.{re.sub(r'[^a-z0-9]+', '_', key.lower())}"
    return said(id) if id in language(HOME) else said("reading.shops_own", name=key)


def to_choose_from(key: str) -> Said:
    """The name of a reading, and the key by which a job file takes it."""
    return said("reading.written", reading=reading_called(key), key=key)
