"""What a sweep varies: fields of the job file, each over a list or a range of values."""

from __future__ import annotations

import itertools
import re
import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from hatchwright.errors import EntryError
from hatchwright.tables.materials import sheet_stock
from hatchwright.tables.table import ShopTables

MOST_VARIANTS = 5000
"""A larger sweep is a slip of the step."""

_NUMBER = re.compile(r"\d*\.?\d+", re.ASCII)

Variant = tuple[tuple[str, str], ...]
"""Fields and their texts, in the order of the sweep."""


@dataclass(frozen=True, slots=True)
class Variation:
    """One field and the values that it takes.

    Args:
        field: dotted name as in the job file; a list without a number, such as ``rows.pitch``, means all of it.
        values: texts as they are typed into the job file.
    """

    field: str
    values: tuple[str, ...]


def parse_variation(text: str, shop: ShopTables | None = None) -> Variation:
    """Read what a person asks to vary.

    Args:
        text: ``doubler.thickness=.025:.050`` (every stock gauge between), ``rows.pitch=.5:.8:.1`` (from, to, step),
            or ``rows.rivet=MS20470AD3,MS20470AD4`` (a list); plain numbers are in the job's own unit.
        shop: a shop's own rows, whose stock gauges count too.
    Returns:
        Variation: with at least one value.
    Raises:
        EntryError: it cannot be read.

    >>> parse_variation("rows.pitch=.50:.80:.15").values
    ('0.5', '0.65', '0.8')
    """
    field, mark, wanted = text.partition("=")
    field, wanted = field.strip(), wanted.strip()
    if not mark or not re.fullmatch(r"\w+(\.\w+)*", field, re.ASCII) or not wanted:
        raise _unreadable(text, "a field, an equals sign and values are expected")
    if ":" in wanted:
        return Variation(field, _range(text, field, wanted.split(":"), shop))
    values = tuple(value.strip() for value in wanted.split(","))
    if not all(values) or len(set(values)) < len(values):
        raise _unreadable(text, "a value is empty or stands twice")
    return Variation(field, values)


def _range(text: str, field: str, ends: Sequence[str], shop: ShopTables | None) -> tuple[str, ...]:
    ends = [end.strip() for end in ends]
    if len(ends) not in (2, 3) or not all(_NUMBER.fullmatch(end) for end in ends):
        raise _unreadable(text, "a range is from:to or from:to:step in plain numbers")
    low, high = Fraction(ends[0]), Fraction(ends[1])
    if low > high:
        raise _unreadable(text, "the range runs backwards")
    if len(ends) == 2:
        if not field.endswith("thickness"):
            raise _unreadable(text, "a range without a step is for thicknesses, which come in stock gauges")
        stock = [one.value for one in sheet_stock(shop)]
        found = tuple(f"{value:.3f} in" for value in stock if low <= Fraction(f"{value:.4f}") <= high)
        if not found:
            raise _unreadable(text, "no stock gauge lies in that range, in inches")
        return found
    step = Fraction(ends[2])
    if step <= 0:
        raise _unreadable(text, "the step must be more than 0")
    count = int((high - low) / step) + 1
    if count > MOST_VARIANTS:
        raise _unreadable(text, f"that is {count} values")
    return tuple(f"{float(low + k * step):.6f}".rstrip("0").rstrip(".") for k in range(count))


def _unreadable(text: str, why: str) -> EntryError:
    return EntryError(
        f"'{text}' cannot be read: {why}",
        where="--vary",
        remedy="Write it as doubler.thickness=.025:.050, rows.pitch=.5:.8:.1 or rows.rivet=MS20470AD3,MS20470AD4",
    )


def variants_of(variations: Sequence[Variation]) -> tuple[Variant, ...]:
    """Every combination, the last field running fastest.

    Args:
        variations: one or more, no field twice.
    Returns:
        tuple[Variant, ...]: fields with their texts.
    Raises:
        EntryError: nothing is varied, a field is varied twice, or there are too many combinations.
    """
    fields = [variation.field for variation in variations]
    if not fields or len(set(fields)) < len(fields):
        raise EntryError(
            "a field is varied twice" if fields else "nothing is varied",
            where="--vary",
            remedy="Name each field once, as doubler.thickness=.025:.050",
        )
    count = 1
    for variation in variations:
        count *= len(variation.values)
    if count > MOST_VARIANTS:
        raise EntryError(
            f"that is {count} variants",
            where="--vary",
            remedy=f"Take larger steps; {MOST_VARIANTS} are the most",
        )
    combined = itertools.product(*(variation.values for variation in variations))
    return tuple(tuple(zip(fields, values, strict=True)) for values in combined)


def changes_of(job_text: str, variant: Variant) -> Mapping[str, str]:
    """The changes that a variant asks of a job file, lists written out.

    Args:
        job_text: a TOML document.
        variant: fields with their texts.
    Returns:
        Mapping[str, str]: dotted field with numbers in lists, to its new text.
    Raises:
        EntryError: the job has no such list.
    """
    data = tomllib.loads(job_text, parse_float=str)
    changes: dict[str, str] = {}
    for field, value in variant:
        first, _, rest = field.partition(".")
        entries = data.get(first)
        if isinstance(entries, list) and rest and not rest.split(".")[0].isdigit():
            changes |= {f"{first}.{number}.{rest}": value for number in range(len(entries))}
        elif first not in data:
            raise EntryError(
                f"the job has no section '{first}'", where="--vary", remedy=f"It has {', '.join(data)}"
            )
        else:
            changes[field] = value
    return changes
