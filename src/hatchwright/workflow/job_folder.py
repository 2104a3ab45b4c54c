"""The folder of jobs: list, read, enter changes without overwriting anybody's, undo and redo.

Every change is on disk before it is answered. Earlier texts are kept beside the jobs in ``.earlier``.
"""

from __future__ import annotations

import hashlib
import threading
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

from hatchwright.errors import Fault, JobError
from hatchwright.job.file import edited, load_job_text, save_text
from hatchwright.said import said
from hatchwright.workflow.new_job import NEW_JOBS, starting_text

SUFFIX = ".toml"
EARLIER = ".earlier"
MOST_EARLIER = 200
"""Earlier texts kept of one job; the oldest go first."""

_LONGEST_NAME = 100


class ChangedElsewhereError(JobError):
    """The file is no longer the one that a page was filled in from; nothing was written."""

    def __init__(self, text: str) -> None:
        self.text = text
        super().__init__((Fault.saying("file", "error.changed_elsewhere"),))


@dataclass(frozen=True, slots=True)
class Hand:
    """Who enters a change, so that two pages on one job do not overwrite each other.

    Args:
        page: name of the open page.
        serial: running number of the entry on that page; an older one never follows a newer one.
        step: name of the visit to one box; its changes are one step of undo.
        base: version of the text that the page was filled in from.
    """

    page: str
    serial: int
    step: str
    base: str


@dataclass(slots=True)
class _Last:
    """The last change of a job by this program: by which page and step, and the version that it left."""

    page: str = ""
    step: str = ""
    version: str = ""
    serials: dict[str, int] = field(default_factory=dict)
    later: list[str] = field(default_factory=list)


def version_of(text: str) -> str:
    """A short name for exactly this text, of 20 hexadecimal digits."""
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()[:20]


class JobFolder:
    """The jobs of one folder; nothing outside it is ever read or written."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder.resolve()
        self._lock = threading.RLock()
        self._last: dict[str, _Last] = {}

    def names(self) -> tuple[str, ...]:
        """File names of the jobs, in alphabetical order."""
        found = (path.name for path in self.folder.glob(f"*{SUFFIX}") if path.is_file())
        return tuple(sorted(name for name in found if self._is_ours(name)))

    def _is_ours(self, name: str) -> bool:
        """Whether a name is that of a job file right in the folder, reached by no detour."""
        try:
            name.encode("utf-8")
        except UnicodeEncodeError:
            return False
        if not name.endswith(SUFFIX) or name.startswith(".") or set(name) & set("/\\\0"):
            return False
        return (self.folder / name).resolve().parent == self.folder

    def path(self, name: str) -> Path:
        """The file of a job; JobError where there is none of that name in the folder."""
        if self._is_ours(name) and (self.folder / name).is_file():
            return self.folder / name
        raise JobError((Fault("file", said("error.no_job"), name[:80], said("error.pick")),))

    def read(self, name: str) -> str:
        """The text of a job as it is on disk, in the present schema; JobError where there is none, or it is
        no text."""
        return load_job_text(self.path(name))

    def new(self, title: str, kind: str = NEW_JOBS[0]) -> str:
        """Start a job with the round numbers of its kind, its file named after the title; JobError where that
        gives no file name, there is such a file already, or no such kind."""
        words = "".join(c if c.isascii() and c.isalnum() else " " for c in title.lower()).split()
        stem = "-".join(words)[:_LONGEST_NAME]
        if not stem:
            raise JobError.about("title", "error.title_file", title)
        name = f"{stem}{SUFFIX}"
        text = edited(starting_text(kind), {"title": title.strip()})
        with self._lock:
            if (self.folder / name).exists():
                raise JobError.about("title", "error.job_there", title, name=name)
            save_text(self.folder / name, text)
        return name

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
        with self._lock:
            text = self.read(name)
            last = self._last.setdefault(name, _Last())
            if hand.serial <= last.serials.get(hand.page, -1):
                return text
            now = version_of(text)
            is_own = last.page == hand.page and last.version == now
            if now != hand.base and not is_own:
                raise ChangedElsewhereError(text)
            new = change(text)
            last.serials[hand.page] = hand.serial
            if new != text:
                if not (is_own and last.step == hand.step and hand.step):
                    self._keep_earlier(name, text)
                save_text(self.path(name), new)
                last.page, last.step, last.version, last.later = hand.page, hand.step, version_of(new), []
            return new

    def undo(self, name: str, base: str) -> str:
        """Put the text before the last step back; the same text when there is nothing to undo, and
        ChangedElsewhereError where the file is not of the version that the page shows."""
        with self._lock:
            text = self._shown(name, base)
            kept = self._earlier(name)
            if not kept:
                return text
            earlier = load_job_text(kept[-1])
            save_text(self.path(name), earlier)
            kept[-1].unlink()
            later = [*self._last.setdefault(name, _Last()).later, text]
            self._last[name] = _Last(later=later)
            return earlier

    def redo(self, name: str, base: str) -> str:
        """Put back what was undone last; the same text when there is nothing to put back, and the same error
        as of `undo`."""
        with self._lock:
            text = self._shown(name, base)
            later = list(self._last.setdefault(name, _Last()).later)
            if not later:
                return text
            again = later.pop()
            self._keep_earlier(name, text)
            save_text(self.path(name), again)
            self._last[name] = _Last(later=later)
            return again

    def steps(self, name: str) -> tuple[int, int]:
        """How many steps can be undone, and how many put back."""
        return len(self._earlier(name)), len(self._last.get(name, _Last()).later)

    def earlier_texts(self, name: str) -> tuple[str, ...]:
        """Earlier texts of a job, the latest first."""
        return tuple(load_job_text(path) for path in reversed(self._earlier(name)))

    def _shown(self, name: str, base: str) -> str:
        text = self.read(name)
        if version_of(text) != base:
            raise ChangedElsewhereError(text)
        return text

    def _earlier(self, name: str) -> list[Path]:
        return sorted((self.folder / EARLIER / name).glob(f"*{SUFFIX}"))

    def _keep_earlier(self, name: str, text: str) -> None:
        kept = self._earlier(name)
        number = int(kept[-1].stem) + 1 if kept else 1
        place = self.folder / EARLIER / name
        try:
            place.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            raise JobError.about("file", "error.folder_unwritten", why=error.strerror or "") from None
        save_text(place / f"{number:08d}{SUFFIX}", text)
        for path in kept[: max(0, len(kept) + 1 - MOST_EARLIER)]:
            path.unlink(missing_ok=True)
