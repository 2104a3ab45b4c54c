"""What is to be said, before it is words: the id of a sentence in the catalogue, and the values for its holes.

Nothing here is language. `words` makes the text, in the unit and the language of whoever reads it.
"""

from __future__ import annotations

from enum import StrEnum
from typing import Literal, TypeAlias

from msgspec import Struct


class Amount(Struct, frozen=True):
    """A number with its unit, to be written in the reader's own.

    Args:
        value: the number [unit].
        unit: "in", "in^2", "lbf", "lbf/in", "psi", "lb", "in-lbf", "deg", "D" (diameters), "t" (thicknesses), "times"
            (a factor that a drawing is stretched by), "%", "" ...; lengths, loads and masses turn metric in a metric
            job.
        fine: one place more than usual, for offsets and drills [lengths only].
        toward: "up" for what is missing and "down" for the room that is left, so that nothing is rounded in the
            passing direction; "near" for all else.
        beside: a value that it is set against and must not look like, such as its limit [unit].
    """

    value: float
    unit: str = "in"
    fine: bool = False
    toward: Literal["near", "up", "down"] = "near"
    beside: float | None = None


class Place(Struct, frozen=True):
    """A point in the job's frame [in]."""

    x_in: float
    y_in: float


class Numbered(Struct, frozen=True):
    """Things that are known by number, such as rivet 4, or rivets 4 and 5.

    Args:
        kind: an id `kind.<kind>` of the catalogue: "rivet", "screw", "hole" ...
    """

    kind: str
    numbers: tuple[int, ...]


class Listed(Struct, frozen=True):
    """Several values as one list.

    Args:
        joined: "and" and "or" join as speech does, ";", "," and "+" by that mark.
    """

    items: tuple[Value, ...]
    joined: Literal["and", "or", ";", ",", "+"] = "and"


class Said(Struct, frozen=True):
    """One sentence, or one name, of the catalogue with what goes into its holes.

    Args:
        id: of the catalogue, such as ``R101.move``.
        values: name of each hole and its value; a hole `n` chooses between singular and plural.
    """

    id: str
    values: tuple[tuple[str, Value], ...] = ()


Value: TypeAlias = str | int | StrEnum | Amount | Place | Numbered | Listed | Said
"""What may fill a hole. A bare str is a name that somebody typed, or a part number: it is never translated."""


def said(id: str, /, **values: Value) -> Said:
    """Name a sentence and fill its holes.

    >>> said("R101.move", hole=Numbered("rivet", (6,))).id
    'R101.move'
    """
    return Said(id, tuple(values.items()))


def inch(value_in: float, *, fine: bool = False, beside_in: float | None = None) -> Amount:
    """A length to be written in the unit of the job [in]."""
    return Amount(value_in, "in", fine, "near", beside_in)


def missing(value: float, unit: str = "in") -> Amount:
    """By how much something is short, rounded up."""
    return Amount(max(0.0, value), unit, toward="up")


def room(value: float, unit: str = "in") -> Amount:
    """What is left over, rounded down."""
    return Amount(value, unit, toward="down")
