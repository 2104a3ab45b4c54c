"""What a sweep varies: fields of the job file, each over a list or a range of values."""

from __future__ import annotations

import difflib
import itertools
import math
import re
import tomllib
from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction

from msgspec import Struct

from hatchwright.errors import EntryError
from hatchwright.job.entry import Entered
from hatchwright.job.job import Job
from hatchwright.said import Listed, Said, said
from hatchwright.tables.materials import sheet_stock
from hatchwright.tables.table import ShopTables
from hatchwright.units import Unit
from hatchwright.words.tell import tell

MOST_VARIANTS = 5000
"""A larger sweep is a slip of the step."""

_NUMBER = re.compile(r"\d*\.?\d+", re.ASCII)

Variant = tuple[tuple[str, str], ...]
"""Fields and their texts, in the order of the sweep."""


class Variation(Struct, frozen=True):
    """One field and the values that it takes.

    Args:
        field: dotted name as in the job file; a list without a number, such as ``rows.pitch``, means all of it.
        values: texts as they are typed into the job file.
    """

    field: str
    values: tuple[str, ...]


def parse_variation(text: str, shop: ShopTables | None = None, unit: Unit = "in") -> Variation:
    """Read what a person asks to vary.

    Args:
        text: ``doubler.thickness=.025:.050`` (every stock gauge between), ``rows.pitch=.5:.8:.1`` (from, to, step),
            or ``rows.rivet=MS20470AD3,MS20470AD4`` (a list); plain numbers are in the job's own unit.
    Raises:
        EntryError: it cannot be read.

    >>> parse_variation("rows.pitch=.50:.80:.15").values
    ('0.5', '0.65', '0.8')
    """
    field, _, wanted = map(str.strip, text.partition("="))
    if not re.fullmatch(r"\w+(\.\w+)*", field, re.ASCII) or not wanted:
        raise _unreadable(text, said("error.vary_form"), unit)
    if ":" in wanted:
        return Variation(field, _range(text, field, wanted.split(":"), shop, unit))
    values = tuple(value.strip() for value in wanted.split(","))
    if not all(values) or len(set(values)) < len(values):
        raise _unreadable(text, said("error.vary_values"), unit)
    return Variation(field, values)


def _range(
    text: str, field: str, ends: Sequence[str], shop: ShopTables | None, unit: Unit
) -> tuple[str, ...]:
    ends = [end.strip() for end in ends]
    if len(ends) not in (2, 3) or not all(_NUMBER.fullmatch(end) for end in ends):
        raise _unreadable(text, said("error.vary_range"), unit)
    low, high = Fraction(ends[0]), Fraction(ends[1])
    if low > high:
        raise _unreadable(text, said("error.vary_backwards"), unit)
    if len(ends) == 2:
        if not field.endswith("thickness"):
            raise _unreadable(text, said("error.vary_stepless"), unit)
        stock = (one.value for one in sheet_stock(shop))
        if found := [value for value in stock if low <= _gauge_in_unit(value, unit) <= high]:
            return tuple(gauge_text(value, unit) for value in found)
        raise _unreadable(text, said("error.vary_no_gauge"), unit)
    step = Fraction(ends[2])
    if step <= 0:
        raise _unreadable(text, said("error.vary_step"), unit)
    count = int((high - low) / step) + 1
    if count > MOST_VARIANTS:
        raise _unreadable(text, said("error.vary_count", count=count), unit)
    return tuple(f"{float(low + k * step):.6f}".rstrip("0").rstrip(".") for k in range(count))


def _gauge_in_unit(value_in: float, unit: Unit) -> Fraction:
    return Fraction(f"{value_in:.4f}") * (Fraction(254, 10) if unit == "mm" else 1)


def gauge_text(value_in: float, unit: Unit) -> str:
    """A stock gauge as it is typed into a job of that unit, to the last figure [in]."""
    if unit == "in":
        return f"{value_in:.3f} in"
    return f"{float(_gauge_in_unit(value_in, unit)):.5f}".rstrip("0").rstrip(".") + " mm"


def _unreadable(text: str, why: Said, unit: Unit) -> EntryError:
    do = said("job.vary.do.mm" if unit == "mm" else "job.vary.do")
    return EntryError(said("error.vary", text=text, why=why), where="--vary", remedy=do)


def variants_of(variations: Sequence[Variation]) -> tuple[Variant, ...]:
    """Every combination, the last field running fastest; EntryError where nothing is varied, a field is varied
    twice, or there are too many combinations."""
    fields = [variation.field for variation in variations]
    if not fields or len(set(fields)) < len(fields):
        what = said("error.varied_two" if fields else "error.varied_none")
        raise EntryError(what, where="--vary", remedy=said("job.vary_once.do"))
    count = math.prod(len(variation.values) for variation in variations)
    if count > MOST_VARIANTS:
        raise EntryError.saying("error.variants", where="--vary", count=count, most=MOST_VARIANTS)
    combined = itertools.product(*(variation.values for variation in variations))
    return tuple(tuple(zip(fields, values, strict=True)) for values in combined)


def changes_of(job_text: str, variant: Variant) -> Mapping[str, str]:
    """The changes that a variant asks of a job file: dotted field, lists written out with numbers, to its new
    text; EntryError where the job has no such section, or two fields of the variant are one."""
    data = tomllib.loads(job_text, parse_float=str)
    changes: dict[str, str] = {}
    for field, value in variant:
        first, _, rest = field.partition(".")
        entries = data.get(first)
        if first not in data:
            raise _unknown(said("error.no_section", name=first), _nearest(first, data))
        fields = [field]
        if isinstance(entries, list) and rest and not rest.split(".")[0].isdigit():
            fields = [f"{first}.{number}.{rest}" for number in range(len(entries))]
        if not fields:
            raise EntryError.saying("error.none_to_vary", where="--vary", name=first)
        if twice := next((one for one in fields if one in changes), None):
            raise EntryError.saying("error.varied_twice", where="--vary", name=twice)
        changes |= dict.fromkeys(fields, value)
    return changes


def refuse_unknown(job: Job, field: str) -> None:
    """Refuse a field, a dotted name with numbers in lists, that no job file has in that place: the EntryError
    names what is not known, and the nearest that is.

    Only names are looked at: a value that will not do is an answer about its variant.
    """
    node: object = job
    before = tell(said("error.whole_job"))
    for part in field.split("."):
        if isinstance(node, Entered):
            known = _keys(node)
            if part not in known:
                raise _unknown(said("error.has_no", whole=before, part=part), _nearest(part, known))
            node = getattr(node, known[part])
        elif isinstance(node, tuple):
            if not (part.isdigit() and int(part) < len(node)):
                what, count = said("error.has_no", whole=before, part=part), len(node)
                raise _unknown(what, said("error.has_count", count=count))
            node = node[int(part)]
        elif node is None:
            raise _unknown(said("error.not_in_job", whole=before), said("error.not_in_job.do"))
        else:
            what = said("error.single_value", whole=before, part=part)
            raise _unknown(what, said("error.single_value.do", whole=before))
        before = part if before == "the job" else f"{before}.{part}"
    if isinstance(node, Entered):
        do = said("error.whole_section.do", names=Listed(tuple(_keys(node)), ","))
        raise _unknown(said("error.whole_section", name=field), do)
    if isinstance(node, tuple):
        raise EntryError.saying("error.is_list", where="--vary", name=field)


def _keys(section: Entered) -> dict[str, str]:
    """The keys of a section as the job file calls them, to its own names."""
    return {info.alias or name: name for name, info in type(section).model_fields.items()}


def _unknown(what: Said, remedy: Said) -> EntryError:
    return EntryError(what, where="--vary", remedy=remedy)


def _nearest(part: str, known: Iterable[str]) -> Said:
    names = list(known)
    close = difflib.get_close_matches(part, names, n=1)
    return said("error.near", names=close[0]) if close else said("error.has", names=Listed(tuple(names), ","))
