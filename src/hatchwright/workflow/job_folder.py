"""The folder of jobs: list, read, enter changes without overwriting anybody's, undo and redo.

Every change is on disk before it is answered; compare and write are one step across threads and programs. The steps of
each job are kept beside the jobs in ``.earlier``.
"""

from __future__ import annotations

import hashlib
import itertools
import os
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager, suppress
from errno import ENOENT
from pathlib import Path

from msgspec import Struct

from hatchwright.errors import ExportError, Fault, JobError
from hatchwright.job.file import edited, load_job_text
from hatchwright.job.text_file import HALF_WRITTEN, ended_alike, load_text, save_text
from hatchwright.said import said
from hatchwright.workflow.alone import PATIENCE_S, alone
from hatchwright.workflow.kept_steps import KeptSteps, LastStep, Pile

SUFFIX = ".toml"
EARLIER = ".earlier"
_LONGEST_NAME = 100
_LONGEST_NUMBERED = 90
"""A longer title is cut before a number is put behind it, or the number would not show in the name."""


class ChangedElsewhereError(JobError):
    """The file is no longer the one that a page was filled in from; nothing was written.

    Args:
        text: that it has now.
        by: who changed it, "" where that is not known.
    """

    def __init__(self, text: str, by: str = "") -> None:
        self.text, self.by = text, by
        fault = Fault.saying("file", "people.changed_by", who=by) if by else None
        super().__init__((fault or Fault.saying("file", "error.changed_elsewhere"),))


class Hand(Struct, frozen=True):
    """Who enters a change, so that two pages on one job do not overwrite each other.

    Args:
        page: name of the open page.
        serial: running number of the entry on that page; an older one never follows a newer one.
        step: name of the visit to one box; its changes are one step of undo.
        base: version of the text that the page was filled in from.
        by: name of the person, "" where nobody is asked for it.
    """

    page: str
    serial: int
    step: str
    base: str
    by: str = ""


class EarlierState(Struct, frozen=True):
    """What a job was before a step.

    Args:
        number: by which it is asked for.
        kept_s: when the step was made [s since 1970].
    """

    number: str
    kept_s: float
    _path: Path

    def text(self) -> str:
        """The text in the present schema; JobError where it cannot be read."""
        return load_job_text(self._path)


class WholeJob(Struct, frozen=True):
    """A job as it lies on disk at one moment.

    Args:
        raw: the bytes of its file.
        steps: number and bytes of each text that it had before, the earliest first.
    """

    name: str
    raw: bytes
    steps: tuple[tuple[str, bytes], ...]


def version_of(text: str) -> str:
    """A short name for exactly this text, of 20 hexadecimal digits."""
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()[:20]


class JobFolder:
    """The jobs of one folder; nothing outside it is ever read or written.

    Args:
        patience_s: how long an entry waits for another program that is writing in the folder [s].
    """

    def __init__(self, folder: Path, *, patience_s: float = PATIENCE_S) -> None:
        self.folder = folder.resolve()
        self._patience_s = patience_s

    def names(self) -> tuple[str, ...]:
        """File names of the jobs, in alphabetical order, also of those that a link leads to; JobError where the
        folder is gone or cannot be read."""
        try:
            with os.scandir(self.folder) as there:
                names = [one.name for one in there if not one.is_dir(follow_symlinks=False)]
        except OSError as error:
            why = error.strerror or ""
            raise JobError.about("folder", "error.folder_unread", str(self.folder), why=why) from None
        return tuple(sorted(filter(_is_name, names)))

    def path(self, name: str) -> Path:
        """The file of a job; JobError where there is none of that name in the folder, or a link leads out of it."""
        path = self.folder / name
        try:
            is_there, real = _is_name(name) and path.is_file(), path.resolve()
        except (OSError, RuntimeError, ValueError):  # a name that is too long, a link to itself, a zero byte
            is_there, real = False, path
        if not is_there:
            raise JobError((Fault("file", said("error.no_job"), name[:80], said("error.pick")),))
        if real.parent != self.folder:
            raise JobError.about("file", "error.job_elsewhere", name[:80])
        return path

    def read(self, name: str) -> str:
        """The text of a job as it is on disk, in the present schema; JobError where there is none, or it is
        no text."""
        return load_job_text(self.path(name))

    def new(self, title: str, text: str) -> str:
        """Start a job, its file named after the title; JobError where that gives no file name, or there is such a
        file already.

        Args:
            text: of the job; the title goes into it.
        """
        name = _named_after(title)
        if not name:
            raise JobError.about("title", "error.title_file", title)
        text = edited(text, {"title": title.strip()})
        self.begin(name, text)
        return name

    def begin(self, name: str, text: str) -> None:
        """Start a job under a name; JobError where that is none, or there is such a file already."""
        if not _is_name(name):
            raise JobError.about("title", "error.title_file", name)
        with self._alone():
            if os.path.lexists(self.folder / name):
                raise JobError.about("title", "error.job_there", name, name=name)
            save_text(self.folder / name, text)

    def free_title(self, title: str) -> str:
        """A title after which no job is named yet: the one given, or with a number behind it, where that shows in the
        name of its file."""
        begun = title[:_LONGEST_NUMBERED]
        numbered = (f"{begun} {number}" for number in itertools.count(2))
        titles = itertools.chain((title,), numbered)
        return next(one for one in titles if not os.path.lexists(self.folder / _named_after(one)))

    def enter(self, name: str, hand: Hand, change: Callable[[str], str]) -> str:
        """Change a job's text and save it at once.

        Args:
            change: from the present text to the new one.
        Returns:
            str: the text that is now on disk; unchanged when a newer entry of the same page is already in it.
        Raises:
            ChangedElsewhereError: the file is not the one that the page was filled in from.
            JobError: the change cannot be made, or the file cannot be written.
        """
        with self._alone():
            text, steps = self.read(name), self._steps(name)
            last, now = steps.last(), version_of(text)
            is_own = last.page == hand.page and last.version == now
            if is_own and hand.serial <= last.serial:
                return text
            if now != hand.base and not is_own:
                raise ChangedElsewhereError(text, last.by if last.version == now else "")
            new = ended_alike(change(text), like=text)
            goes_on = is_own and last.step == hand.step != ""
            if new != text:
                if not goes_on:
                    steps.earlier.put(text)
                steps.undone.clear()
            # Noted before it is written: a page whose program is ended in between finds the file as it left it.
            step = hand.step if new != text or goes_on else ""
            steps.note(LastStep(hand.page, hand.serial, step, version_of(new), hand.by))
            if new != text:
                save_text(self.path(name), new)
            return new

    def undo(self, name: str, base: str, by: str = "") -> str:
        """Put the text before the last step back, also where the file can't be read any more.

        Args:
            base: version that the page shows, or `spoilt` gave.
            by: name of the person, "" where nobody is asked for it.
        Returns:
            str: what is now on disk; as it was when there is nothing to undo.
        Raises:
            ChangedElsewhereError: the file is not of that version.
            JobError: the file cannot be read or written.
        """
        with self._alone():
            steps = self._steps(name)
            if self.spoilt(name) == base != "":
                return self._moved(name, None, steps.earlier, steps.undone, by)
            return self._moved(name, self._shown(name, base), steps.earlier, steps.undone, by)

    def redo(self, name: str, base: str, by: str = "") -> str:
        """Put back what was undone last; the same text when there is nothing to put back, and the same errors
        as of `undo`."""
        with self._alone():
            steps = self._steps(name)
            return self._moved(name, self._shown(name, base), steps.undone, steps.earlier, by)

    def spoilt(self, name: str) -> str:
        """The version of a file that is no text of a job any more, if an earlier text can be put back; else ""."""
        path = self.path(name)
        try:
            self.read(name)
        except JobError:
            about = path.stat()
            is_kept = bool(self._steps(name).earlier.under(None))
            return f"{about.st_size}-{about.st_mtime_ns}" if is_kept else ""
        return ""

    def steps(self, name: str) -> tuple[int, int]:
        """How many steps can be undone, and how many put back."""
        steps, text = self._steps(name), load_text(self.path(name))
        return len(steps.earlier.under(text)), len(steps.undone.under(text))

    def last_step(self, name: str) -> str:
        """What the step was called that made a job what it is, "" where that is not known."""
        last = self._steps(name).last()
        return last.step if last.version == version_of(self.read(name)) else ""

    def earlier_texts(self, name: str) -> Iterator[str]:
        """Earlier texts of a job that can be read, the latest first."""
        for path in reversed(self._steps(name).earlier.under(None)):
            with suppress(JobError):
                yield load_job_text(path)

    def earlier_states(self, name: str) -> tuple[EarlierState, ...]:
        """The texts that a job had before each kept step, the latest first."""
        there = self._steps(name).earlier.under(load_text(self.path(name)))
        return tuple(EarlierState(path.stem, path.stat().st_mtime, path) for path in reversed(there))

    def whole(self, name: str) -> WholeJob:
        """A job's file with the steps that led to it; nobody changes it while it is read.

        Raises:
            JobError: there is none of that name, or it can't be read.
        """
        with self._alone():
            path = self.path(name)
            text = load_text(path)
            there = self._steps(name).earlier.under(text)
            return WholeJob(name, path.read_bytes(), tuple((one.stem, one.read_bytes()) for one in there))

    @contextmanager
    def held(self, whole: WholeJob) -> Iterator[bool]:
        """Nobody changes a job while what stands inside is done; whether its file is still as it was read."""
        with self._alone():
            yield self.path(whole.name).read_bytes() == whole.raw

    def sweep_up(self) -> None:
        """Take away what a program left that was ended while it wrote."""
        places = (self.folder, self.folder / EARLIER)
        left = [path for place in places for path in place.glob(f"{HALF_WRITTEN}*")]
        left += (self.folder / EARLIER).glob(f"*/**/{HALF_WRITTEN}*")
        if left:
            with suppress(JobError, OSError), self._alone():  # nobody is writing now
                for path in left:
                    path.unlink(missing_ok=True)

    @contextmanager
    def _alone(self) -> Iterator[None]:
        """Compare and write as one step: no other thread or program does so in this folder meanwhile."""
        if not self.folder.is_dir():
            raise JobError.about("folder", "error.folder_unread", str(self.folder), why=os.strerror(ENOENT))
        refuse_elsewhere(self.folder / EARLIER)
        try:
            with jobs_alone(self.folder, patience_s=self._patience_s):
                yield
        except ExportError as error:
            raise JobError(error.as_faults("file")) from None

    def _steps(self, name: str) -> KeptSteps:
        place = self.path(name).parent / EARLIER / name
        steps = KeptSteps(place)
        refuse_elsewhere(place, steps.undone.place)
        return steps

    def _shown(self, name: str, base: str) -> str:
        text, last = self.read(name), self._steps(name).last()
        if (now := version_of(text)) != base:
            raise ChangedElsewhereError(text, last.by if last.version == now else "")
        return text

    def _moved(self, name: str, present: str | None, taken: Pile, given: Pile, by: str) -> str:
        """Put the top of one pile into the file, and what the file holds onto the other pile."""
        there = taken.under(present)
        if not there:
            return self.read(name)
        path, text = self.path(name), load_job_text(there[-1])
        given.put(path.read_bytes() if present is None else present)
        self._steps(name).note(LastStep(version=version_of(text), by=by))
        save_text(path, text)
        there[-1].unlink()
        return text


def jobs_alone(folder: Path, *, patience_s: float = PATIENCE_S) -> AbstractContextManager[None]:
    """Nobody else changes a job of a folder while what stands inside is done; see `alone`."""
    return alone(folder / EARLIER / "lock", patience_s=patience_s)


def refuse_elsewhere(*places: Path) -> None:
    """JobError where one is a link, or below one."""
    for place in places:
        try:
            is_here = place.resolve() == place
        except (OSError, RuntimeError):  # a link to itself
            is_here = False
        if not is_here:
            raise JobError.about("file", "error.earlier_elsewhere", str(place))


def _named_after(title: str) -> str:
    """The file name that a title gives; "" where it gives none."""
    words = "".join(c if c.isascii() and c.isalnum() else " " for c in title.lower()).split()
    stem = "-".join(words)[:_LONGEST_NAME]
    return f"{stem}{SUFFIX}" if stem else ""


def _is_name(name: str) -> bool:
    """Whether a name is that of a job file right in a folder."""
    try:
        name.encode("utf-8")
    except UnicodeEncodeError:
        return False
    return name.endswith(SUFFIX) and not name.startswith(".") and not set(name) & set("/\\\0")
