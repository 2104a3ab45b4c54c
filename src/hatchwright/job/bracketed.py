"""Lines of a list that are written as bare values in brackets, such as ``[12, "8.283", "2.020"]``."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar

from pydantic import ValidationError, ValidationInfo

from hatchwright.job.entry import Entered, ReadBy, refusal
from hatchwright.said import said


class Bracketed(Entered):
    """One such line: its values in the order of the fields, those at the end left out where they may be."""

    def as_typed(self) -> list[Any]:
        """The line as it stands in a file."""
        return list(self.model_dump(exclude_none=True).values())


_Line = TypeVar("_Line", bound=Bracketed)


def in_brackets(model: type[_Line], id: str) -> ReadBy:
    """Read a line of values.

    Args:
        id: of the sentence that says what such a line is made of.
    """
    return ReadBy(_reader(model, id))


def _reader(model: type[_Line], id: str) -> Callable[[Any, ValidationInfo], _Line]:
    names = tuple(model.model_fields)
    least = sum(field.is_required() for field in model.model_fields.values())

    def read(value: Any, info: ValidationInfo) -> _Line:
        if isinstance(value, model):
            return value
        if not isinstance(value, list | tuple) or not least <= len(value) <= len(names):
            raise refusal(said(id), said(f"{id}.do"))
        try:
            return model.model_validate(dict(zip(names, value, strict=False)), context=info.context)
        except ValidationError as error:
            told = error.errors(include_url=False)[0]["ctx"]
            raise refusal(told["what"], told["remedy"]) from None

    read.__name__ = f"_{model.__name__}_in_brackets"
    return read
