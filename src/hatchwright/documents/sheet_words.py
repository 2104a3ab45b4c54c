"""What every page of a set paper says at its head and foot: revision, page, and who signs."""

from __future__ import annotations

from hatchwright.said import said
from hatchwright.words.tell import tell

_NAMES = ("revision", "page", "of", "name", "certificate", "date", "initials")


def sheet_words() -> dict[str, str]:
    """The words by name; `paper.<name>` of the catalog."""
    return {name: tell(said(f"paper.{name}")) for name in _NAMES}
