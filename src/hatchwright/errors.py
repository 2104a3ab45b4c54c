"""What stops us: one family of errors.

    HatchwrightError
    ├── EntryError      a typed value that cannot be read
    ├── JobError        a job file that is refused; carries every fault at once
    ├── TableError      a look-up outside a published table, or a table that is not sound
    ├── UnlistedError   the size of a fastener that no table lists was asked for
    ├── GeometryError   a profile that cannot be offset, joined or measured
    ├── SolveError      an analysis that cannot be carried through
    ├── ScanError       a picture that cannot be measured from
    ├── RoomError       memory that ran out
    ├── RecordError     the store of what was said and signed can't be opened, added to or trusted
    └── ExportError     a drawing or paper that could not be written or did not read back

An error means that we cannot go on. An engineering answer, even a bad one, is a `finding.Finding`. What is wrong and
what to do are sentences of the catalogue, made where they are shown (`words.refusals`).
"""

from __future__ import annotations

import errno
import re
from typing import Literal, Self

from msgspec import Struct

from hatchwright.said import Said, Value, said


class Fault(Struct, frozen=True):
    """One thing wrong with what was entered.

    Args:
        field: dotted name of the field, such as ``opening.radius``.
        what: what is wrong, without a period.
        given: what was entered, or "" when nothing was.
        remedy: what would do instead, whole sentences.
        line: line of the file, counted from 1, or None when it has none.
        unit: in which its lengths are told where nobody asks for another.
    """

    field: str
    what: Said | str
    given: Said | str = ""
    remedy: Said | str = ""
    line: int | None = None
    unit: Literal["in", "mm"] = "in"

    @classmethod
    def saying(
        cls,
        field: str,
        id: str,
        given: Said | str = "",
        *,
        line: int | None = None,
        unit: Literal["in", "mm"] = "in",
        **holes: Value,
    ) -> Self:
        """A fault whose sentences stand together: `<id>` says what is wrong, `<id>.do` what would do instead."""
        return cls(field, said(id, **holes), given, said(f"{id}.do", **holes), line, unit)

    def __str__(self) -> str:
        # An error is below the words that tell it: they are fetched when it is shown, never when it is raised.
        from hatchwright.words.refusals import fault_text

        return fault_text(self)


class HatchwrightError(Exception):
    """The root of the family: what went wrong, where, and what to do next.

    Args:
        what: what is wrong, without a period.
        where: the dotted name of the field, or the thing concerned.
        unit: in which its lengths are told where nobody asks for another.
        place: point concerned (x, y), None for none [in].
    """

    def __init__(
        self,
        what: Said | str,
        *,
        where: Said | str = "",
        remedy: Said | str = "",
        unit: Literal["in", "mm"] = "in",
        place: tuple[float, float] | None = None,
    ) -> None:
        self.what, self.where, self.remedy, self.unit, self.place = what, where, remedy, unit, place
        super().__init__(what)

    @classmethod
    def saying(
        cls, id: str, *, where: Said | str = "", unit: Literal["in", "mm"] = "in", **holes: Value
    ) -> Self:
        """An error whose sentences stand together: `<id>` says what is wrong, `<id>.do` what to do next."""
        return cls(said(id, **holes), where=where, remedy=said(f"{id}.do", **holes), unit=unit)

    def __str__(self) -> str:
        from hatchwright.words.refusals import error_text

        return error_text(self)

    def as_fault(self, field: str) -> Fault:
        """The same as a fault of an entry, put at this field when it names no place itself."""
        own = self.where if isinstance(self.where, str) else ""
        return Fault(own or field, self.what, remedy=self.remedy, unit=self.unit)

    def as_faults(self, field: str) -> tuple[Fault, ...]:
        """The same as faults, all that a refused job has, or the one of an entry; see `as_fault`."""
        return (self.as_fault(field),)


class EntryError(HatchwrightError):
    """A typed value cannot be read, or could be read in two ways."""


class JobError(HatchwrightError):
    """A job is refused; `faults` holds everything that is wrong with it, gathered."""

    def __init__(self, faults: tuple[Fault, ...], *, where: str = "") -> None:
        self.faults = faults
        super().__init__(faults[0].what if faults else "", where=where)
        self.args = (faults,)  # what it is made of again when it travels between processes

    @classmethod
    def about(
        cls, field: str, id: str, given: Said | str = "", unit: Literal["in", "mm"] = "in", **holes: Value
    ) -> Self:
        """The refusal of a job for one fault; see `Fault.saying`."""
        return cls((Fault.saying(field, id, given, line=None, unit=unit, **holes),))

    def as_faults(self, field: str) -> tuple[Fault, ...]:
        """All that is wrong with the job, each at its own field."""
        return self.faults


class TableError(HatchwrightError):
    """A look-up lies outside the published table, or a table row is not sound."""


class UnlistedError(HatchwrightError):
    """The size of a hole's fastener is asked for, and no table lists that fastener.

    Not a `TableError`: who goes on where a row is missing must not go on with a hole whose fastener is not known.
    """


class GeometryError(HatchwrightError):
    """A profile cannot be used; `place` is the point concerned (x, y) [in], when there is one."""

    @classmethod
    def saying_at(cls, z: complex, id: str, **holes: Value) -> Self:
        """An error about a point x + iy [in]; see `saying`."""
        place = (float(z.real), float(z.imag))
        return cls(said(id, **holes), remedy=said(f"{id}.do", **holes), place=place)


class SolveError(HatchwrightError):
    """An analysis cannot be carried through."""


class ScanError(HatchwrightError):
    """A picture cannot be measured from: nothing of it is used."""


class RoomError(HatchwrightError):
    """Memory ran out; see `out_of_memory`."""


class RecordError(HatchwrightError):
    """The store of what was said and signed can't be opened, added to or trusted; nothing was written."""


class ExportError(HatchwrightError):
    """A drawing or paper could not be written, or did not read back as it was meant."""


_LOADER_SAYS = re.compile("map.segment|allocate.memory")


def out_of_memory(error: Exception) -> RoomError | None:
    """What to tell of a failure for lack of memory, whoever met it: Python and NumPy, the loader of a library, or the
    system; None where it failed for another reason."""
    of_loader = isinstance(error, ImportError) and bool(_LOADER_SAYS.search(str(error)))
    of_system = isinstance(error, OSError) and error.errno == errno.ENOMEM
    is_out = isinstance(error, MemoryError) or of_loader or of_system
    return RoomError.saying("error.no_memory") if is_out else None
