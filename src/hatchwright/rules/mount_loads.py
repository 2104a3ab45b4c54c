"""R924 to R926: what a mount and its drag must be shown to ask of the skin, and the bends of its bracket."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from hatchwright.finding import Finding
from hatchwright.judged import FLOAT_NOISE, Bound, Judgement, Measure, Status
from hatchwright.layout.layout import Layout
from hatchwright.layout.mount_loads import MountLoad, drag_load, static_loads
from hatchwright.layout.survey import Survey, survey
from hatchwright.register import Shelf
from hatchwright.remedy import ASK, Change
from hatchwright.rules.answer import held, held_as, stated, worse
from hatchwright.rules.rule import judged_by, mended_by, rule
from hatchwright.said import Amount, Listed, Said, inch, said
from hatchwright.tables.bends import AC43_TABLE_4_6, bend_radius
from hatchwright.tables.cited import Cited
from hatchwright.tables.static_tests import CABIN_MASS_FACTORS, STATIC_TEST_FACTORS
from hatchwright.workings import Grade, Source

_ENTRY = Cited(0.0, "lbf", Source("PRACTICE", "mounted part, as entered"), Grade.PRACTICE)


@rule("R924", Shelf.HOLDS, reads=("mount",), step="mount", cause="mount_loads")
@judged_by(STATIC_TEST_FACTORS, CABIN_MASS_FACTORS, _ENTRY)
def static_test(survey: Survey) -> Iterator[Finding]:
    """R924: mounted part: static test loads."""
    mount = survey.layout.job.mount
    if mount is None:
        return
    loads = static_loads(mount, survey.shop)
    if not loads:
        yield _not_given("mount_load.no_weight", "mount_load.weigh", ("mount.weight",))
        return
    yield _held(said("mount_load.static", loads=_asked(loads)), loads)


@rule("R925", Shelf.HOLDS, reads=("mount",), step="mount", cause="mount_loads")
@judged_by(_ENTRY, limits=("antenna_drag_coefficient", "factor_of_safety"))
def drag(survey: Survey) -> Iterator[Finding]:
    """R925: antenna: drag."""
    mount = survey.layout.job.mount
    if mount is None or mount.kind != "antenna":
        return
    load = drag_load(mount, survey.shop)
    if load is None:
        missing = (
            *(() if mount.frontal_area else ("mount.frontal_area",)),
            *(() if mount.speed else ("mount.speed",)),
        )
        yield _not_given("mount_load.no_drag", "mount_load.find_drag", missing)
        return
    limit = Amount(load.working.result.value, "lbf", toward="up")
    yield _held(said("mount_load.drag", drag=limit, loads=_asked((load,))), (load,))


def mount_findings(layout: Layout) -> tuple[Finding, ...]:
    """What must be shown of a mounted part, R924 and R925, for a report of its own; empty without a mount."""
    measured = survey(layout)
    return (*static_test(measured), *drag(measured))


def _held(subject: Said, loads: Sequence[MountLoad]) -> Finding:
    """Judge what was held in each direction: the worst speaks for all, and a load that was not tested cautions."""
    tested = [load for load in loads if load.held_lbf is not None]
    untested = [load for load in loads if load.held_lbf is None]
    judged = _judged(tested) if tested else None
    open_ = any(load.is_open for load in loads)
    enter = ("mount.where", "mount.certification") if open_ else ()
    show = _show([load for load in loads if load.held_lbf is None or _is_short(load)])
    settle = (said("mount_load.settle_where"),) if open_ else ()
    if judged is not None and (judged.status.holds_back or not untested):
        told = show or (() if judged.grade.may_stop else (said("mount_load.confirm"),))
        return held(judged, subject, *told, *settle, enter=enter)
    most = max(untested, key=lambda load: load.load_lbf)
    weak = next((load.working for load in loads if not load.working.grade.may_stop), None)
    from_memory = (said("reading.from_memory", source=str(weak.source)),) if weak else ()
    return stated(
        Status.CAUTION,
        subject,
        most.working,
        *show,
        *from_memory,
        *settle,
        limit=most.load_lbf,
        unit="lbf",
        working=tuple(load.working for load in loads),
        enter=enter,
    )


def _judged(tested: Sequence[MountLoad]) -> Judgement:
    """What was held, each direction by the grade of its own factor, and of these the least sure."""
    every = [_of_one(load) for load in tested]
    most = max(every, key=lambda one: (one.status.rank, -float(one.margins()[0])))
    return worse(most, *(one for one in every if one is not most))


def _of_one(load: MountLoad) -> Judgement:
    by = load.working
    bounds = (Bound(load.least_lbf, by.source, by.grade, to=load.load_lbf if load.is_open else None),)
    return Judgement(Measure("held", load.held_lbf or 0.0, unit="lbf"), bounds, more=(by,))


def _asked(loads: Sequence[MountLoad]) -> Listed:
    return Listed(tuple(_one(load) for load in loads), ",")


def _one(load: MountLoad) -> Said:
    direction = said(f"direction.{load.direction}")
    if load.is_open:
        least = Amount(load.least_lbf, "lbf", toward="up")
        return said("mount_load.one_between", least=least, load=_load(load), direction=direction)
    return said("mount_load.one", load=_load(load), direction=direction)


def _show(loads: Sequence[MountLoad]) -> tuple[Said, ...]:
    """What is still to be shown, None of it where every load was held."""
    if not loads:
        return ()
    told = tuple(
        _one(load)
        if load.held_lbf is None
        else said(
            "mount_load.one_held",
            load=_load(load),
            direction=said(f"direction.{load.direction}"),
            held=Amount(load.held_lbf, "lbf", toward="down"),
        )
        for load in loads
    )
    return (said("mount_load.show", loads=Listed(told, ",")),)


def _load(load: MountLoad) -> Amount:
    return Amount(load.load_lbf, "lbf", toward="up")


def _is_short(load: MountLoad) -> bool:
    return load.held_lbf is not None and load.held_lbf < load.load_lbf - FLOAT_NOISE


def _not_given(subject: str, advice: str, enter: tuple[str, ...]) -> Finding:
    return stated(Status.UNKNOWN, said(subject), _ENTRY, said(advice), unit="lbf", enter=enter)


TABLE_DEG = 90.0
"""The bend that the table is for [deg]. Source: [AC43.13-1B], table 4-6."""


@rule("R926", Shelf.HOLDS, reads=("mount",))
@judged_by(AC43_TABLE_4_6)
@mended_by(Change.BEND_RADIUS)
def bracket_bends(survey: Survey) -> Iterator[Finding]:
    """R926: bend radius of the mount's bracket."""
    mount = survey.layout.job.mount
    bracket = mount.bracket if mount else None
    if bracket is None:
        return
    thickness_in = bracket.thickness.inch
    asked = bend_radius(bracket.alloy, bracket.temper, thickness_in=thickness_in, shop=survey.shop)
    radius = Measure("R", bracket.radius.inch, per=("t", thickness_in, "in"))
    least, greatest = (
        Bound(ratio * thickness_in, asked.source, asked.grade, f"{ratio:g} t")
        for ratio in (asked.least_ratio, asked.greatest_ratio)
    )
    any_batch = Judgement(radius, (least,))
    judged = Judgement(radius, (greatest,), fails_as=Status.CAUTION, more=any_batch.working)
    subject = said(
        "bracket.bend",
        angle=Amount(bracket.angle, "deg"),
        alloy=bracket.alloy,
        temper=bracket.temper,
        thickness=inch(thickness_in),
    )
    if any_batch.status is not Status.PASS:
        yield held(any_batch, subject, said("bracket.cracks"), ASK)
    elif judged.status is Status.PASS and bracket.angle > TABLE_DEG:
        past = said("bracket.past_the_table", angle=Amount(TABLE_DEG, "deg"))
        yield held_as(judged, Status.CAUTION, subject, past)
    else:
        yield held(judged, subject, said("bracket.some_batches"))
