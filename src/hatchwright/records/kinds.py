"""The kinds of entry, and which of them count only with a signature."""

from __future__ import annotations

from enum import StrEnum


class Kind(StrEnum):
    """What sort of thing an entry says."""

    PERSON = "person"
    """Who may sign from now on: name, roles, public key, and the private one, locked."""
    REVISION = "revision"
    """A job as it was kept, with the steps that led to it."""
    SIGNED = "signed"
    """A revision that somebody signs: file, judgments, papers and pictures by their SHA-256."""
    HOLD = "hold"
    """A hold point passed, or a count, by whom."""
    STORE = "store"
    """Something about the store: restored from where, imported, moved to another schema."""


SIGNED_ONLY = frozenset({Kind.PERSON, Kind.SIGNED, Kind.HOLD})
"""Kinds that mean nothing without a signature: one that lacks it is a fault of the chain."""
