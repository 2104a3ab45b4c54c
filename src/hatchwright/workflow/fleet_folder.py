"""The fleet files of a folder of jobs: list, read, change without overwriting anybody's, undo.

Every change is on disk before it is answered; compare and write are one step across threads and programs, with the
jobs of the folder. Their steps are kept in ``.earlier`` as those of the jobs are, and so is each text of a pattern
that was given to a line.
"""

from __future__ import annotations

import os
import re
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from hatchwright.errors import ExportError, JobError
from hatchwright.job.fleet.fleet import SUFFIX, Fleet
from hatchwright.job.text_file import ended_alike, load_text, save_text
from hatchwright.workflow.job_folder import (
    EARLIER,
    ChangedElsewhereError,
    jobs_alone,
    refuse_elsewhere,
    version_of,
)
from hatchwright.workflow.kept_steps import KeptSteps, LastStep

_NAME = re.compile(r"(?!\.)[^/\\\x00-\x1f]{1,100}\.fleet")
_LONGEST_STEM = 60
_GIVEN = "given"
_VERSION = re.compile(r"[0-9a-f]{20}")


class FleetFolder:
    """The fleet files of one folder; nothing outside it is ever read or written."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder.resolve()

    def names(self) -> tuple[str, ...]:
        """File names, in alphabetical order; JobError where the folder is gone or can't be read."""
        try:
            there = [one.name for one in self.folder.iterdir() if one.is_file()]
        except OSError as error:
            why = error.strerror or ""
            raise JobError.about("folder", "error.folder_unread", str(self.folder), why=why) from None
        return tuple(sorted(name for name in there if _NAME.fullmatch(name)))

    def path(self, name: str) -> Path:
        """The file of a fleet; JobError where there is none of that name, or a link leads out of the folder."""
        path = self.folder / name
        try:
            is_there = bool(_NAME.fullmatch(name)) and path.is_file() and path.resolve().parent == self.folder
        except (OSError, RuntimeError, ValueError):
            is_there = False
        if not is_there:
            raise JobError.about("file", "fleet.none_there", name[:80])
        return path

    def read(self, name: str) -> str:
        """The text of a fleet as it is on disk; JobError where there is none, or it is no text."""
        return load_text(self.path(name))

    def fleet(self, name: str) -> Fleet:
        """A fleet as it is on disk; JobError with every fault."""
        return Fleet.read(self.read(name), name=name)

    def new(self, title: str, text: str) -> str:
        """Start a fleet, its file named after the title.

        Raises:
            JobError: the title gives no file name, there is such a file already, or the text is not sound.
        """
        name = named_after(title)
        Fleet.read(text, name=name)
        with self._alone():
            if os.path.lexists(self.folder / name):
                raise JobError.about("title", "fleet.there", title, name=name)
            save_text(self.folder / name, text)
        return name

    def enter(
        self, name: str, base: str, change: Callable[[str], str], *, is_step: bool = True, by: str = ""
    ) -> str:
        """Change the text of a fleet and save it at once.

        Args:
            base: version that the change was made for.
            change: from the present text to the new one.
            is_step: whether it is a step that can be undone; what the program notes itself is none.
            by: name of the person, "" where nobody is asked for it.
        Raises:
            ChangedElsewhereError: the file is not of that version; nothing was written.
            JobError: the fleet would not be sound, or can't be written.
        """
        with self._alone():
            text, steps = self.read(name), self._steps(name)
            _refuse_other(text, base, steps.last())
            new = ended_alike(change(text), like=text)
            if new != text:
                Fleet.read(new, name=name)
                if is_step:
                    steps.earlier.put(text)
                steps.note(LastStep(version=version_of(new), by=by))
                save_text(self.path(name), new)
            return new

    def undo(self, name: str, base: str, *, by: str = "") -> str:
        """Put the text before the last step back; as it was where there is nothing to undo. As `enter` else."""
        with self._alone():
            text, steps = self.read(name), self._steps(name)
            _refuse_other(text, base, steps.last())
            there = steps.earlier.under(text)
            if not there:
                return text
            earlier = load_text(there[-1])
            steps.note(LastStep(version=version_of(earlier), by=by))
            save_text(self.path(name), earlier)
            there[-1].unlink()
            return earlier

    def can_undo(self, name: str) -> bool:
        """Whether a step is kept."""
        return bool(self._steps(name).earlier.under(self.read(name)))

    def keep_given(self, name: str, pattern: str) -> str:
        """Keep a pattern's text that is given to lines of a fleet; its version. JobError where it can't be written."""
        version = version_of(pattern)
        path = self._given(name, version)
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            raise JobError.about("file", "error.folder_unwritten", why=error.strerror or "") from None
        if not path.is_file():
            save_text(path, pattern)
        return version

    def given(self, name: str, version: str) -> str | None:
        """A pattern's text that was given, None where it is not there any more as it was."""
        if not _VERSION.fullmatch(version):
            return None
        try:
            text = load_text(self._given(name, version))
        except JobError:
            return None
        return text if version_of(text) == version else None

    def _given(self, name: str, version: str) -> Path:
        place = self.folder / EARLIER / name / _GIVEN
        refuse_elsewhere(place)
        return place / f"{version}.toml"

    def _steps(self, name: str) -> KeptSteps:
        steps = KeptSteps(self.folder / EARLIER / name)
        refuse_elsewhere(steps.earlier.place, steps.undone.place)
        return steps

    @contextmanager
    def _alone(self) -> Iterator[None]:
        """Nobody else changes a job or a fleet of the folder meanwhile."""
        refuse_elsewhere(self.folder / EARLIER)
        try:
            with jobs_alone(self.folder):
                yield
        except ExportError as error:
            raise JobError(error.as_faults("file")) from None


def _refuse_other(text: str, base: str, last: LastStep) -> None:
    if (now := version_of(text)) != base:
        raise ChangedElsewhereError(text, last.by if last.version == now else "")


def named_after(title: str) -> str:
    """The file name that a title gives; JobError where it gives none."""
    words = "".join(c if c.isascii() and c.isalnum() else " " for c in title.lower()).split()
    if not words:
        raise JobError.about("title", "error.title_file", title)
    return f"{'-'.join(words)[:_LONGEST_STEM].strip('-')}{SUFFIX}"
