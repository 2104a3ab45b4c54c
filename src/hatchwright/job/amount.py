"""Numbers with a unit that are no lengths: forces, weights, areas, speeds, each kept as it was typed."""

from __future__ import annotations

import math
import re
from typing import Annotated, Any, Literal, cast, get_args

from pydantic import PlainSerializer, PlainValidator

from hatchwright.job.entry import refusal
from hatchwright.said import said
from hatchwright.units import FT2_PER_IN2, LB_PER_KG, LBF_IN_PER_N_MM, MPH_PER_KM_H, MPH_PER_KT, PSI_PER_KPA

_NUMBER = r"[-+]?(?:\d+(?:[.,]\d*)?|[.,]\d+)"
_LARGEST = 1.0e6


class Amount(float):
    """A number that keeps the text it was typed as."""

    text: str

    def __new__(cls, value: float, text: str) -> Amount:
        """Join a value and its text."""
        amount = super().__new__(cls, value)
        amount.text = text
        return amount

    def __getnewargs__(self) -> tuple[float, str]:  # type: ignore[override]
        """What it is made from again in another process."""
        return float(self), self.text


def _typed_in(
    units: dict[str, float], *, example: str, least: float | None = None, most: float = _LARGEST
) -> PlainValidator:
    """Reads a number with one of several units; bare numbers are of the first.

    Args:
        units: name of each unit to its size in the first one.
        example: how it is written.
        least: the least that will do, None for any.
        most: the most that will do; more is a slip of the unit.
    """

    def amount(value: Any) -> Amount:
        if isinstance(value, Amount):
            return value
        if isinstance(value, bool) or not isinstance(value, str | int | float):
            raise refusal(said("job.number"), write_as)
        text = str(value).strip()
        found = re.fullmatch(rf"({_NUMBER})\s*(\S*)", text, re.ASCII)
        unit = found[2] or first if found else ""
        if not found or unit not in units:
            known = " or ".join(filter(None, units))
            raise refusal(said("job.no_number_in", units=known) if known else said("job.no_number"), write_as)
        if re.fullmatch(r"[-+]?\d{1,3},\d{3}", found[1]):
            raise refusal(said("job.comma"), said("job.comma.do"))
        number = float(found[1].replace(",", ".")) * units[unit]
        if not math.isfinite(number) or abs(number) > _LARGEST:
            raise refusal(said("job.larger_than_any"), said("job.larger_than_any.do"))
        if least is not None and number < least:
            raise refusal(said("job.least", least=f"{least:g}"), write_as)
        if number > most:
            raise refusal(said("job.unit_slip", most=f"{most:g}", unit=first), write_as)
        return Amount(number, text)

    first, write_as = next(iter(units)), said("job.write_as", example=example)
    return PlainValidator(amount)


_AS_TYPED = PlainSerializer(lambda amount: amount.text, return_type=str)

RunningLoad = Annotated[
    Amount, _typed_in({"lbf/in": 1.0, "N/mm": LBF_IN_PER_N_MM}, example='"120" or "21 N/mm"'), _AS_TYPED
]
Pressure = Annotated[
    Amount, _typed_in({"psi": 1.0, "kPa": PSI_PER_KPA}, example='"0.40" or "2.8 kPa"'), _AS_TYPED
]
Force = Annotated[Amount, _typed_in({"lbf": 1.0}, example='"1200"', least=0.0), _AS_TYPED]
Allowable = Annotated[Amount, _typed_in({"lbf": 1.0}, example='"1200"', least=10.0, most=50_000.0), _AS_TYPED]
Weight = Annotated[
    Amount,
    _typed_in({"lb": 1.0, "kg": LB_PER_KG}, example='"0.55" or "0.25 kg"', least=0.001, most=200.0),
    _AS_TYPED,
]
Area = Annotated[
    Amount,
    _typed_in({"ft2": 1.0, "in2": FT2_PER_IN2}, example='"0.135" or "19.4 in2"', least=0.001, most=5.0),
    _AS_TYPED,
]
_SPEEDS = {"mph": 1.0, "kt": MPH_PER_KT, "km/h": MPH_PER_KM_H}
Speed = Annotated[Amount, _typed_in(_SPEEDS, example='"210" or "182 kt"', least=20.0, most=600.0), _AS_TYPED]


EfficiencyWord = Literal["table note", "landmark row"]
"""By what an efficiency may be worked out."""
LEAST_EFFICIENCY = 0.5
"""No seam that holds a skin leaves less of it: a lower one is a slip, and would ask for too little [-]."""


def _efficiency(value: Any) -> Amount | EfficiencyWord:
    """Read a share of the solid skin, or how it is worked out."""
    write_as = said("job.efficiency.do", words=" or ".join(f'"{word}"' for word in get_args(EfficiencyWord)))
    if isinstance(value, Amount):
        return value
    for word in get_args(EfficiencyWord):
        if value == word:
            return cast(EfficiencyWord, word)
    text = str(value).strip()
    if isinstance(value, bool) or not re.fullmatch(_NUMBER, text, re.ASCII):
        raise refusal(said("job.efficiency"), write_as)
    number = float(text.replace(",", "."))
    if not LEAST_EFFICIENCY <= number <= 1.0:
        raise refusal(said("job.efficiency_range", least=f"{LEAST_EFFICIENCY:g}"), write_as)
    return Amount(number, text)


Efficiency = Annotated[
    Amount | EfficiencyWord,
    PlainValidator(_efficiency),
    PlainSerializer(lambda value: getattr(value, "text", value), return_type=str),
]
"""A share of the solid skin as typed, or by what it is worked out."""

Factor = Annotated[Amount, _typed_in({"": 1.0}, example='"1.15"', least=1.0), _AS_TYPED]
