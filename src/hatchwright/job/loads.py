"""What the skin must carry, and on which basis that is known."""

from __future__ import annotations

import math
import re
from typing import Annotated, Any, Literal

from pydantic import Field, PlainSerializer, PlainValidator, model_validator

from hatchwright.job.entry import Entered, refusal
from hatchwright.units import LBF_IN_PER_N_MM, PSI_PER_KPA

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


def _amount(value: Any, *, units: dict[str, float], example: str, least: float | None = None) -> Amount:
    """Read a number with one of several units; bare numbers are of the first."""
    if isinstance(value, Amount):
        return value
    if isinstance(value, bool) or not isinstance(value, str | int | float):
        raise refusal("a number is expected here", f"Write it as {example}.")
    text = str(value).strip()
    found = re.fullmatch(rf"({_NUMBER})\s*(\S*)", text, re.ASCII)
    unit = found[2] or next(iter(units)) if found else ""
    if not found or unit not in units:
        known = " or ".join(filter(None, units))
        raise refusal("this is not a number" + (f" in {known}" if known else ""), f"Write it as {example}.")
    if re.fullmatch(r"[-+]?\d{1,3},\d{3}", found[1]):
        raise refusal(
            "the comma could part thousands or decimals", "Write it with a point, or without a comma."
        )
    number = float(found[1].replace(",", ".")) * units[unit]
    if not math.isfinite(number) or abs(number) > _LARGEST:
        raise refusal("this is larger than any skin carries", "Check the number and its unit.")
    if least is not None and number < least:
        raise refusal(f"{least:g} is the least that will do here", f"Write it as {example}.")
    return Amount(number, text)


def _running_load(value: Any) -> Amount:
    return _amount(value, units={"lbf/in": 1.0, "N/mm": LBF_IN_PER_N_MM}, example='"120" or "21 N/mm"')


def _pressure(value: Any) -> Amount:
    return _amount(value, units={"psi": 1.0, "kPa": PSI_PER_KPA}, example='"0.40" or "2.8 kPa"')


def _force(value: Any) -> Amount:
    return _amount(value, units={"lbf": 1.0}, example='"1200"', least=0.0)


def _factor(value: Any) -> Amount:
    return _amount(value, units={"": 1.0}, example='"1.15"', least=1.0)


_AS_TYPED = PlainSerializer(lambda amount: amount.text, return_type=str)

RunningLoad = Annotated[Amount, PlainValidator(_running_load), _AS_TYPED]
Pressure = Annotated[Amount, PlainValidator(_pressure), _AS_TYPED]
Force = Annotated[Amount, PlainValidator(_force), _AS_TYPED]
Factor = Annotated[Amount, PlainValidator(_factor), _AS_TYPED]


class LoadCase(Entered):
    """One case of ultimate running loads in the skin, along the job's axes."""

    name: str = Field(min_length=1, max_length=80, description="Name of the case, such as gust up")
    nx: RunningLoad = Field(
        default=Amount(0.0, "0"), description="Ultimate load along X, tension positive [lbf/in]"
    )
    ny: RunningLoad = Field(
        default=Amount(0.0, "0"), description="Ultimate load along Y, tension positive [lbf/in]"
    )
    q: RunningLoad = Field(default=Amount(0.0, "0"), description="Ultimate shear flow [lbf/in]")

    @model_validator(mode="after")
    def _some_load(self) -> LoadCase:
        if not (self.nx or self.ny or self.q):
            raise refusal("this case has no load", "Give nx, ny or q, or take the case away.")
        return self


class SpecialFactor(Entered):
    """A factor for strength that is uncertain, likely to deteriorate or variable; the highest one governs."""

    name: str = Field(min_length=1, max_length=80, description="What it is for, such as fitting")
    value: Factor = Field(description="The factor")
    on: Literal["doubler joint", "cover screws", "all"] = Field(
        default="all", description="What it is applied to"
    )


class CoverLoads(Entered):
    """What the cover must carry, and what one of its screws is good for."""

    air_pressure: Pressure | None = Field(default=None, description="Ultimate air pressure or suction [psi]")
    screw_shear: Force | None = Field(default=None, description="Ultimate shear of one screw [lbf]")
    screw_tension: Force | None = Field(
        default=None, description="Ultimate tension of one screw with its nut, the lower of the two [lbf]"
    )


class Loads(Entered):
    """The basis of the loads, chosen openly; without loads there is no statement of strength."""

    basis: Literal["running loads", "restore", "none"] = Field(
        default="none", description="running loads: known; restore: the strength of the metal removed; none"
    )
    source: str = Field(default="", max_length=400, description="Where known loads come from")
    cases: tuple[LoadCase, ...] = Field(
        default=(), max_length=100, description="Load cases, when loads are known"
    )
    statistical_basis: Literal["A", "B"] = Field(default="A", description="Basis of the sheet's allowables")
    statistical_reason: str = Field(default="", max_length=400, description="Why B basis may be used")
    special_factors: tuple[SpecialFactor, ...] = Field(
        default=(), max_length=20, description="Further factors"
    )
    cover: CoverLoads = Field(default=CoverLoads(), description="Loads of the cover and its screws")

    @model_validator(mode="after")
    def _agrees(self) -> Loads:
        if self.basis == "running loads" and not self.cases:
            raise refusal(
                "known running loads need at least one case", "Add [[loads.cases]], or choose another basis."
            )
        if self.basis == "running loads" and not self.source.strip():
            raise refusal(
                "it is not said where the loads come from", 'Write source = "the report and its page".'
            )
        if self.basis != "running loads" and self.cases:
            raise refusal(
                f"cases are given but the basis is '{self.basis}'", "Write basis = 'running loads'."
            )
        if self.statistical_basis == "B" and not self.statistical_reason.strip():
            raise refusal("B basis is for redundant structure only", "Give statistical_reason, or take A.")
        names = [case.name for case in self.cases]
        if len(set(names)) < len(names):
            raise refusal("two load cases have the same name", "Name each its own.")
        return self
