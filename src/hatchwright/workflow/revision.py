"""A job as it is kept for good: its file, the files beside it that it reads, and the steps that led to it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path

from msgspec import Struct

from hatchwright.errors import JobError, RecordError
from hatchwright.job.dxf_loop import LARGEST_FILE_BYTES
from hatchwright.job.file import read_job
from hatchwright.job.job import Job
from hatchwright.job.schema import up_to_date
from hatchwright.job.text_file import text_in
from hatchwright.records.canonical import Plain
from hatchwright.records.entry import Entered
from hatchwright.records.kinds import Kind
from hatchwright.records.store import sha256_of
from hatchwright.workflow.job_folder import JobFolder, WholeJob, version_of
from hatchwright.workflow.outline_files import outline_files

OF_A_JOB = (Kind.REVISION, Kind.SIGNED)
"""Kinds of entry that keep a job's file."""


class Revision(Struct, frozen=True):
    """A job at one moment, as bytes.

    Args:
        beside: name and bytes of each file that it reads an outline from.
    """

    whole: WholeJob
    beside: tuple[tuple[str, bytes], ...]
    folder: Path

    @property
    def name(self) -> str:
        """Of the job file."""
        return self.whole.name

    @property
    def text(self) -> str:
        """Of the job, in the present schema."""
        return up_to_date(text_in(self.whole.raw) or "")

    @property
    def version(self) -> str:
        """A short name for exactly this text with exactly these files beside it."""
        return version_of("\0".join((self.text, *(f"{name} {sha256_of(raw)}" for name, raw in self.beside))))

    @contextmanager
    def standing(self) -> Iterator[None]:
        """Nobody changes the job while what stands inside is done.

        Raises:
            RecordError: it is no longer what was read.
            JobError: it is gone, or another program holds the folder for too long.
        """
        with JobFolder(self.folder).held(self.whole) as is_the_same:
            if not is_the_same or _beside(self.folder, self.whole) != self.beside:
                raise RecordError.saying("record_sign.moved_on", where=self.name)
            yield

    def job(self) -> Job:
        """The job itself; JobError with every fault where it is not sound."""
        return read_job(self.text, folder=self.folder, name=self.name)

    def is_kept_by(self, entry: Entered) -> bool:
        """Whether an entry keeps exactly this file with exactly these beside it."""
        body = entry.said
        return bool(body["file"]["sha256"] == sha256_of(self.whole.raw) and body["beside"] == self._beside())

    def body(self, known: Iterable[Entered]) -> dict[str, Plain]:
        """What an entry says of it.

        Args:
            known: earlier entries of the same job; the steps that they name are not named again.
        """
        there = {(step["number"], step["sha256"]) for one in known for step in one.said["steps"]}
        steps: list[Plain] = [
            {"number": number, "sha256": sha256}
            for number, raw in self.whole.steps
            if (number, sha256 := sha256_of(raw)) not in there
        ]
        file: dict[str, Plain] = {"sha256": sha256_of(self.whole.raw)}
        return {"file": file, "beside": self._beside(), "steps": steps, **self._title()}

    def kept(self) -> dict[str, bytes]:
        """All its bytes by their SHA-256."""
        parts = (self.whole.raw, *(raw for _, raw in self.beside), *(raw for _, raw in self.whole.steps))
        return {sha256_of(raw): raw for raw in parts}

    def _beside(self) -> list[Plain]:
        return [{"name": name, "sha256": sha256_of(raw)} for name, raw in self.beside]

    def _title(self) -> dict[str, Plain]:
        try:
            job = self.job()
        except JobError:  # a job that has faults is kept like any other
            return {"title": "", "revision": ""}
        return {"title": job.title, "revision": job.revision}


def revision_of(jobs: JobFolder, name: str) -> Revision:
    """A job as it lies on disk now.

    Raises:
        JobError: there is none of that name, or it can't be read as a text.
    """
    return revision_in(jobs.folder, jobs.whole(name))


def revision_in(folder: Path, whole: WholeJob) -> Revision:
    """A job of a folder with the outlines beside it that it reads."""
    return Revision(whole, _beside(folder, whole), folder)


def _beside(folder: Path, whole: WholeJob) -> tuple[tuple[str, bytes], ...]:
    try:
        names = outline_files(up_to_date(text_in(whole.raw) or ""))
    except JobError:
        names = []
    found = ((one, _read(folder / one)) for one in names)
    return tuple((one, raw) for one, raw in found if raw is not None)


def _read(path: Path) -> bytes | None:
    try:
        is_readable = path.is_file() and path.stat().st_size <= LARGEST_FILE_BYTES
        return path.read_bytes() if is_readable else None
    except OSError:
        return None


def kept_revisions(entries: Iterable[Entered]) -> list[Entered]:
    """Those entries that keep a job's file, the earliest first."""
    return [one for one in entries if one.kind in OF_A_JOB and _keeps_a_file(one)]


def _keeps_a_file(entry: Entered) -> bool:
    """Whether it says what this program says of a revision; what another wrote is for `verify` alone."""
    try:
        body = entry.said
        named = (body["file"], *body["beside"], *body["steps"])
        return all(isinstance(one["sha256"], str) for one in named)
    except (ValueError, KeyError, TypeError):
        return False
