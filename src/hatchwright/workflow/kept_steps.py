"""The steps of one job, on disk beside it: texts before each step, those that were undone, and whose the last was.

A folder of a job's steps holds ``00000001.toml`` and on, ``undone`` with the same, and ``last.json``. Whatever else
lies there, such as what a program that copies folders has left, is somebody else's: it is passed over and stays.
"""

from __future__ import annotations

import json
import os
import re
from pathlib import Path

from msgspec import Struct
from msgspec.structs import asdict

from hatchwright.errors import JobError
from hatchwright.job.text_file import load_text, save_bytes, save_text

MOST_KEPT = 200
"""Texts kept of one job; the oldest go first."""

_OURS = re.compile(r"0[0-9]{7}\.toml")
"""Ours begin with a zero: nobody takes ten million steps, and a foreign file of a great number ends no count."""


class LastStep(Struct, frozen=True):
    """The last entry of a job: by which page, its number there, its step of undo, the version that it left, and by whom
    ("" where nobody is asked for his name)."""

    page: str = ""
    serial: int = -1
    step: str = ""
    version: str = ""
    by: str = ""


class Pile:
    """Texts of a job in a folder of their own, the latest on top."""

    def __init__(self, place: Path) -> None:
        self.place = place

    def under(self, present: str | None) -> list[Path]:
        """The texts, the top one last; on top, what cannot be read is none, nor is the present text, which a program
        left there that was ended on its way from one to the other."""
        there = self._there()
        while there and _text(there[-1]) in (None, present):
            there.pop()
        return there

    def put(self, held: str | bytes) -> None:
        """Lay a text on top, unless it is there already, or the bytes of what can't be read as one.

        Raises:
            JobError: the folder cannot be written.
        """
        there = self._there()
        if there and _text(there[-1]) == held:
            return
        number = int(there[-1].stem) + 1 if there else 1
        try:
            self.place.mkdir(parents=True, exist_ok=True)
            while os.path.lexists(self.place / f"{number:08d}.toml"):
                number += 1
            top = self.place / f"{number:08d}.toml"
            if isinstance(held, bytes):
                save_bytes(top, held)
            else:
                save_text(top, held)
            for path in there[: max(0, len(there) + 1 - MOST_KEPT)]:
                path.unlink(missing_ok=True)
        except OSError as error:
            raise JobError.about("file", "error.folder_unwritten", why=error.strerror or "") from None

    def clear(self) -> None:
        """Take every text away."""
        for path in self._there():
            path.unlink(missing_ok=True)

    def _there(self) -> list[Path]:
        try:
            found = [path for path in self.place.iterdir() if _OURS.fullmatch(path.name) and path.is_file()]
        except OSError:
            return []
        return sorted(found)


class KeptSteps:
    """The steps of one job.

    Args:
        place: their folder; made with the first step.
    """

    def __init__(self, place: Path) -> None:
        self.earlier = Pile(place)
        self.undone = Pile(place / "undone")
        self._last = place / "last.json"

    def last(self) -> LastStep:
        """The last entry; one of nobody where none is known."""
        try:
            known = LastStep(**json.loads(self._last.read_bytes())) if self._last.is_file() else LastStep()
            is_sound = isinstance(known.serial, int) and isinstance(known.by, str)
            return known if is_sound else LastStep()
        except (OSError, ValueError, TypeError, RecursionError):
            return LastStep()

    def note(self, last: LastStep) -> None:
        """Keep the last entry in mind, also for the next start of the program.

        Raises:
            JobError: the folder cannot be written.
        """
        try:
            self._last.parent.mkdir(parents=True, exist_ok=True)
            save_bytes(self._last, json.dumps(asdict(last)).encode())
        except OSError as error:
            raise JobError.about("file", "error.folder_unwritten", why=error.strerror or "") from None


def _text(path: Path) -> str | None:
    try:
        return load_text(path)
    except JobError:
        return None
