"""Short TOML files beside the job file: read whole, with every fault, its line and what would do."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import TypeVar

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from hatchwright.errors import Fault, JobError
from hatchwright.job.as_typed import raw_data
from hatchwright.job.entry import Entered
from hatchwright.job.fault_in_words import fault_in_words
from hatchwright.job.file import on_their_lines
from hatchwright.said import Said

_Model = TypeVar("_Model", bound=Entered)


def read_entered(
    model: type[_Model],
    text: str,
    *,
    schema: int,
    impossible: Callable[[_Model], Iterable[Fault]],
    name: str,
    manual: Said | str,
) -> _Model:
    """Read the text of a file that one model describes.

    Args:
        model: what the file holds; it has the keys schema and units.
        impossible: finds what cannot be together, once every key is read.
        manual: where its keys are told, such as "the trial sheet".
    Returns:
        the model, as typed, with every length read.
    Raises:
        JobError: every fault, gathered.
    """
    try:
        data = raw_data(text)
    except JobError as error:
        raise JobError(error.faults, where=name) from None
    if data.get("schema") != schema:
        fault = Fault.saying(
            "schema", "job.schema_unknown", str(data.get("schema", "")), schema=schema, manual=manual
        )
        raise JobError((fault,), where=name)
    units = data.get("units")
    try:
        entered = model.model_validate(data, context={"unit": units if units in ("in", "mm") else "in"})
    except ValidationError as error:
        faults = [_fault(details, manual) for details in _first_causes(error.errors(include_url=False))]
        raise JobError(on_their_lines(faults, text), where=name) from None
    if found := tuple(impossible(entered)):
        raise JobError(on_their_lines(found, text), where=name)
    return entered


def _first_causes(errors: Sequence[ErrorDetails]) -> list[ErrorDetails]:
    """Leave out that a list is too short when it is so only because a member of it was refused."""
    places = [details["loc"] for details in errors]
    return [
        details
        for details in errors
        if details["type"] != "too_short"
        or not any(place[:-1][: len(details["loc"])] == details["loc"] for place in places)
    ]


def _fault(details: ErrorDetails, manual: Said | str) -> Fault:
    place = [str(part) for part in details["loc"] if part not in ("end mill", "drill", "engraver")]
    return fault_in_words(details, ".".join(place) or "file", manual=manual)
