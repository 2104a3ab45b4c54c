"""How an error is put into words: what is wrong, where, what was given, and what to do next."""

from __future__ import annotations

import re

from hatchwright.errors import Fault, HatchwrightError, JobError
from hatchwright.said import Place, Value, said
from hatchwright.words.tell import ended, tell

_UNPRINTABLE = re.compile(r"[\x00-\x1f\x7f-\x9f\u2028-\u202e\u2066-\u2069]")


def _printable(text: str) -> str:
    """A line without what a terminal would take for an order."""
    return _UNPRINTABLE.sub("?", text)


def fault_text(fault: Fault) -> str:
    """Write a fault on one line, as a command prints it, in the unit of the job that it speaks of."""
    place: Value = fault.field
    if fault.line:
        place = said("fault.line" if fault.field else "fault.whole_line", line=fault.line, field=fault.field)
    what: Value = said("fault.given", what=fault.what, given=fault.given) if fault.given else fault.what
    line = tell(
        said("fault.at", place=place, what=what) if place else said("fault.nowhere", what=what), fault.unit
    )
    return _printable(f"{line} {ended(tell(fault.remedy, fault.unit))}".rstrip())


def fault_sentences(fault: Fault) -> str:
    """Write a fault beside its own entry: one to three short sentences."""
    what = tell(said("fault.what", what=fault.what), fault.unit)
    given = tell(said("fault.was_given", given=fault.given), fault.unit) if fault.given else ""
    return " ".join(filter(None, (what, given, ended(tell(fault.remedy, fault.unit)))))


def error_text(error: HatchwrightError) -> str:
    """Write an error on one line; every fault of a job that is refused."""
    unit = error.unit
    what = tell(error.what, unit)
    if isinstance(error, JobError):
        what = "; ".join(map(fault_text, error.faults))
    if error.place:
        what = tell(said("error.at", what=what, place=Place(*error.place)), unit)
    remedy = tell(error.remedy, unit).removesuffix(".")
    where = tell(error.where, unit)
    return _printable(f"{f'{where}: ' if where else ''}{what}{f'. {remedy}' if remedy else ''}")
