"""What stops us: one family of errors.

    HatchwrightError
    ├── EntryError      a typed value that cannot be read
    ├── JobError        a job file that is refused; carries every fault at once
    ├── TableError      a look-up outside a published table, or a table that is not sound
    ├── GeometryError   a profile that cannot be offset, joined or measured
    ├── SolveError      an analysis that cannot be carried through
    ├── ExportError     a drawing or paper that could not be written or did not read back
    └── RecordError     a record that cannot be kept

An error means that we cannot go on. An engineering answer, even a bad one, is a `finding.Finding`.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong with what was entered.

    Args:
        field: dotted name of the field, such as ``opening.corner_radius``.
        what: what is wrong, in plain words.
        given: the text that was typed, or "" when nothing was.
        remedy: what would do instead.
        line: line of the file, counted from 1, or None when it has none.
    """

    field: str
    what: str
    given: str = ""
    remedy: str = ""
    line: int | None = None

    def __str__(self) -> str:
        place = f"line {self.line}, {self.field}" if self.line else self.field
        given = f" (given: {self.given})" if self.given else ""
        remedy = f" {self.remedy}" if self.remedy else ""
        return f"{place}: {self.what}{given}.{remedy}"


class HatchwrightError(Exception):
    """The root of the family: what went wrong, where, and what to do next."""

    def __init__(self, what: str, *, where: str = "", remedy: str = "") -> None:
        self.what = what
        self.where = where
        self.remedy = remedy
        super().__init__(what)

    def __str__(self) -> str:
        where = f"{self.where}: " if self.where else ""
        remedy = f". {self.remedy}" if self.remedy else ""
        return f"{where}{self.what}{remedy}"


class EntryError(HatchwrightError):
    """A typed value cannot be read, or could be read in two ways."""


class JobError(HatchwrightError):
    """A job is refused; `faults` holds everything that is wrong with it, gathered."""

    def __init__(self, faults: tuple[Fault, ...], *, where: str = "") -> None:
        self.faults = faults
        super().__init__("; ".join(str(fault) for fault in faults), where=where)


class TableError(HatchwrightError):
    """A look-up lies outside the published table, or a table row is not sound."""


class GeometryError(HatchwrightError):
    """A profile cannot be used; `place` is the point concerned (x, y) [in], when there is one."""

    def __init__(
        self, what: str, *, where: str = "", remedy: str = "", place: tuple[float, float] | None = None
    ) -> None:
        self.place = place
        super().__init__(what, where=where, remedy=remedy)

    def __str__(self) -> str:
        at = f" at ({self.place[0]:.4f}, {self.place[1]:.4f})" if self.place else ""
        where = f"{self.where}: " if self.where else ""
        remedy = f". {self.remedy}" if self.remedy else ""
        return f"{where}{self.what}{at}{remedy}"


class SolveError(HatchwrightError):
    """An analysis cannot be carried through."""


class ExportError(HatchwrightError):
    """A drawing or paper could not be written, or did not read back as it was meant."""


class RecordError(HatchwrightError):
    """A record cannot be kept or cannot be trusted."""
