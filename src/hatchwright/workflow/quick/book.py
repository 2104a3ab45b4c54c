"""The quick answers there are: every file of `answers` is one, and a new one is found by being there."""

from __future__ import annotations

import difflib
import importlib
import pkgutil
import re
from collections.abc import Mapping
from functools import cache

from msgspec.structs import replace

from hatchwright.errors import EntryError, Fault, HatchwrightError, JobError
from hatchwright.job.entered_file import read_entries
from hatchwright.job.job_fields import JobField, fields_of
from hatchwright.said import Listed, said
from hatchwright.tables.table import ShopTables
from hatchwright.units import Unit
from hatchwright.workflow.quick import answers
from hatchwright.workflow.quick.answer import Answer, Bench, Quick

_BARE = re.compile(r"[-+]?[\d.,/ ]+")
"""A number without a unit; what begins with # or ends with a letter is a drill or has its unit."""


@cache
def quick_names() -> tuple[str, ...]:
    """The names of all answers."""
    return tuple(sorted(module.name for module in pkgutil.iter_modules(answers.__path__)))


def quick(name: str) -> Quick:
    """One answer by its name.

    Raises:
        EntryError: there is none of that name.
    """
    names = quick_names()
    if name not in names:
        near = difflib.get_close_matches(name, names, n=1) or names
        remedy = said("quick.unknown.do", names=Listed(tuple(near), "or"))
        raise EntryError(said("quick.unknown"), where=name[:40], remedy=remedy)
    found: Quick = importlib.import_module(f"{answers.__name__}.{name}").QUICK
    return found


def all_quick() -> tuple[Quick, ...]:
    """Every answer."""
    return tuple(map(quick, quick_names()))


def entries_of(one: Quick) -> tuple[JobField, ...]:
    """What an answer asks, each entry with label, help and kind as that of a job."""
    return fields_of(one.asks)


def with_unit(field: JobField, text: str, unit: Unit) -> str:
    """What was typed into an entry with the unit that it is read in, where it bears none.

    >>> from hatchwright.job.job_fields import fields_of
    >>> from hatchwright.job.skin import Curvature
    >>> [with_unit(fields_of(Curvature)[1], text, "in") for text in ("8", "200 mm")]
    ['8 in', '200 mm']
    """
    is_length = field.kind in ("length", "coordinate", "diameter")
    return f"{text} {unit}" if is_length and _BARE.fullmatch(text) else text


def work_out(
    one: Quick, typed: Mapping[str, str], *, unit: Unit = "in", shop: ShopTables | None = None
) -> Answer:
    """Read what was typed and make the answer.

    Args:
        typed: each entry by its name; what is blank is not entered.
        unit: of bare lengths, and of what is told.
        shop: the shop's own rows of the tables, None without.
    Raises:
        JobError: every fault of what was typed, or why there is no answer to it.
    """
    held = {name: value.strip() for name, value in typed.items() if value.strip()}
    asked = read_entries(one.asks, held, unit=unit, manual=said("quick.manual"))
    try:
        return one.work_out(asked, Bench(unit, shop))
    except JobError as error:
        faults = error.faults
    except HatchwrightError as error:
        faults = (_at_its_entry(error, one),)
    raise JobError(tuple(replace(fault, given=held.get(fault.field, ""), unit=unit) for fault in faults))


def _at_its_entry(error: HatchwrightError, one: Quick) -> Fault:
    """The error as a fault of the entry that it names as a job would, else of the first."""
    names = tuple(one.asks.model_fields)
    where = error.where if isinstance(error.where, str) else ""
    named = where.rpartition(".")[2].removesuffix("_in")
    fault = error.as_fault(names[0])
    return replace(fault, field=named if named in names else names[0])
