"""S1xx: the questions that send a job to an engineer; they come before every margin."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.finding import Finding, stated
from hatchwright.judged import Status
from hatchwright.layout.layout import Layout
from hatchwright.strength.site import bay_along
from hatchwright.tables.strength_values import strength_value
from hatchwright.tables.table import ShopTables
from hatchwright.workings import Grade, Quantity, Source, Working

_QUESTIONS = (
    ("S101", "spar_web_or_cap", "opening in the web or a cap of a spar"),
    ("S102", "pressure_skin", "skin that holds cabin pressure"),
    ("S103", "tank_wall", "wall of a fuel tank"),
    ("S104", "movable_surface", "control surface, tab or flap"),
    ("S105", "fitting_path", "load path of a strut or fitting"),
    ("S106", "member_cut", "stringer, frame or rib flange cut"),
)
_PRACTICE = Source("PRACTICE", "when a hand method is not used")
_REFER = "Refer the job to an engineer; no margin of this report stands in for that."


def gate(layout: Layout, shop: ShopTables | None = None) -> tuple[Finding, ...]:
    """Answer the gate of a job.

    Returns:
        tuple: one finding a question; yes stops, and a question left open is unknown.
    Method: docs/theory/gate.md.
    """
    return (*_answered(layout), *_half_bay(layout, shop))


def must_refer(answers: tuple[Finding, ...]) -> bool:
    """Whether the gate sends the job to an engineer.

    Args:
        answers: of `gate`.
    Returns:
        bool: true unless every question passes.
    """
    return any(answer.status is not Status.PASS for answer in answers)


def _answered(layout: Layout) -> Iterator[Finding]:
    given = layout.job.gate.model_dump()
    for code, field, subject in _QUESTIONS:
        answer = True if field == "pressure_skin" and layout.job.skin.pressurized else given[field]
        if answer is None:
            status, advice = (
                Status.UNKNOWN,
                f"Not answered: write gate.{field} = true or false. Until then: {_REFER}",
            )
        elif answer:
            status, advice = Status.STOP, _REFER
        else:
            status, advice = Status.PASS, ""
        said = "not answered" if answer is None else "yes" if answer else "no"
        yield stated(
            code=code,
            status=status,
            subject=f"{subject}: {said}",
            value=None,
            limit=None,
            unit="",
            source=_PRACTICE,
            grade=Grade.PRACTICE,
            advice=advice,
        )


def _half_bay(layout: Layout, shop: ShopTables | None) -> Iterator[Finding]:
    most = strength_value("opening_over_bay_max", shop)
    bounds = layout.opening.bounds
    for axis, letter in ((0, "X"), (1, "Y")):
        opening_in = bounds[axis + 2] - bounds[axis]
        bay_in = bay_along(layout.job.bay.rows, layout.opening, axis)
        ratio = opening_in / bay_in if bay_in else None
        if ratio is None:
            status = Status.UNKNOWN
            advice = f"Give the landmark rows on both sides along {letter} (bay.rows). Until then: {_REFER}"
        elif ratio <= most.value + 1e-9:
            status, advice = Status.PASS, ""
        else:
            status, advice = Status.STOP, f"More than half of the bay. {_REFER}"
        working: tuple[Working, ...] = ()
        if ratio is not None and bay_in is not None:
            working = (
                Working(
                    f"opening / bay along {letter}",
                    (Quantity("opening", opening_in, "in"), Quantity("bay", bay_in, "in")),
                    Quantity("ratio", ratio, ""),
                    most.source,
                    most.grade,
                ),
            )
        yield stated(
            code="S107",
            status=status,
            subject=f"opening of {opening_in:.3f} in along {letter} in a bay of "
            + (f"{bay_in:.3f} in" if bay_in else "unknown size"),
            value=ratio,
            limit=most.value,
            unit="of the bay",
            source=most.source,
            grade=most.grade,
            working=working,
            advice=advice,
            shortfall=max(0.0, (ratio or 0.0) - most.value),
        )
