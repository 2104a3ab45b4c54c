"""Numbers with a unit that are no lengths: forces, weights, areas, speeds, each kept as it was typed."""

from __future__ import annotations

import re
from typing import Annotated, Any, Literal, cast, get_args

from hatchwright.errors import EntryError
from hatchwright.job.entry import ReadBy, WrittenBy, refusal
from hatchwright.number import (
    AIRCRAFT_LB,
    ALLOWABLE_LBF,
    AREA_FT2,
    EFFICIENCY,
    EMPTY_WEIGHT_LB,
    FACTOR,
    FORCE_LBF,
    HINGE_IN_LB,
    HOLES_PER_100_JOBS,
    LOAD_LB,
    MARGIN_OF_SAFETY,
    POWER_HP,
    PRESSURE_PSI,
    RUNNING_LOAD_LBF_PER_IN,
    SPEED_MPH,
    VOLUME_GAL,
    WEIGHT_LB,
    Range,
    decimal,
)
from hatchwright.said import said
from hatchwright.units import (
    FT2_PER_IN2,
    GAL_PER_L,
    IN_LB_PER_N_M,
    LB_PER_KG,
    LBF_IN_PER_N_MM,
    MPH_PER_KM_H,
    MPH_PER_KT,
    PSI_PER_KPA,
)

_PARTS = re.compile(r"([-+.,\d]++)\s*+(\S*+)", re.ASCII)


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


def _number(text: str) -> float | None:
    """A plain number as typed, None where it is none."""
    try:
        exact = decimal(text)
    except EntryError as error:
        raise refusal(error.what, error.remedy) from None
    return None if exact is None else float(exact)


def _typed_in(units: dict[str, float], within: Range, *, example: str) -> ReadBy:
    """Reads a number with one of several units; bare numbers are of the first.

    Args:
        units: name of each unit to its size in the first one.
        within: what it can be, in the first unit; more is a slip of the unit.
        example: how it is written.
    """

    def amount(value: Any) -> Amount:
        if isinstance(value, Amount):
            return value
        if isinstance(value, bool) or not isinstance(value, str | int | float):
            raise refusal(said("job.number"), write_as)
        text = str(value).strip()
        found = _PARTS.fullmatch(text)
        unit = found[2] or first if found else ""
        typed = _number(found[1]) if found and unit in units else None
        if typed is None:
            known = " or ".join(filter(None, units))
            raise refusal(said("job.no_number_in", units=known) if known else said("job.no_number"), write_as)
        number = typed * units[unit]
        if number < within.least and within.least >= 0.0:
            raise refusal(said("job.least", least=f"{within.least:g}"), write_as)
        if number not in within:
            most = max(within.most, -within.least)
            raise refusal(said("job.unit_slip", most=f"{most:g}", unit=first), write_as)
        return Amount(number, text)

    first, write_as = next(iter(units)), said("job.write_as", example=example)
    return ReadBy(amount)


_AS_TYPED = WrittenBy(lambda amount: amount.text)

_LOADS = {"lbf/in": 1.0, "N/mm": LBF_IN_PER_N_MM}
RunningLoad = Annotated[
    Amount, _typed_in(_LOADS, RUNNING_LOAD_LBF_PER_IN, example='"120" or "21 N/mm"'), _AS_TYPED
]
_PRESSURES = {"psi": 1.0, "kPa": PSI_PER_KPA}
Pressure = Annotated[Amount, _typed_in(_PRESSURES, PRESSURE_PSI, example='"0.40" or "2.8 kPa"'), _AS_TYPED]
Force = Annotated[Amount, _typed_in({"lbf": 1.0}, FORCE_LBF, example='"1200"'), _AS_TYPED]
Allowable = Annotated[Amount, _typed_in({"lbf": 1.0}, ALLOWABLE_LBF, example='"1200"'), _AS_TYPED]
_WEIGHTS = {"lb": 1.0, "kg": LB_PER_KG}
Weight = Annotated[Amount, _typed_in(_WEIGHTS, WEIGHT_LB, example='"0.55" or "0.25 kg"'), _AS_TYPED]
EmptyWeight = Annotated[Amount, _typed_in(_WEIGHTS, EMPTY_WEIGHT_LB, example='"1876" or "851 kg"'), _AS_TYPED]
AircraftWeighs = Annotated[
    Amount, _typed_in(_WEIGHTS, AIRCRAFT_LB, example='"1438.0" or "652.3 kg"'), _AS_TYPED
]
Load = Annotated[Amount, _typed_in(_WEIGHTS, LOAD_LB, example='"340" or "154 kg"'), _AS_TYPED]
_VOLUMES = {"gal": 1.0, "qt": 0.25, "L": GAL_PER_L}
Volume = Annotated[Amount, _typed_in(_VOLUMES, VOLUME_GAL, example='"40 gal", "9 qt" or "150 L"'), _AS_TYPED]
Power = Annotated[Amount, _typed_in({"hp": 1.0}, POWER_HP, example='"165"'), _AS_TYPED]
_HINGE_MOMENTS = {"in-lb": 1.0, "N*m": IN_LB_PER_N_M}
HingeMoment = Annotated[
    Amount, _typed_in(_HINGE_MOMENTS, HINGE_IN_LB, example='"0.35" or "0.04 N*m"'), _AS_TYPED
]
"""Nose heavy; negative for tail heavy."""
_AREAS = {"ft2": 1.0, "in2": FT2_PER_IN2}
Area = Annotated[Amount, _typed_in(_AREAS, AREA_FT2, example='"0.135" or "19.4 in2"'), _AS_TYPED]
_SPEEDS = {"mph": 1.0, "kt": MPH_PER_KT, "km/h": MPH_PER_KM_H}
Speed = Annotated[Amount, _typed_in(_SPEEDS, SPEED_MPH, example='"210" or "182 kt"'), _AS_TYPED]


EfficiencyWord = Literal["table note", "landmark row"]
"""By what an efficiency may be worked out."""


def _efficiency(value: Any) -> Amount | EfficiencyWord:
    """Read a share of the solid skin, or how it is worked out."""
    write_as = said("job.efficiency.do", words=" or ".join(f'"{word}"' for word in get_args(EfficiencyWord)))
    if isinstance(value, Amount):
        return value
    for word in get_args(EfficiencyWord):
        if value == word:
            return cast(EfficiencyWord, word)
    text = str(value).strip()
    number = None if isinstance(value, bool) else _number(text)
    if number is None:
        raise refusal(said("job.efficiency"), write_as)
    if number not in EFFICIENCY:
        raise refusal(said("job.efficiency_range", least=f"{EFFICIENCY.least:g}"), write_as)
    return Amount(number, text)


Efficiency = Annotated[
    Amount | EfficiencyWord,
    ReadBy(_efficiency),
    WrittenBy(lambda value: getattr(value, "text", value)),
]
"""A share of the solid skin as typed, or by what it is worked out."""

Factor = Annotated[Amount, _typed_in({"": 1.0}, FACTOR, example='"1.15"'), _AS_TYPED]
MarginOfSafety = Annotated[Amount, _typed_in({"": 1.0}, MARGIN_OF_SAFETY, example='"0.15"'), _AS_TYPED]
HolesPer100Jobs = Annotated[Amount, _typed_in({"": 1.0}, HOLES_PER_100_JOBS, example='"1"'), _AS_TYPED]
