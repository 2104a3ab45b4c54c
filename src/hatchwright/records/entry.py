"""One entry of the chain, and the hashes that tie it to what came before."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator
from typing import Any

from msgspec import Struct

from hatchwright.records.canonical import written

FIRST_PREV = "0" * 64
"""What the first entry of a chain follows."""

SHOWN_DIGITS = 12
"""Of the head, where a person reads it: 48 bits."""


class Entered(Struct, frozen=True):
    """What was said: when, by whom, about what.

    Args:
        seq: running number, the first is 1.
        prev: link of the entry before, `FIRST_PREV` for the first.
        kind: what sort of entry it is, one of `kinds`.
        about: file name of the job or the fleet that it speaks of, "" for the store itself.
        body: canonical JSON.
        at: when, UTC, such as ``2026-03-09T14:05:00Z``.
        key: public key of the signer in 64 hexadecimal digits, "" where it is not signed.
        hash: SHA-256 over all the above, in hexadecimal digits.
        signature: Ed25519 over the hash, in 128 hexadecimal digits, "" where it is not signed. Source: [RFC8032].
    """

    seq: int
    prev: str
    kind: str
    about: str
    body: str
    author: str
    at: str
    key: str
    hash: str
    signature: str = ""

    @property
    def said(self) -> dict[str, Any]:
        """The body as a value."""
        value: dict[str, Any] = json.loads(self.body)
        return value

    @property
    def own_hash(self) -> str:
        """What its hash must be for what it says, "" where nothing that this program writes says it."""
        try:
            return hash_of(
                seq=self.seq, prev=self.prev, kind=self.kind, about=self.about, body=self.body, author=self.author,
                at=self.at, key=self.key,
            )  # fmt: skip
        except ValueError:
            return ""

    @property
    def link(self) -> str:
        """What the next entry follows: the hash and the signature, so that a signature can't be taken away."""
        return hashlib.sha256(f"{self.hash}{self.signature}".encode()).hexdigest()

    @property
    def head(self) -> str:
        """The link as a person reads it."""
        return shown(self.link)

    @property
    def is_signed(self) -> bool:
        """Whether it bears a signature; whether that is sound is for `verify`."""
        return bool(self.signature)


def shown(link: str) -> str:
    """A link as it is printed.

    >>> shown("0123456789abcdef" * 4)
    '0123-4567-89ab'
    """
    digits = link[:SHOWN_DIGITS]
    return "-".join(digits[start : start + 4] for start in range(0, SHOWN_DIGITS, 4))


def hash_of(*, seq: int, prev: str, kind: str, about: str, body: str, author: str, at: str, key: str) -> str:
    """SHA-256 of what an entry says, over its canonical JSON, so that no field can run into the next."""
    text = written(
        {
            "about": about, "at": at, "author": author, "body": body, "key": key, "kind": kind, "prev": prev, "seq": seq
        }
    )  # fmt: skip
    return hashlib.sha256(text.encode("utf-8")).hexdigest()


CLOCK_WAS = "clock_was"
"""Under it a signed entry about the store says the time of the entry before, where that is later than its own."""


def named_bytes(value: object) -> Iterator[str]:
    """Every SHA-256 that a body names, under a key `sha256`."""
    if isinstance(value, dict):
        for key, held in value.items():
            if key == "sha256" and isinstance(held, str):
                yield held
            else:
                yield from named_bytes(held)
    elif isinstance(value, list):
        for held in value:
            yield from named_bytes(held)
