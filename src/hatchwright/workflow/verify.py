"""Whether the records of a folder are what was said, in sentences and for programs."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

from hatchwright.errors import RecordError
from hatchwright.records import verify as records
from hatchwright.records.store import Store
from hatchwright.records.verify import Verified
from hatchwright.records.walk import ChainFault
from hatchwright.said import Said, said
from hatchwright.words.tell import tell


def verify_folder(folder: Path, *, head: str = "", mends: bool = False) -> Verified:
    """Look at the whole store of a folder; nothing is made or changed unless asked for.

    Args:
        head: one from paper, "" for none.
        mends: put back what guards and lists the entries, where they themselves are sound.
    Raises:
        RecordError: there are no records or no entry in them, they can't be reached, `head` is none, or nothing is
            there to put back to.
    """
    store = Store.as_it_is(folder)
    try:
        found = records.verify(store, printed=head)
        if not found.entries and found.is_sound:
            raise RecordError.saying("verify.no_entry", where=str(folder))
        return records.mend(store, printed=head) if mends and not found.is_sound else found
    finally:
        store.close()


def head_said(found: Verified) -> Iterator[Said]:
    """What was read, and what the verdict is."""
    yield said(
        "verify.read", n=found.entries, signed=found.signed, head=found.head or "-", at=found.at or "-"
    )
    if found.is_sound:
        yield said("verify.sound")
    elif found.chain:
        yield said("verify.not_sound")
    else:
        yield said("verify.beside")
    if not found.is_whole:
        yield said("verify.not_whole")


def faults_said(found: Verified) -> Iterator[Said]:
    """Each fault with its entry."""
    for fault in found.faults:
        yield _fault_said(fault)


def after_said(found: Verified) -> Iterator[Said]:
    """What the printed head shows, and what to do."""
    if found.printed_seq:
        yield said(
            "verify.printed", head=found.printed, seq=found.printed_seq, n=found.last_seq - found.printed_seq
        )
    elif not found.printed:
        yield said("verify.no_head")
    if found.chain:
        yield said("verify.restore")
    elif found.beside:
        yield said("verify.mend")


def verify_values(found: Verified) -> dict[str, Any]:
    """The same for programs; docs/records.md says what each is."""
    return {
        "sound": found.is_sound,
        "whole": found.is_whole,
        "entries": found.entries,
        "signed": found.signed,
        "head": found.head,
        "newest": found.at,
        "printed_head": found.printed,
        "printed_entry": found.printed_seq,
        "faults": [
            {
                "entry": fault.seq,
                "code": fault.what.id.removeprefix("records.verify."),
                "can_be_put_back": fault in found.beside,
                "text": tell(fault.what),
            }
            for fault in found.faults
        ],
    }


def _fault_said(fault: ChainFault) -> Said:
    if fault.seq:
        return said("verify.fault_at", seq=fault.seq, what=fault.what)
    return said("verify.fault", what=fault.what)
