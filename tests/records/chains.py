"""Long chains, made without a database, as `Store.fill` takes them over."""

from __future__ import annotations

import random
from collections.abc import Iterator
from datetime import timedelta

from hatchwright.records.canonical import canonical
from hatchwright.records.entry import FIRST_PREV, Entered, hash_of
from hatchwright.records.keys import LockedKey, SigningKey
from hatchwright.records.kinds import Kind
from hatchwright.records.people import Person, Role
from hatchwright.records.store import sha256_of
from tests.records.conftest import INSPECTOR, NOW

Kept = dict[str, bytes]


def long_chain(
    key: tuple[LockedKey, SigningKey],
    entries: int,
    *,
    about: int,
    signed_every: int,
    kept: Kept | None = None,
) -> Iterator[Entered]:
    """An inspector names himself, and records and signs jobs one after the other.

    Args:
        about: how many jobs are spoken of.
        signed_every: the others are revisions without a signature.
        kept: papers that signed entries speak of are put in here, None for none.
    """
    noise, prev = random.Random(18), FIRST_PREV
    for seq in range(1, entries + 1):
        is_first, signs = seq == 1, seq == 1 or seq % signed_every == 0
        body: dict = {"steps": noise.randbytes(60).hex(), "looks": ["left", "right"], "n": seq}
        if signs and not is_first and kept is not None:
            paper = noise.randbytes(1500)
            kept[sha256_of(paper)] = paper
            body = {"papers": [{"name": "card.pdf", "sha256": sha256_of(paper)}]}
        if is_first:
            body = Person(INSPECTOR, Role.INSPECTOR, "", key[0]).as_body()
        said = {
            "seq": seq, "prev": prev, "kind": Kind.PERSON if is_first else Kind.SIGNED if signs else Kind.REVISION,
            "about": "" if is_first else f"job-{seq * 7919 % about:05d}.toml", "body": canonical(body),
            "author": INSPECTOR, "at": f"{NOW + timedelta(seconds=seq):%Y-%m-%dT%H:%M:%SZ}",
            "key": key[1].public if signs else "",
        }  # fmt: skip
        hash = hash_of(**said)
        entry = Entered(**said, hash=hash, signature=key[1].sign(hash) if signs else "")
        prev = entry.link
        yield entry
