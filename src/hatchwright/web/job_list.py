"""The list of a folder's jobs: what is known of each at once, and the rest judged one by one beside the program."""

from __future__ import annotations

import os
import stat
from collections.abc import Callable, Collection, Iterable
from functools import cache, partial
from hashlib import sha256

from msgspec.structs import replace

from hatchwright.errors import HatchwrightError, JobError
from hatchwright.job.beside_jobs import is_beside_jobs
from hatchwright.job.text_file import LARGEST_FILE_BYTES, load_text, text_in
from hatchwright.judged import Status
from hatchwright.page.files_beside import content_mark
from hatchwright.page.job_line import JobLine, refused_line
from hatchwright.page.screen import Asked
from hatchwright.said import said
from hatchwright.tables.table import ShopTables
from hatchwright.web.in_turn import InTurn
from hatchwright.web.kept_lines import KeptLines, place_of_lines
from hatchwright.web.program_mark import program_mark
from hatchwright.web.workers import line_beside, lines_done
from hatchwright.words.tell import tell
from hatchwright.workflow.job_folder import JobFolder

Judge = Callable[[Asked, bool], JobLine]
"""Judges a job for the list, with or without its strength."""


class JobList:
    """The lines of a folder's jobs. Each text is judged once, by content; strength, which takes long, apart from all
    else, so that no job waits for the strength of another.

    Args:
        shop: the shop's own rows of the tables, by which jobs are judged; None without.
        kept: lines that are known already.
        judge: see `Judge`.
        done: called when nothing is left for `judge`, with or without strength.
    """

    def __init__(
        self,
        jobs: JobFolder,
        shop: ShopTables | None = None,
        *,
        kept: KeptLines | None = None,
        judge: Judge = line_beside,
        done: Callable[[bool], object] = lines_done,
    ) -> None:
        self._jobs = jobs
        self._shop = shop
        self._kept = kept or KeptLines(place_of_lines())
        self.judge = judge
        self._judged_by = f"{program_mark()}\0{shop.digest if shop else ''}\0".encode()
        self._failed: dict[str, JobLine] = {}  # a text that could not be judged is not tried again
        self._first = InTurn(self._judge_first, partial(done, False))
        self._strength = InTurn(self._judge_strength, partial(done, True))

    def lines(self, names: Iterable[str] | None = None) -> dict[str, JobLine | None]:
        """The lines as far as they are known, of all jobs or of those named; what is lacking is judged after this.

        Returns:
            dict: by file name, in alphabetical order where all are asked for; None for a job that is not judged yet.
                Where all are, files of another kind than a job are left out.
        """
        there = self._jobs.names()
        found = self._known(there if names is None else names, frozenset(there), only_jobs=names is None)
        self._first.add(name for name, line in found.items() if line is None)
        self._strength.add(name for name, line in found.items() if line and line.lacks_strength)
        return found

    def _known(
        self, names: Iterable[str], there: Collection[str], *, only_jobs: bool = False
    ) -> dict[str, JobLine | None]:
        keys: dict[str, str] = {}
        found: dict[str, JobLine | None] = {}
        for name in names:
            try:
                text = self._text(name) if name in there else load_text(self._jobs.path(name))
            except JobError as error:
                found[name] = refused_line(error)
            else:
                if only_jobs and is_beside_jobs(text):
                    continue
                found[name] = None
                keys[name] = self._key(text)
        kept = self._kept.get(keys.values())
        mark = cache(lambda file: content_mark(self._jobs.folder / file))  # one file may lie beside many jobs
        for name, key in keys.items():
            line = self._failed.get(key) or JobLine.unpacked(kept.get(key, ""))
            if line and all(mark(file) == before for file, before in line.beside.items()):
                found[name] = line
        return found

    def _text(self, name: str) -> str:
        """The text of a job that is in the folder, in whichever schema; JobError where it cannot be read.

        Most are plain files of text: what `JobFolder` asks besides would take as long as all else of a long list.
        """
        place = os.path.join(self._jobs.folder, name)
        try:
            about = os.lstat(place)
            if stat.S_ISREG(about.st_mode) and about.st_size <= LARGEST_FILE_BYTES:
                with open(place, "rb") as file:
                    text = text_in(file.read())
                if text is not None:
                    return text
        except OSError:
            pass
        return load_text(self._jobs.path(name))  # or why there is none

    def _key(self, text: str) -> str:
        return sha256(self._judged_by + text.encode()).hexdigest()

    def _judge_first(self, name: str) -> None:
        (known,) = self._known([name], [name]).values()
        line = known or self._answer(name)
        if line and line.lacks_strength:
            self._strength.add([name])

    def _judge_strength(self, name: str) -> None:
        (known,) = self._known([name], [name]).values()
        if known and known.lacks_strength:
            self._answer(name, known)

    def _answer(self, name: str, known: JobLine | None = None) -> JobLine | None:
        """Judge a job as it stands now, its strength too where all else is known; None where it cannot be read."""
        try:
            text = self._text(name)
        except JobError:
            return None
        asked = Asked(text, self._jobs.folder, name, shop=self._shop)
        try:
            line = self.judge(asked, known is not None)
        except HatchwrightError:
            self._failed[self._key(text)] = line = _failed(known)
        else:
            self._kept.put(self._key(text), line.packed())
        return line


def _failed(line: JobLine | None) -> JobLine:
    """What is said of a job that got no answer: what was known of it, and that the rest is not shown."""
    head = (Status.UNKNOWN, tell(said("page.line_failed")))
    known = line or JobLine("page.line_unknown")
    return replace(known, heads=(*known.heads, head), lacks_strength=False)
