"""R924, R925: what a mounted part and its antenna's drag must be shown to ask of the skin."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from hatchwright.finding import Finding, stated
from hatchwright.judged import FLOAT_NOISE, Status
from hatchwright.layout.layout import Layout
from hatchwright.layout.mount_loads import MountLoad, drag_load, static_loads
from hatchwright.layout.survey import Survey, survey
from hatchwright.register import Shelf
from hatchwright.rules.answer import against
from hatchwright.rules.rule import rule
from hatchwright.rules.wording import sentence
from hatchwright.tables.catalog import STATIC_TEST_FACTORS
from hatchwright.tables.cited import Cited
from hatchwright.workings import Grade, Source

_ENTRY = Cited(0.0, "lbf", Source("PRACTICE", "mounted part, as entered"), Grade.PRACTICE)


@rule("R924", Shelf.KNOW, rests_on=(STATIC_TEST_FACTORS, _ENTRY), reads=("mount",))
def static_test(survey: Survey) -> Iterator[Finding]:
    """R924: mounted part: static test loads."""
    mount = survey.layout.job.mount
    if mount is None:
        return
    loads = static_loads(mount, survey.shop)
    if not loads:
        yield _not_given("R924", "the weight of the mounted part is not given", "Enter mount.weight.")
        return
    yield _held("R924", "static test loads", loads)


@rule(
    "R925",
    Shelf.KNOW,
    limits=("antenna_drag_coefficient", "factor_of_safety"),
    rests_on=(_ENTRY,),
    reads=("mount",),
)
def drag(survey: Survey) -> Iterator[Finding]:
    """R925: antenna: drag."""
    mount = survey.layout.job.mount
    if mount is None or mount.kind != "antenna":
        return
    load = drag_load(mount, survey.shop)
    if load is None:
        yield _not_given(
            "R925",
            "frontal area or speed of the antenna is not given",
            "Enter mount.frontal_area and mount.speed.",
        )
        return
    yield _held("R925", f"drag {load.working.result.value:.2f} lbf, at ultimate load", (load,))


def mount_findings(layout: Layout) -> tuple[Finding, ...]:
    """What must be shown of a mounted part, for a report of its own.

    Returns:
        tuple: R924 and R925; empty without a mount.
    """
    measured = survey(layout)
    return (*static_test(measured), *drag(measured))


def _held(code: str, what: str, loads: Sequence[MountLoad]) -> Finding:
    """Judge what was held in each direction; the worst direction speaks for all."""
    worst = min(loads, key=lambda load: (_status(load).severity, -load.load_lbf))
    status, grade = _status(worst), worst.working.grade
    open_points = [load for load in loads if load.held_lbf is None or _is_short(load)]
    asked = ", ".join(f"{load.direction} {load.words}" for load in loads)
    advice = [
        f"Show by test or analysis that part, base and skin hold {_told(open_points)}."
        if open_points
        else "",
        "The figures are from memory: confirm them in the circular." if not grade.may_stop else "",
    ]
    return stated(
        code=code,
        status=status,
        subject=f"{what}: {asked}",
        value=worst.held_lbf,
        limit=worst.load_lbf,
        unit="lbf",
        source=worst.working.source,
        grade=grade,
        working=tuple(load.working for load in loads),
        advice=sentence(" ".join(filter(None, advice))),
        shortfall=worst.load_lbf - (worst.held_lbf or 0.0) if _is_short(worst) else 0.0,
    )


def _told(loads: Sequence[MountLoad]) -> str:
    return ", ".join(
        f"{load.words} {load.direction}" + ("" if load.held_lbf is None else f" (held {load.held_lbf:g})")
        for load in loads
    )


def _is_short(load: MountLoad) -> bool:
    return load.held_lbf is not None and load.held_lbf < load.load_lbf - FLOAT_NOISE


def _status(load: MountLoad) -> Status:
    if load.held_lbf is None or not load.working.grade.may_stop:
        return Status.CAUTION
    return Status.STOP if _is_short(load) else Status.PASS


def _not_given(code: str, subject: str, advice: str) -> Finding:
    return against(
        code, Status.UNKNOWN, subject, value=None, limit=None, unit="lbf", cited=_ENTRY, advice=advice
    )
