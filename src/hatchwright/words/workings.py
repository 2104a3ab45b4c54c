"""How a working is put into words, the same everywhere: symbol = value unit, in the unit of the job."""

from __future__ import annotations

from itertools import groupby

from hatchwright.said import said
from hatchwright.units import Unit
from hatchwright.words.amounts import in_unit_of
from hatchwright.words.readings import reading_called
from hatchwright.words.tell import tell
from hatchwright.workings import Quantity, Working


def quantity_text(quantity: Quantity, unit: Unit) -> str:
    """One value of a working, with figures enough to recompute it.

    >>> quantity_text(Quantity("Ftu", 59000.0, "psi"), "mm"), quantity_text(Quantity("n", 4.0, ""), "in")
    ('Ftu = 406.791 MPa', 'n = 4')
    """
    value, named = in_unit_of(quantity.value, quantity.unit.removeprefix("-"), unit)
    return f"{quantity.symbol} = {value:.6g} {named}".rstrip()


def values_text(working: Working, unit: Unit) -> str:
    """What was put in, what is the same said once with how often; "" for nothing."""
    told = []
    for value, same in groupby(working.values):
        times = sum(1 for _ in same)
        text = quantity_text(value, unit)
        told.append(tell(said("working.times", n=times, value=text)) if times > 1 else text)
    return ", ".join(told)


def note_text(working: Working, unit: Unit) -> str:
    """What the symbols cannot say, such as the name of the reading; "" for nothing."""
    named = reading_called(working.reading) if working.reading else None
    return "; ".join(tell(one, unit) for one in (named, working.note) if one)


def working_text(working: Working, unit: Unit) -> str:
    """A working in one line: formula, values put in, result, what is to be said of it, source and grade."""
    result, note = quantity_text(working.result, unit), note_text(working, unit)
    told = "; ".join(filter(None, (working.formula, values_text(working, unit), result, note)))
    return f"{told} [{working.source}; {tell(working.grade, unit)}]"
