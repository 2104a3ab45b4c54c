"""The door for typed values: field types that read lengths, points, counts, angles, yes and no from a job file."""

from __future__ import annotations

import re
from typing import Annotated, Any

from pydantic import (
    AfterValidator,
    BaseModel,
    BeforeValidator,
    ConfigDict,
    GetCoreSchemaHandler,
    PlainSerializer,
    PlainValidator,
    ValidationInfo,
)
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from hatchwright.errors import EntryError
from hatchwright.number import (
    COUNT,
    DIAMETER_IN,
    GAUGE_IN,
    SHEET_IN,
    SIZE_IN,
    SPINDLE_RPM,
    STEP_IN,
    TAB_IN,
    TURN_DEG,
    UNCERTAINTY_IN,
    Range,
    decimal,
)
from hatchwright.said import Said, inch, said
from hatchwright.tables.drills import drill_sizes
from hatchwright.units import Length, examples_of_a_length, parse_length

MEANT = {"yes": "true", "on": "true", "true": "true", "no": "false", "off": "false", "false": "false"}
"""What a person writes, to what belongs in the file."""


class Entered(BaseModel):
    """Base of everything that comes from a job file: frozen, and no unknown keys.

    Files of models do without ``from __future__ import annotations``: pydantic would compile each annotation anew at
    every start.
    """

    model_config = ConfigDict(frozen=True, extra="forbid", arbitrary_types_allowed=True, defer_build=True)


class SameAs:
    """Marks an entry that is called and explained as another model's."""

    def __init__(self, model: type[BaseModel], name: str) -> None:
        self.model, self.name = model, name


class ReadBy(PlainValidator):
    """Read a value by one function, of the value or of the value and what is known beside it.

    What the function answers is taken as it is: pydantic would go through its type twice for each field, half the time
    that the models take to build.
    """

    def __get_pydantic_core_schema__(self, source_type: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        read: Any = self.func
        anything = core_schema.any_schema()
        if read.__code__.co_argcount == 1:
            return core_schema.no_info_plain_validator_function(read, json_schema_input_schema=anything)
        return core_schema.with_info_plain_validator_function(read, json_schema_input_schema=anything)


class WrittenBy(PlainSerializer):
    """Write a value by one function of the value alone.

    Pydantic would look up what the function takes and answers once for each field that is written by it.
    """

    def __get_pydantic_core_schema__(self, source_type: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        written = core_schema.plain_serializer_function_ser_schema(self.func)
        return {**handler(source_type), "serialization": written}


def refusal(what: Said | str, remedy: Said | str = "") -> PydanticCustomError:
    """Make a fault of one field.

    Args:
        remedy: what would do instead, "" for nothing.
    """
    return PydanticCustomError("entry", "entry", {"what": what, "remedy": remedy})


def matching(pattern: str, what: Said, remedy: Said) -> AfterValidator:
    """Take only text of one form.

    Args:
        pattern: regular expression of the whole text.
        what: what is wrong with any other.
        remedy: what would do instead, a whole sentence.
    """

    def checked(text: str) -> str:
        if not re.fullmatch(pattern, text, re.ASCII):
            raise refusal(what, remedy)
        return text

    return AfterValidator(checked)


def _typed(value: Any, unit: str, *, is_diameter: bool) -> str:
    if isinstance(value, bool) or not isinstance(value, str | int | float):
        raise refusal(said("job.length_wanted"), examples_of_a_length(unit, is_diameter=is_diameter))
    return str(value)


def coordinate(value: Any, info: ValidationInfo, *, is_diameter: bool = False) -> Length:
    """Read a length of either sign, such as a coordinate.

    Args:
        is_diameter: it may be a drill, and there a leading dash means its number.
    """
    if isinstance(value, Length):
        return value
    unit = (info.context or {}).get("unit", "in")
    dash_is_drill = is_diameter and not isinstance(value, int)
    drills = drill_sizes() if is_diameter else None
    try:
        length = parse_length(
            _typed(value, unit, is_diameter=is_diameter), unit=unit, drills=drills, signed=not dash_is_drill
        )
    except EntryError as error:
        raise refusal(error.what, error.remedy) from None
    if abs(length.inch) > SIZE_IN.most:
        raise refusal(said("job.too_long"), said("job.too_long.do", most=inch(SIZE_IN.most)))
    return length


def _not_negative(value: Any, info: ValidationInfo) -> Length:
    return _checked(coordinate(value, info), may_be_zero=True)


def _checked(length: Length, *, may_be_zero: bool = False) -> Length:
    if length.exact_in < 0:
        raise refusal(said("error.negative"), said("error.negative.do"))
    if length.exact_in == 0 and not may_be_zero:
        raise refusal(said("job.zero"), said("job.zero.do"))
    return length if may_be_zero else _held(length, SIZE_IN)


def _held(length: Length, within: Range) -> Length:
    if length.inch < within.least:
        raise refusal(said("job.too_fine"), said("job.check_unit"))
    if length.inch > within.most:
        raise refusal(said("job.too_big", most=inch(within.most)), said("job.check_unit"))
    return length


def within(what: Range) -> AfterValidator:
    """Take only a length that can be such a thing [in]."""
    return AfterValidator(lambda length: length if length.exact_in == 0 else _held(length, what))


def positive(value: Any, info: ValidationInfo) -> Length:
    """Read a length greater than zero."""
    return _checked(coordinate(value, info))


def sheet_thickness(value: Any, info: ValidationInfo) -> Length:
    """Read the thickness of a sheet."""
    return _held(positive(value, info), SHEET_IN)


def diameter(value: Any, info: ValidationInfo) -> Length:
    """Read a diameter, which may also be a drill: #30, -30 or F."""
    text = str(value).strip()
    if re.fullmatch(r"[1-8]\d", text, re.ASCII) and (info.context or {}).get("unit", "in") == "in":
        raise refusal(said("job.drill_or_inches", text=text), said("job.drill_or_inches.do", text=text))
    return _held(_checked(coordinate(value, info, is_diameter=True)), DIAMETER_IN)


def _pair(value: Any, what: str) -> tuple[Any, Any]:
    if not isinstance(value, list | tuple) or len(value) != 2:
        raise refusal(said(f"job.{what}"), said(f"job.{what}.do"))
    return value[0], value[1]


def _point(value: Any, info: ValidationInfo) -> tuple[Length, Length]:
    x, y = _pair(value, "point")
    return coordinate(x, info), coordinate(y, info)


def _size(value: Any, info: ValidationInfo) -> tuple[Length, Length]:
    x, y = _pair(value, "size")
    return positive(x, info), positive(y, info)


def count(value: Any) -> int:
    """Read a whole number from 1 to 9999."""
    return _whole(value, COUNT)


def _whole(value: Any, within: Range) -> int:
    number = None if isinstance(value, bool) else _decimal(str(value))
    if number is None or not str(value).isdecimal() or number not in within:
        least, most = f"{within.least:g}", f"{within.most:.0f}"
        raise refusal(said("job.count", least=least, most=most), said("job.count.do"))
    return int(number)


def _decimal(text: str) -> float | None:
    try:
        exact = decimal(text)
    except EntryError as error:
        raise refusal(error.what, error.remedy) from None
    return None if exact is None else float(exact)


def angle(value: Any) -> float:
    """Read an angle of at most a full turn either way [deg]."""
    turned_deg = None if isinstance(value, bool) else _decimal(str(value))
    if turned_deg is None:
        raise refusal(said("job.angle"), said("job.angle.do"))
    if turned_deg not in TURN_DEG:
        raise refusal(said("job.full_turn"), said("job.full_turn.do"))
    return turned_deg


def _yes_no(value: Any, info: ValidationInfo) -> Any:
    """Only true and false, without quotes, as the file's own grammar writes them."""
    if value is None or isinstance(value, bool):
        return value
    meant = MEANT.get(str(value).strip().lower())
    name = info.field_name or ""
    does = said("job.write_bare", name=name, value=meant) if meant else said("job.true_false.do", name=name)
    raise refusal(said("job.true_false"), does)


_AS_TYPED = WrittenBy(lambda length: length.text)
_PAIR_AS_TYPED = WrittenBy(lambda pair: [length.text for length in pair])

NotNegative = Annotated[Length, ReadBy(_not_negative), _AS_TYPED]
Positive = Annotated[Length, ReadBy(positive), _AS_TYPED]
Thickness = Annotated[Positive, within(SHEET_IN)]
Uncertainty = Annotated[Positive, within(UNCERTAINTY_IN)]
UncertaintyOrNone = Annotated[NotNegative, within(UNCERTAINTY_IN)]
GaugeError = Annotated[Positive, within(GAUGE_IN)]
GaugeErrorOrNone = Annotated[NotNegative, within(GAUGE_IN)]
Step = Annotated[Positive, within(STEP_IN)]
TabSize = Annotated[Positive, within(TAB_IN)]
Diameter = Annotated[Length, ReadBy(diameter), _AS_TYPED]
Coordinate = Annotated[Length, ReadBy(coordinate), _AS_TYPED]
Point = Annotated[tuple[Length, Length], ReadBy(_point), _PAIR_AS_TYPED]
Size = Annotated[tuple[Length, Length], ReadBy(_size), _PAIR_AS_TYPED]
Count = Annotated[int, ReadBy(count)]
SpindleSpeed = Annotated[int, ReadBy(lambda value: _whole(value, SPINDLE_RPM))]
"""Turns a minute."""
AngleDeg = Annotated[float, ReadBy(angle)]
YesNo = Annotated[bool, BeforeValidator(_yes_no)]
