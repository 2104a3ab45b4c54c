"""Short TOML files beside the job file: read whole, with every fault, its line and what would do."""

from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any, ClassVar, Self, TypeVar

from msgspec.structs import replace
from pydantic import Field, ValidationError
from pydantic_core import ErrorDetails

from hatchwright.errors import Fault, JobError
from hatchwright.job.as_typed import raw_data, unseen
from hatchwright.job.entry import Count, Entered
from hatchwright.job.fault_in_words import fault_in_words
from hatchwright.job.file import on_their_lines
from hatchwright.job.text_file import load_text
from hatchwright.said import Said
from hatchwright.units import Unit

Model = TypeVar("Model", bound=Entered)


def read_entries(model: type[Model], data: Mapping[str, Any], *, unit: Unit, manual: Said | str) -> Model:
    """Read entries that stand in no file.

    Args:
        unit: of bare lengths.
        manual: where the entries are told.
    Raises:
        JobError: every fault, gathered, each with the entry, what was given and what would do.
    """
    try:
        return model.model_validate(data, context={"unit": unit})
    except ValidationError as error:
        found = _first_causes(error.errors(include_url=False))
        faults = (fault_in_words(one, ".".join(map(str, one["loc"])), manual=manual) for one in found)
        raise JobError(tuple(replace(fault, unit=unit) for fault in faults)) from None


class EnteredFile(Entered):
    """All that one such file holds; each has a key `units`, the unit of its bare lengths.

    Args:
        SCHEMA: number of its own schema, which the file must name.
        MANUAL: where its keys are told, such as "the trial sheet".
    """

    SCHEMA: ClassVar[int] = 1
    MANUAL: ClassVar[Said | str]

    schema_number: Count = Field(alias="schema")

    def impossible(self) -> Iterator[Fault]:
        """What cannot be together, looked for once every key is read."""
        yield from ()

    @classmethod
    def load(cls, path: Path) -> Self:
        """Read a file; raises as `read` does, and where there is no such file."""
        return cls.read(load_text(path), name=path.name)

    @classmethod
    def read(cls, text: str, *, name: str = "file") -> Self:
        """Read the text of a file; bare lengths are in the unit that it names.

        Raises:
            JobError: every fault, gathered, each with line, field, what was given and what would do.
        """
        try:
            data = raw_data(text)
        except JobError as error:
            raise JobError(error.faults, where=name) from None
        if data.get("schema") != cls.SCHEMA:
            given = str(data.get("schema", ""))
            fault = Fault.saying("schema", "job.schema_unknown", given, schema=cls.SCHEMA, manual=cls.MANUAL)
            raise JobError((fault,), where=name)
        if found := tuple(unseen(data)):
            raise JobError(on_their_lines(found, text), where=name)
        units = data.get("units")
        try:
            entered = cls.model_validate(data, context={"unit": units if units in ("in", "mm") else "in"})
        except ValidationError as error:
            faults = [cls._fault(details) for details in _first_causes(error.errors(include_url=False))]
            raise JobError(on_their_lines(faults, text), where=name) from None
        if found := tuple(entered.impossible()):
            raise JobError(on_their_lines(found, text), where=name)
        return entered

    @classmethod
    def _fault(cls, details: ErrorDetails) -> Fault:
        place = [str(part) for part in details["loc"] if part not in ("end mill", "drill", "engraver")]
        return fault_in_words(details, ".".join(place) or "file", manual=cls.MANUAL)


def _first_causes(errors: Sequence[ErrorDetails]) -> list[ErrorDetails]:
    """Leave out that a list is too short when it is so only because a member of it was refused."""
    places = [details["loc"] for details in errors]
    return [
        details
        for details in errors
        if details["type"] != "too_short"
        or not any(place[:-1][: len(details["loc"])] == details["loc"] for place in places)
    ]
