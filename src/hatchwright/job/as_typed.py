"""The data of a job's text just as it was typed, before anything is taken for a length or a count."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from functools import lru_cache
from typing import Any

from hatchwright.errors import JobError
from hatchwright.job.slips import slips


@lru_cache(maxsize=8)
def raw_data(text: str) -> Mapping[str, Any]:
    """The data of a job's text as typed: lengths stay the text that they are.

    Args:
        text: a TOML document.
    Returns:
        Mapping: nested; numbers with a point are text, whole numbers are int. It is kept for the next who asks:
            leave it as it is.
    Raises:
        JobError: it is not TOML.
    """
    try:
        return tomllib.loads(text, parse_float=str)
    except (tomllib.TOMLDecodeError, RecursionError, ValueError) as error:
        raise JobError(slips(text, str(error))) from None


def standing_at(data: Any, path: str) -> Any:
    """What stands at a dotted place of a job's data, None when there is nothing."""
    for part in path.split("."):
        if isinstance(data, list):
            data = data[int(part)] if part.isdigit() and int(part) < len(data) else None
        else:
            data = data.get(part) if isinstance(data, Mapping) else None
    return data


def paths_of(data: Any, at: str = "") -> list[str]:
    """The dotted places of all that stands in a job's data, such as ``rows.0.pitch``, sections and lists too."""
    if not isinstance(data, Mapping | list):
        return []
    places = data.items() if isinstance(data, Mapping) else enumerate(data)
    found: list[str] = []
    for key, value in places:
        path = f"{at}.{key}".removeprefix(".")
        found += [path, *paths_of(value, path)]
    return found
