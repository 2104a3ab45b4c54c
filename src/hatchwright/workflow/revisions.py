"""The revisions of a job that the chain keeps: who recorded or signed what when, and the bytes as they were then."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from msgspec import Struct

from hatchwright.errors import RecordError
from hatchwright.job.text_file import text_in
from hatchwright.records.entry import Entered
from hatchwright.records.store import Store
from hatchwright.said import Said, Value, said
from hatchwright.workflow.revision import Revision, kept_revisions
from hatchwright.workflow.vouched import vouched

JOB_FILE = "job"
"""Under this name the job's own file is asked for."""


class NotKeptError(RecordError):
    """What is asked for was never kept."""


class KeptFile(Struct, frozen=True):
    """A file that was kept with a revision.

    Args:
        kind, side, written: as of `MadeFile`; "" for a file that the job itself reads.
    """

    name: str
    sha256: str
    kind: str = ""
    side: str = ""
    written: str = ""


class KeptContent(Struct, frozen=True):
    """A kept file with its bytes."""

    name: str
    content: bytes


class KeptRevision(Struct, frozen=True):
    """One revision in the chain.

    Args:
        what: what it was signed for, "" where it was only recorded.
        is_vouched: whether it bears the sound signature of whom it names.
        verdicts: side, and its verdict in words as it was signed.
        steps: how many steps of work were kept with it [-].
    """

    entry: Entered
    what: str
    is_vouched: bool
    title: str
    revision: str
    note: str
    statement: str
    certificate: str
    verdicts: tuple[tuple[str, str], ...]
    files: tuple[KeptFile, ...]
    steps: int

    @property
    def seq(self) -> int:
        """Number of the entry."""
        return self.entry.seq

    @property
    def file(self) -> str:
        """SHA-256 of the job file."""
        return str(self.entry.said["file"]["sha256"])


def revisions_of(store: Store, name: str) -> tuple[KeptRevision, ...]:
    """Every revision of a job that the chain keeps, the newest first."""
    kept = kept_revisions(store.entries(about=name))
    sound = {entry.seq for entry, _ in vouched(store, (one for one in kept if one.is_signed))}
    return tuple(_kept(one, one.seq in sound) for one in reversed(kept))


def revision_numbered(store: Store, name: str, seq: int) -> KeptRevision:
    """One of them.

    Raises:
        NotKeptError: the chain has no such revision of this job.
    """
    entry = store.entry(seq)
    if entry is None or entry.about != name or entry not in kept_revisions([entry]):
        raise NotKeptError.saying("record_sign.no_revision", where=name, number=seq)
    return _kept(entry, any(vouched(store, [entry])))


def kept_text(store: Store, kept: KeptRevision) -> str:
    """The job's text as it was then; RecordError where its bytes are gone or changed."""
    return text_in(store.kept(kept.file)) or ""


def is_as_now(kept: KeptRevision, now: Revision) -> bool:
    """Whether a job is still what a revision keeps."""
    return now.is_kept_by(kept.entry)


def content_of(store: Store, kept: KeptRevision, file: str) -> bytes:
    """The bytes of one of its files by name, of `JOB_FILE` for the job itself.

    Raises:
        NotKeptError: it has no such file.
        RecordError: the bytes are gone or changed.
    """
    if file == JOB_FILE:
        return store.kept(kept.file)
    for one in kept.files:
        if one.name == file:
            return store.kept(one.sha256)
    raise NotKeptError.saying("record_sign.no_file", where=file)


def contents_of(store: Store, kept: KeptRevision) -> Iterator[KeptContent]:
    """Every file of a revision with its bytes, the job's own first; RecordError where some are gone or changed."""
    yield KeptContent(kept.entry.about, store.kept(kept.file))
    for one in kept.files:
        yield KeptContent(one.name, store.kept(one.sha256))


def revision_values(kept: KeptRevision) -> dict[str, Any]:
    """A revision as plain values, documented in docs/record-json.md."""
    return {
        "number": kept.seq,
        "at": kept.entry.at,
        "by": kept.entry.author,
        "signed_for": kept.what,
        "signature_holds": kept.is_vouched,
        "head": kept.entry.head,
        "title": kept.title,
        "revision": kept.revision,
        "note": kept.note,
        "statement": kept.statement,
        "verdicts": [{"side": side, "words": told} for side, told in kept.verdicts],
        "file": kept.file,
        "files": [{"name": one.name, "sha256": one.sha256} for one in kept.files],
        "steps": kept.steps,
    }


def shown_time(at: str) -> str:
    """A time of the chain as a person reads it.

    >>> shown_time("2026-03-09T14:05:00Z")
    '2026-03-09 14:05 UTC'
    """
    return f"{at[:10]} {at[11:16]} UTC"


def past_said(one: KeptRevision) -> Said:
    """A revision in one line of the history."""
    told: dict[str, Value] = {
        "number": one.seq,
        "at": shown_time(one.entry.at),
        "by": one.entry.author,
        "head": one.entry.head,
        "revision": one.revision or "-",
    }
    if not one.what:
        return said("record_sign.line.recorded", note=one.note, **told)
    id = "record_sign.line.signed" if one.is_vouched else "record_sign.line.not_vouched"
    return said(id, what=said(f"record_sign.for.{one.what}"), **told)


def _kept(entry: Entered, is_vouched: bool) -> KeptRevision:
    body = entry.said
    beside = (KeptFile(one["name"], one["sha256"]) for one in body["beside"])
    papers = (
        KeptFile(one["name"], one["sha256"], one["kind"], one["side"], one["written"])
        for one in body.get("papers", ())
    )
    return KeptRevision(
        entry=entry,
        what=body.get("for", ""),
        is_vouched=is_vouched,
        title=body["title"],
        revision=body["revision"],
        note=body.get("note", ""),
        statement=body.get("statement", ""),
        certificate=body.get("certificate", ""),
        verdicts=tuple((one["side"], one["words"]) for one in body.get("verdicts", ())),
        files=(*papers, *beside),
        steps=len(body["steps"]),
    )
