"""What the skin must carry, and on which basis that is known."""

from typing import Literal, Self

from pydantic import Field, model_validator

from hatchwright.job.amount import Allowable, Amount, Efficiency, Factor, Pressure, RunningLoad
from hatchwright.job.edge_member import EdgeMember
from hatchwright.job.entry import Entered, refusal
from hatchwright.said import said


class LoadCase(Entered):
    """One case of ultimate running loads in the skin, along the job's axes."""

    name: str = Field(min_length=1, max_length=80)
    nx: RunningLoad = Field(default=Amount(0.0, "0"))
    ny: RunningLoad = Field(default=Amount(0.0, "0"))
    q: RunningLoad = Field(default=Amount(0.0, "0"))

    @model_validator(mode="after")
    def _some_load(self) -> Self:
        if not (self.nx or self.ny or self.q):
            raise refusal(said("job.no_load"), said("job.no_load.do"))
        return self


class SpecialFactor(Entered):
    """A factor for strength that is uncertain, likely to deteriorate or variable; the highest one governs."""

    name: str = Field(min_length=1, max_length=80)
    value: Factor
    on: Literal["doubler joint", "cover screws", "all"] = "all"


class CoverLoads(Entered):
    """What the cover must carry, and what one of its screws is good for."""

    carries: Literal["nothing", "load"] = Field(default="nothing")
    air_pressure: Pressure | None = None
    screw_shear: Allowable | None = None
    screw_tension: Allowable | None = None


class Loads(Entered):
    """The basis of the loads, chosen openly; without loads there is no statement of strength."""

    basis: Literal["running loads", "restore", "none"] = "none"
    source: str = Field(default="", max_length=400)
    efficiency: Efficiency | None = None
    cases: tuple[LoadCase, ...] = Field(default=(), max_length=100)
    statistical_basis: Literal["A", "B"] = "A"
    statistical_reason: str = Field(default="", max_length=400)
    special_factors: tuple[SpecialFactor, ...] = Field(default=(), max_length=20)
    members: tuple[EdgeMember, ...] = Field(default=(), max_length=4)
    cover: CoverLoads = CoverLoads.model_construct()

    @model_validator(mode="after")
    def _agrees(self) -> Self:
        if self.basis == "running loads" and not self.cases:
            raise refusal(said("job.no_case"), said("job.no_case.do"))
        if self.basis == "running loads" and not self.source.strip():
            raise refusal(said("job.no_load_source"), said("job.no_load_source.do"))
        if self.basis != "running loads" and self.cases:
            raise refusal(said("job.cases_unused", basis=self.basis), said("job.cases_unused.do"))
        if self.basis != "restore" and self.efficiency not in (None, 1.0):
            raise refusal(said("job.efficiency_unused"), said("job.efficiency_unused.do"))
        is_typed = isinstance(self.efficiency, Amount)
        if is_typed and self.efficiency != 1.0 and not self.source.strip():
            raise refusal(said("job.no_efficiency_source"), said("job.no_efficiency_source.do"))
        if self.statistical_basis == "B" and not self.statistical_reason.strip():
            raise refusal(said("job.b_basis"), said("job.b_basis.do"))
        names = [case.name for case in self.cases]
        if len(set(names)) < len(names):
            raise refusal(said("job.case_twice"), said("job.name_each"))
        if len({member.edge for member in self.members}) < len(self.members):
            raise refusal(said("job.member_twice"), said("job.member_twice.do"))
        return self
