"""What the skin must carry, and on which basis that is known."""

from __future__ import annotations

from typing import Literal

from pydantic import Field, model_validator

from hatchwright.job.amount import Amount, Factor, Force, Pressure, RunningLoad
from hatchwright.job.entry import Entered, refusal
from hatchwright.said import said


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
            raise refusal(said("job.no_load"), said("job.no_load.do"))
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

    carries: Literal["nothing", "load"] = Field(
        default="nothing",
        description="Whether the cover helps to carry the load of the skin in the finite elements; load: it may, and "
        "then the opening may never be loaded without it",
    )
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
            raise refusal(said("job.no_case"), said("job.no_case.do"))
        if self.basis == "running loads" and not self.source.strip():
            raise refusal(said("job.no_load_source"), said("job.no_load_source.do"))
        if self.basis != "running loads" and self.cases:
            raise refusal(said("job.cases_unused", basis=self.basis), said("job.cases_unused.do"))
        if self.statistical_basis == "B" and not self.statistical_reason.strip():
            raise refusal(said("job.b_basis"), said("job.b_basis.do"))
        names = [case.name for case in self.cases]
        if len(set(names)) < len(names):
            raise refusal(said("job.case_twice"), said("job.name_each"))
        return self
