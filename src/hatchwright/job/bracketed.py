"""Lines of a list that are written as bare values in brackets, such as ``[12, "8.283", "2.020"]``."""

from typing import Any

from pydantic import BeforeValidator

from hatchwright.job.entry import Entered, refusal
from hatchwright.said import said


class Bracketed(Entered):
    """One such line: its values in the order of the fields; those at the end are left out where they may be, an empty
    text holds the place of one before them."""

    def as_typed(self) -> list[Any]:
        """The line as it stands in a file."""
        values = list(self.model_dump().values())
        while values[-1] is None:
            values.pop()
        return ["" if value is None else value for value in values]


def in_brackets(model: type[Bracketed], id: str) -> BeforeValidator:
    """Read a line of values.

    Args:
        id: of the sentence that says what such a line is made of.
    """
    names = tuple(model.model_fields)
    least = sum(field.is_required() for field in model.model_fields.values())

    def named(value: Any) -> Any:
        if isinstance(value, model):
            return value
        if not isinstance(value, list | tuple) or not least <= len(value) <= len(names):
            raise refusal(said(id), said(f"{id}.do"))
        given = zip(names, value, strict=False)
        return {name: one for at, (name, one) in enumerate(given) if at < least or one != ""}

    named.__name__ = f"_{model.__name__}_in_brackets"
    return BeforeValidator(named)
