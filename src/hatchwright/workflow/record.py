"""Record a job: an entry of the chain without a signature, with the file as it is and the steps that led to it."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from msgspec import Struct

from hatchwright.errors import RecordError
from hatchwright.records.entry import Entered
from hatchwright.records.kinds import Kind
from hatchwright.records.people import Role
from hatchwright.records.store import Store
from hatchwright.workflow.job_folder import ChangedElsewhereError, JobFolder
from hatchwright.workflow.revision import Revision, kept_revisions, revision_of

LONGEST_NAME = 120
LONGEST_NOTE = 600


class Recorded(Struct, frozen=True):
    """A job in the chain.

    Args:
        entry: that keeps it.
        is_new: whether it was made now; else the newest one keeps exactly this already.
    """

    entry: Entered
    is_new: bool


def record_job(
    jobs: JobFolder, name: str, *, author: str, now: datetime, note: str = "", base: str = ""
) -> Recorded:
    """Keep a job as it is, unsigned.

    Args:
        author: who records it, as typed; nothing proves the name.
        now: with its time zone.
        note: what it is recorded for; with one it is recorded again even where nothing was changed.
        base: `Revision.version` that the author has before him, "" for whatever is on disk.
    Raises:
        JobError: there is no such job, or it is another by now.
        RecordError: no name, or the store refuses; nothing was recorded then.
    """
    author, note = named(author), note.strip()[:LONGEST_NOTE]
    revision = seen_revision(jobs, name, base)
    store = Store.opened(jobs.folder)
    after = store.newest_seq(name)
    known = kept_revisions(store.entries(about=name))
    if known and not note and revision.is_kept_by(known[-1]):
        return Recorded(known[-1], is_new=False)
    body = {**revision.body(known), "note": note}
    with revision.standing():
        entry = store.add(
            Kind.REVISION, name, body, author=author, now=now, kept=revision.kept(), after=after
        )
    return Recorded(entry, is_new=True)


def seen_revision(jobs: JobFolder, name: str, base: str) -> Revision:
    """A job as it is, where it is still the one that somebody has before him.

    Raises:
        ChangedElsewhereError: it is another by now.
    """
    revision = revision_of(jobs, name)
    if base and revision.version != base:
        raise ChangedElsewhereError(revision.text)
    return revision


def named(name: str) -> str:
    """A name as it goes into the chain.

    Raises:
        RecordError: there is none, or it can't be printed.
    """
    name = " ".join(name.split())
    if not name or len(name) > LONGEST_NAME or not name.isprintable():
        raise RecordError.saying("record_sign.no_name", where="name", most=LONGEST_NAME)
    return name


def who_records(store: Store | None, typed: str) -> str:
    """The name as typed; left out, that of the one person who may record and sign.

    Raises:
        RecordError: it was left out, and there are several or none.
    """
    found = [one.name for one in store.people().values() if one.may(Role.MECHANIC)] if store else []
    if not typed and len(found) != 1:
        raise RecordError.saying("record_sign.whose", where="--name")
    return typed or found[0]


def store_of(folder: Path) -> Store | None:
    """The store of a folder; None where nothing was recorded there, for looking makes none.

    Raises:
        RecordError: it can't be read.
    """
    return Store.opened(folder) if Store.is_there(folder) else None
