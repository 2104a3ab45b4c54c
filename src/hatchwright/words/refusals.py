"""How an error is put into words: what is wrong, where, what was given, and what to do next."""

from __future__ import annotations

from hatchwright.errors import Fault, HatchwrightError, JobError
from hatchwright.said import Place, Said, Value, said
from hatchwright.units import Unit
from hatchwright.words.catalog import HOME
from hatchwright.words.tell import ended, tell


def fault_text(fault: Fault, unit: Unit | None = None, tongue: str = HOME) -> str:
    """Write a fault on one line, as a command prints it.

    Args:
        unit: of its lengths, None for that of the job that it speaks of.
    """
    unit = unit or fault.unit
    place = said("fault.line", line=fault.line, field=fault.field) if fault.line else fault.field
    what: Value = said("fault.given", what=fault.what, given=fault.given) if fault.given else fault.what
    line = tell(said("fault.at", place=place, what=what), unit, tongue)
    return f"{line} {ended(tell(fault.remedy, unit, tongue))}".rstrip()


def fault_sentences(fault: Fault, unit: Unit | None = None, tongue: str = HOME) -> str:
    """Write a fault beside its own entry: one to three short sentences."""
    unit = unit or fault.unit
    told: list[Said] = [said("fault.what", what=fault.what)]
    if fault.given:
        told.append(said("fault.was_given", given=fault.given))
    lines = [*(tell(one, unit, tongue) for one in told), ended(tell(fault.remedy, unit, tongue))]
    return " ".join(filter(None, lines))


def error_text(error: HatchwrightError, unit: Unit | None = None, tongue: str = HOME) -> str:
    """Write an error on one line; every fault of a job that is refused."""
    unit = unit or error.unit
    if isinstance(error, JobError):
        what = "; ".join(
            fault_text(fault, unit if unit != error.unit else None, tongue) for fault in error.faults
        )
    else:
        what = tell(error.what, unit, tongue)
    if error.place:
        what = tell(said("error.at", what=what, place=Place(*error.place)), unit, tongue)
    remedy = tell(error.remedy, unit, tongue).removesuffix(".")
    where = tell(error.where, unit, tongue)
    return f"{f'{where}: ' if where else ''}{what}{f'. {remedy}' if remedy else ''}"
