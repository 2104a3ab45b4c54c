"""The data of a job's text just as it was typed, before anything is taken for a length or a count."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Mapping
from functools import lru_cache
from typing import Any

from hatchwright.errors import Fault, JobError
from hatchwright.job.bounds import beyond_reason
from hatchwright.job.slips import slips
from hatchwright.units import MM_PER_IN, Unit

_UNSEEN = re.compile(r"[\x00-\x08\x0b-\x1f\x7f-\x9f\u2028-\u202e\u2066-\u2069]")
"""Control characters, and those that turn the direction of a text: not seen, and they move or hide what is."""


_MOST_DIGITS = 6
"""No list has a line of a longer number [-]."""


@lru_cache(maxsize=8)
def raw_data(text: str) -> Mapping[str, Any]:
    """The data of a job's text as typed: lengths stay the text that they are.

    Returns:
        Mapping: nested; numbers with a point are text, whole numbers are int. It is kept for the next who asks:
            leave it as it is.
    Raises:
        JobError: it is not TOML, or beyond all reason.
    """
    if fault := beyond_reason(text):
        raise JobError((fault,))
    try:
        return tomllib.loads(text, parse_float=str)
    except ValueError as error:
        raise JobError(slips(text, str(error))) from None


def unseen(data: Mapping[str, Any]) -> Iterator[Fault]:
    """Texts and keys of a file that hold what nobody sees."""
    for path, one in _everything(data):
        texts = one if isinstance(one, Mapping) else [one] if isinstance(one, str) else ()
        if any(map(_UNSEEN.search, texts)):
            yield Fault.saying(path or "file", "job.unseen")


def number_in_list(part: str) -> int | None:
    """Which line of a list a part of a dotted place means, None for any other name."""
    return int(part) if len(part) <= _MOST_DIGITS and part.isascii() and part.isdigit() else None


def standing_at(data: Any, path: str) -> Any:
    """What stands at a dotted place of a job's data, None when there is nothing."""
    for part in path.split("."):
        if isinstance(data, list):
            at = number_in_list(part)
            data = data[at] if at is not None and at < len(data) else None
        else:
            data = data.get(part) if isinstance(data, Mapping) else None
    return data


def paths_of(data: Any) -> list[str]:
    """The dotted places of all that stands in a job's data, such as ``rows.0.pitch``, sections and lists too."""
    return [path for path, _ in _everything(data) if path]


def _everything(data: Any, at: str = "") -> Iterator[tuple[str, Any]]:
    """Every part of a job's data with its dotted place, the whole first."""
    yield at, data
    inner = data.items() if isinstance(data, Mapping) else enumerate(data) if isinstance(data, list) else ()
    for key, value in inner:
        yield from _everything(value, f"{at}.{key}".removeprefix("."))


def typed_length(value_in: float, unit: Unit) -> str:
    """A length that was worked out, as it would be typed into a job of that unit: to 1e-4 in or 1e-3 mm.

    >>> typed_length(2.5, "in"), typed_length(-0.00001, "in"), typed_length(1.0, "mm")
    ('2.5', '0', '25.4')
    """
    value, places = (value_in * MM_PER_IN, 3) if unit == "mm" else (value_in, 4)
    text = f"{value:.{places}f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text
