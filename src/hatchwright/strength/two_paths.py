"""Where two paths of evidence judge the same thing and differ: by which factor, and why."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import prod

from hatchwright.finding import Finding, stated
from hatchwright.ground import Ground
from hatchwright.judged import FLOAT_NOISE, Status
from hatchwright.register import Shelf
from hatchwright.said import Amount, Said, Value, said
from hatchwright.strength.comparison import strength_code
from hatchwright.strength.margin import Margin
from hatchwright.strength.worked import Worked, weakest
from hatchwright.workings import Grade, Quantity, Source, Working

_CAUSE = "two_paths"

ORDER = said("two_paths.order")
"""The order of evidence."""

HARDEST_RIVET = "hardest_rivet"
"""What all say in one line that compare the load of one rivet."""

RIVET_PATHS = strength_code("S203", "rows", "opening", theory="two_paths", shelf=Shelf.KNOW, cause=_CAUSE)
DOUBLER_PATHS = strength_code("S307", "doubler", "skin", theory="two_paths", shelf=Shelf.KNOW, cause=_CAUSE)
ELEMENT_PATHS = strength_code(
    "S817", "bay", "rows", theory="two_paths", shelf=Shelf.KNOW, cause=HARDEST_RIVET
)


@dataclass(frozen=True, slots=True)
class Path:
    """What one path of evidence asks for.

    Args:
        asks: in parts of what is there: above 1 it is short [-].
    """

    asks: float
    source: Source
    grade: Grade

    @property
    def passes(self) -> bool:
        """Whether what is there is enough."""
        return self.asks <= 1.0 + FLOAT_NOISE


@dataclass(frozen=True, slots=True)
class Reason:
    """One factor between two paths, taken from their workings.

    Args:
        symbol: as the working writes it.
        factor: by which it alone makes the second path ask for more; below 1 it asks for less [-].
        why: where it comes from.
    """

    symbol: str
    factor: float
    why: Said


def two_paths(
    code: str,
    first: Path,
    second: Path,
    reasons: Sequence[Reason],
    told: Mapping[str, Value],
    *,
    advice: Said,
    holes: tuple[int, ...] = (),
) -> Finding | None:
    """Compare two paths; it never counts for more than they do themselves, since the one that is short says so.

    Args:
        first: the one that comes first in the order of evidence.
        reasons: every factor between them: their product is that of the paths, before anything is rounded up.
        told: values of the sentences `paths_agree.<code>`, `paths_more.<code>` and `paths_less.<code>`.
        advice: what to know where they differ.
    Returns:
        Finding | None: pass where both are enough, a caution where only one is; None where both are short.
    Method: docs/theory/two_paths.md, eq. 1.
    """
    if not (first.passes or second.passes):
        return None
    agree = first.passes and second.passes
    is_more = second.asks > first.asks
    times = second.asks / first.asks if is_more else first.asks / second.asks
    factor = prod(reason.factor for reason in reasons)
    id = f"paths_agree.{code}" if agree else f"paths_more.{code}" if is_more else f"paths_less.{code}"
    most = max(reasons, key=lambda reason: reason.factor if is_more else -reason.factor)
    values = told if agree else {**told, "times": Amount(round(times, 2), ""), "why": most.why}
    working = Working(
        " x ".join(reason.symbol for reason in reasons),
        tuple(Quantity(reason.symbol, reason.factor, "") for reason in reasons),
        Quantity("second / first", factor, ""),
        second.source,
        second.grade,
        most.why,
    )
    return stated(
        code,
        Status.PASS if agree else Status.CAUTION,
        said(id, **values),
        Ground(first.source, weakest((first.grade, second.grade))),
        *(() if agree else (advice,)),
        value=times,
        working=(working,),
        holes=() if agree else holes,
        shortfall=0.0 if agree else times - 1.0,
    )


@dataclass(frozen=True, slots=True)
class Computed:
    """A margin that could be computed."""

    margin: Margin
    applied: Worked
    allowable: Worked

    @property
    def path(self) -> Path:
        """What it asks for."""
        return Path(self.applied.value / self.allowable.value, self.margin.source, self.margin.grade)


def computed(margin: Margin) -> Computed | None:
    """None where it could not be computed, or nothing may be carried."""
    if margin.applied is None or margin.allowable is None or margin.allowable.value <= 0.0:
        return None
    return Computed(margin, margin.applied, margin.allowable)


def governing(margins: Sequence[Margin]) -> Computed | None:
    """The lowest of several margins; None where there is none, or one of them could not be computed."""
    found = [one for margin in margins if (one := computed(margin))]
    return max(found, key=lambda one: one.path.asks) if found and len(found) == len(margins) else None


def named(one: Margin | Finding, hole: str) -> Value | None:
    """What the subject of a margin or finding names: its `side`, `axis` or `case`."""
    return dict(one.subject.values).get(hole) if isinstance(one.subject, Said) else None


def put_in(worked: Worked, result: str = "") -> dict[str, float]:
    """Values that went into a step, by their symbols.

    Args:
        result: symbol of what came out of it, "" for the last step.
    """
    step = next(step for step in reversed(worked.working) if not result or step.result.symbol == result)
    return {value.symbol: value.value for value in (step.result, *step.values)}
