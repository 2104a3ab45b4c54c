"""The code on a sheet: sixteen letters, and their QR square, by which the shop's own page finds the sheet again.

The letters say job, side, paper, sheet and revision to who has the job, and nothing to anybody else: they are no
address, hold no name, and open nothing by themselves.
"""

from __future__ import annotations

import hashlib
import re
from functools import lru_cache

from msgspec import Struct

MODULE_IN = 0.8 / 25.4
"""Side of one square of the code [in]. Measured: read at 150 dpi after two thresholds; .6 mm is not."""

QUIET_MODULES = 4
"""White squares around it [-]. Source: ISO/IEC 18004, seen only restated."""

_LETTERS = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
"""No I, L, O and U, which are misread; all of them are told apart in capitals alone, which make a small code."""

_MISREAD = str.maketrans("ILO", "110")
SIDES = {"CENTER": "0", "LEFT": "1", "RIGHT": "2"}
"""The figure of each side; a paper of several sides has no code."""
_WHOLE = re.compile(rf"[{_LETTERS}]{{6}}[012][{_LETTERS}]{{3}}\d\d[{_LETTERS}]{{4}}")


class SheetCode(Struct, frozen=True):
    """What a code says: five marks of fixed length, of which those of job, paper and revision are drawn from their
    words."""

    job: str
    side: str
    paper: str
    sheet: int
    revision: str

    @property
    def letters(self) -> str:
        """The code as the QR square holds it."""
        return f"{self.job}{SIDES[self.side]}{self.paper}{self.sheet:02d}{self.revision}"

    @property
    def grouped(self) -> str:
        """The code as it is read out and typed."""
        return "-".join(re.findall("....", self.letters))


def code_of(*, title: str, side: str, paper: str, sheet: int, revision: str) -> SheetCode:
    """The code of one sheet.

    Args:
        title: of the job, as typed.
        side: LEFT, RIGHT or CENTER.
        paper: what it is, such as ``annex``.
        sheet: number of the sheet in that paper, of a carry card that of the first step on it; 0 where none is told.
        revision: of the job, as typed.

    >>> code_of(title="Opening", side="LEFT", paper="annex", sheet=2, revision="A").grouped
    '3EZE-GF1Y-AM02-SBN9'
    """
    named = paper_mark(paper)
    return SheetCode(job_mark(title), side, named, sheet if sheet < 100 else 0, revision_mark(revision))


def job_mark(title: str) -> str:
    """What stands for a job, by its title."""
    return _mark(title, 6)


def paper_mark(paper: str) -> str:
    """What stands for a paper, by its name."""
    return _mark(paper, 3)


def revision_mark(revision: str) -> str:
    """What stands for a revision."""
    return _mark(revision, 4)


def read_code(typed: str) -> SheetCode | None:
    """The code that somebody typed or a reader sent, whatever the case, gaps and look-alikes; None where it is none."""
    letters = re.sub(r"[\s-]", "", typed).upper().translate(_MISREAD)
    if not _WHOLE.fullmatch(letters):
        return None
    side = next(name for name, mark in SIDES.items() if mark == letters[6])
    return SheetCode(letters[:6], side, letters[7:10], int(letters[10:12]), letters[12:])


@lru_cache(maxsize=256)
def modules(letters: str) -> tuple[tuple[bool, ...], ...]:
    """The squares of a code, row by row from above, True where one is black; a quarter of it may be lost."""
    import segno

    code = segno.make(letters, error="q", boost_error=False, micro=False)
    return tuple(tuple(map(bool, row)) for row in code.matrix)


@lru_cache(maxsize=1024)
def code_svg(letters: str) -> bytes:
    """A code as a picture, its quiet zone left to who sets it."""
    rows = modules(letters)
    runs = "".join(
        f"M{run.start()} {y}h{len(run[0])}v1h-{len(run[0])}z"
        for y, row in enumerate(rows)
        for run in re.finditer("1+", "".join("01"[one] for one in row))
    )
    side = len(rows)
    size = f'width="{side * MODULE_IN:.6f}in" height="{side * MODULE_IN:.6f}in" viewBox="0 0 {side} {side}"'
    return f'<svg xmlns="http://www.w3.org/2000/svg" {size}><path d="{runs}"/></svg>'.encode()


def _mark(words: str, length: int) -> str:
    number = int.from_bytes(hashlib.sha256(words.encode("utf-8", "surrogatepass")).digest()[:8])
    return "".join(_LETTERS[number >> 5 * place & 31] for place in range(length))
