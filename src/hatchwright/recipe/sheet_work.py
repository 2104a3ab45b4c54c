"""The work on each sheet of a hole: how it takes the head, and what is drilled, dimpled and opened, in which order.

A dimple spreads its hole, so a dimpled sheet is drilled small, dimpled, and opened to the final size after; a machine
countersink goes into a hole of final size. The sheets of a hole begin with one drill, which goes through all of them;
where that of one is not known, none is.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from contextlib import suppress
from functools import lru_cache
from typing import Literal

from msgspec import Struct
from msgspec.structs import replace

from hatchwright.errors import TableError
from hatchwright.job.fasteners import SCREW_HEADS, Preparation, Screws
from hatchwright.job.job import Job
from hatchwright.job.rivet_rows import Row
from hatchwright.judged import FLOAT_NOISE
from hatchwright.layout.layout import Hole, Layout, PartName
from hatchwright.layout.named import why
from hatchwright.layout.unlisted import what_of
from hatchwright.said import Listed, Said, Value, inch, said
from hatchwright.tables.countersink import countersink_minimum
from hatchwright.tables.drill_chain import DrillStep, drill_chain, drill_methods
from hatchwright.tables.drills import Drill, drill, nearest_drill
from hatchwright.tables.limits import limit
from hatchwright.tables.rivet_part import RivetPart, parse_rivet
from hatchwright.tables.rivets import hole_drill
from hatchwright.tables.screws import clearance_drill
from hatchwright.tables.table import ShopTables
from hatchwright.units import Length, Unit, decimal_inch
from hatchwright.workings import Grade, Source

How = Literal["plain", "dimple", "countersink", ""]
WorkedPart = PartName | Literal["strap", "ears"]
"""A part of the stack, or what lies behind it: the strap under nutplates, and their ears."""

_UNLISTED = said("head.unlisted")

_FINISHING = ("final", "ream")

_ENTERED = Source("PRACTICE", "as entered in the job")
_PILOT = Source("PRACTICE", "No. 40 first, then open in one or two steps")
_HEADS = Source("PRACTICE", "drill small, dimple, open after; countersink the finished hole")


class LayerWork(Struct, frozen=True):
    """What is done to one sheet for one kind of hole.

    Args:
        preparation: how it takes the head, "" when that cannot be said.
        steps: drills, dimple and countersink in the order of the work, those that nobody knows among them.
    """

    part: WorkedPart
    thickness_in: float
    preparation: How
    why: Said
    steps: tuple[DrillStep, ...]
    lacks: tuple[Said, ...] = ()

    @property
    def is_unlisted(self) -> bool:
        """Whether no table lists the fastener or its head, so that no drill is named but those of the job."""
        return self.why == _UNLISTED

    @property
    def before_dimple(self) -> Drill | None:
        """The drill of the hole that is dimpled; None without a dimple, or when it is not known."""
        drilled = None
        for step in self.steps:
            if step.operation == "dimple":
                return drilled
            drilled = step.drill
        return None


def hole_work(hole: Hole, layout: Layout) -> tuple[LayerWork, ...]:
    """The work on each sheet of a hole, from outside, as the job enters it, else by the tables; what these
    lack is said in it. Behind the sheets of a screw lies the strap of its nutplate, where there is one."""
    named = entered_for(hole, layout.job)
    thickness = {part.name: part.thickness_in for part in layout.parts}
    unlisted = what_of(hole)
    if unlisted is None and isinstance(named, Screws) and named.head not in SCREW_HEADS:
        unlisted = said("unlisted.screw_head", name=named.head)
    is_flush = isinstance(named, Screws) and named.head == "100 degree flush"
    entered = (named.preparation, named.pilot, named.final) if named else (None, None, None)
    pin = layout.job.template.pin if layout.job.template else None
    sheets: tuple[tuple[WorkedPart, float], ...] = tuple((name, thickness[name]) for name in hole.stack)
    if isinstance(named, Screws) and named.strap:
        sheets = (*sheets, ("strap", named.strap.thickness.inch))
    is_screw, shop = hole.kind == "screw", layout.shop
    return stack_work(hole.fastener, is_screw, is_flush, *entered, pin, sheets, shop, unlisted)


def lacks_of(layers: Iterable[LayerWork]) -> tuple[Said, ...]:
    """What cannot be said of a hole, each with the sheets that it is about."""
    parts: dict[Said, list[Said]] = {}
    for layer in layers:
        for lack in layer.lacks:
            parts.setdefault(lack, []).append(said(f"part.{layer.part}"))
    return tuple(
        said("lacks.of", parts=Listed(tuple(names), "+"), lacks=lack) for lack, names in parts.items()
    )


def lacking(error: TableError) -> Said:
    """What a table does not tell, with what to do."""
    what, *remedy = why(error)
    return said("lacks.table", what=what, remedy=remedy[0]) if remedy else what


def entered_for(hole: Hole, job: Job) -> Row | Screws | None:
    """The row or the screws of the job that a hole belongs to; None for a hole of no row."""
    if hole.kind == "screw":
        return job.cover.screws if job.cover else None
    return next((row for row in job.rows if row.name == hole.row), None)


@lru_cache(maxsize=256)
def stack_work(
    fastener: str,
    is_screw: bool,
    is_flush_screw: bool,
    preparation: Preparation | None,
    pilot: Length | None,
    final: Length | None,
    pin: Length | None,
    sheets: tuple[tuple[WorkedPart, float], ...],
    shop: ShopTables | None,
    unlisted: Said | None,
) -> tuple[LayerWork, ...]:
    """The work on each sheet of one kind of hole.

    Args:
        preparation, pilot, final: as entered, None where they are not.
        pin: of the template, None without one.
        sheets: name and thickness of each, from outside [in].
        unlisted: that no table lists the fastener or its head, None where one does.
    """
    works: list[LayerWork] = []
    for index, (part, thickness_in) in enumerate(sheets):
        over: How = "countersink" if index else "dimple"
        how = over if preparation == "dimple over countersink" else preparation or ""
        if unlisted:
            work = LayerWork(part, thickness_in, "", _UNLISTED, (), (unlisted,))
        elif is_screw:
            how = how if is_flush_screw else "plain"
            if part == "strap":
                how = under(works[-1].preparation)
            work = _screw_layer(fastener, part, thickness_in, how, shop, tried=pilot is not None)
            if part == "strap" and how == "countersink":
                work = replace(work, why=said("head.strap"))
        else:
            work = rivet_layer(parse_rivet(fastener), part, thickness_in=thickness_in, entered=how, shop=shop)
            if pilot is not None and work.preparation == "dimple":
                work = replace(work, lacks=())
        works.append(_with_entered_drills(work, pilot, final))
    return begun_alike(works, pin)


def begun_alike(works: Sequence[LayerWork], pin: Length | None = None) -> tuple[LayerWork, ...]:
    """The same work where every sheet begins with the smallest first drill, or with the pins of the template where
    these are smaller; not known for any while it is not known for one."""
    firsts = [work.steps[0].drill for work in works if work.steps]
    known = [first for first in firsts if first is not None]
    if len(known) < len(works):
        unknown = DrillStep("not known", None, "", _PILOT, Grade.PRACTICE)
        return tuple(replace(work, steps=(unknown,)) for work in works)
    least = min(known, key=lambda one: one.diameter_in)
    if pin is not None and pin.inch < least.diameter_in - FLOAT_NOISE:
        least = _drill_of(pin)
    return tuple(replace(work, steps=_from(least, work.steps)) for work in works)


def _from(first: Drill, steps: tuple[DrillStep, ...]) -> tuple[DrillStep, ...]:
    """The steps of a sheet behind a first drill; its own pilot gives way, unless it is the hole that is dimpled."""
    own = steps[0]
    if own.drill is None or own.drill.diameter_in <= first.diameter_in + FLOAT_NOISE:
        return steps
    is_dimpled = len(steps) > 1 and steps[1].operation == "dimple"
    opened = (replace(own, operation="open"),) if is_dimpled else () if own.operation == "pilot" else (own,)
    return (DrillStep("pilot", first, "", _PILOT, Grade.PRACTICE), *opened, *steps[1:])


def under(sheet: How) -> How:
    """How a strap takes what the sheet on it does: countersunk under its dimple, else plain."""
    behind: dict[How, How] = {"dimple": "countersink", "countersink": "plain"}
    return behind.get(sheet, sheet)


def rivet_layer(
    rivet: RivetPart,
    part: WorkedPart,
    *,
    thickness_in: float,
    entered: How = "",
    shop: ShopTables | None = None,
) -> LayerWork:
    """The work on one sheet for one kind of rivet, by the tables.

    How it takes a flush head is `entered`; where that is "", it is a countersink where the sheet is thick
    enough, else a dimple."""
    how: How = "plain"
    why = said("head.protruding")
    if rivet.is_flush:
        how, why = _by_thickness(rivet, thickness_in, shop)
        if entered:
            is_thin = entered == "countersink" != how
            is_thick = entered == "dimple" and thickness_in > limit("dimple_best_max_thickness", shop).value
            though = "head.entered_thin" if is_thin else "head.entered_thick" if is_thick else "head.entered"
            how, why = entered, said(though)
    if not how:
        return LayerWork(part, thickness_in, how, why, (), (said("lacks.head"),))
    lacks: tuple[Said, ...] = ()
    try:
        steps = _chain(rivet.diameter_in, how, shop)
    except TableError as error:
        # Where no chain is listed: a dimple between a hole that a trial must give and the final drill.
        lacks = (lacking(error),)
        steps = _around(_finished(rivet, shop), how)
    if steps[-1].operation == "dimple":  # which opens the hole; it is reamed where it is still tight
        last = _finished(rivet, shop)
        source, grade = (last.source, last.grade) if last else (_HEADS, Grade.PRACTICE)
        steps = (*steps, DrillStep("ream", last, "", source, grade))
    return LayerWork(part, thickness_in, how, why, steps, lacks)


def _finished(rivet: RivetPart, shop: ShopTables | None) -> Drill | None:
    with suppress(TableError):
        return hole_drill(rivet.diameter_in, shop=shop)
    return None


def _by_thickness(rivet: RivetPart, thickness_in: float, shop: ShopTables | None) -> tuple[How, Said]:
    most = limit("dimple_best_max_thickness", shop)
    dimpled: dict[str, Value] = {"most": inch(most.value), "most_source": str(most.source)}
    try:
        least = countersink_minimum(rivet.diameter_in, shop)
    except TableError as error:
        why = said("head.by_thickness_unlisted", **dimpled, unlisted=error.what)
    else:
        why = said("head.by_thickness", **dimpled, least=inch(least.value), least_source=str(least.source))
        if thickness_in >= least.value - FLOAT_NOISE:
            return "countersink", why
    return ("dimple" if thickness_in <= most.value + FLOAT_NOISE else ""), why


def _chain(diameter_in: float, how: How, shop: ShopTables | None) -> tuple[DrillStep, ...]:
    """The listed chain: of two for a dimple the one that drills undersize and opens after."""
    if how != "dimple":
        return _countersunk(drill_chain(diameter_in, shop=shop), how)
    is_listed = "undersize" in drill_methods(diameter_in, "dimpled", shop)
    return drill_chain(diameter_in, "dimpled", method="undersize" if is_listed else "", shop=shop)


def _screw_layer(
    thread: str, part: WorkedPart, thickness_in: float, how: How, shop: ShopTables | None, *, tried: bool
) -> LayerWork:
    """The work on one sheet for a screw; no table gives the hole before its dimple, a trial does."""
    why = said({"plain": "head.protruding", "": "head.not_entered"}.get(how, "head.entered"))
    last, lacks = None, tuple[Said, ...]()
    try:
        last = clearance_drill(thread, shop=shop)
    except TableError as error:
        lacks = (lacking(error),)
    if not how or (how == "dimple" and not tried):
        lacks = (*lacks, said("lacks.before_dimple" if how else "lacks.screw_head"))
    return LayerWork(part, thickness_in, how, why, _around(last, how), lacks)


def _around(last: Drill | None, how: How) -> tuple[DrillStep, ...]:
    """Pilot and final drill by practice, both metric or neither, with a dimple between or a countersink behind; the
    final drill is not known while it is not said how the sheet takes the head. The pilot is too small to dimple: the
    hole is opened to a size that only a trial gives."""
    usual, steps = drill("2.5 mm" if last and last.is_metric else "40"), list[DrillStep]()
    if last is None or usual.diameter_in < last.diameter_in - FLOAT_NOISE:
        steps.append(DrillStep("pilot", usual, "", _PILOT, Grade.PRACTICE))
    if how == "dimple":
        steps += (DrillStep(operation, None, "", _HEADS, Grade.PRACTICE) for operation in ("open", "dimple"))
    known = last if how else None
    source, grade = (known.source, known.grade) if known else (_HEADS, Grade.PRACTICE)
    steps.append(DrillStep("final", known, "", source, grade))
    return _countersunk(tuple(steps), how)


def _countersunk(steps: tuple[DrillStep, ...], how: How) -> tuple[DrillStep, ...]:
    sunk = DrillStep("countersink", None, "", _HEADS, Grade.PRACTICE)
    return (*steps, sunk) if how == "countersink" else steps


def _with_entered_drills(work: LayerWork, pilot: Length | None, final: Length | None) -> LayerWork:
    """The same work with the drills that the job names: the pilot is the hole before a dimple; what is opened on the
    way is left out where it would not grow."""
    steps = work.steps
    named = [step.operation for step in steps]
    if pilot is not None:
        first = DrillStep("pilot", _drill_of(pilot), "", _ENTERED, Grade.SHOP)
        rest = steps[named.index("dimple") :] if "dimple" in named else steps
        unsaid = () if rest else (DrillStep("final", None, "", _HEADS, Grade.PRACTICE),)
        steps = (first, *(step for step in rest if step.operation != "pilot"), *unsaid)
    if final is not None:
        last = DrillStep("final", _drill_of(final), "", _ENTERED, Grade.SHOP)
        sunk = [step for step in steps if step.operation == "countersink"]
        steps = (*(step for step in steps if step.operation not in (*_FINISHING, "countersink")), last, *sunk)
    return replace(work, steps=tuple(_growing(steps)))


def _growing(steps: tuple[DrillStep, ...]) -> Iterator[DrillStep]:
    """The steps without those of a hole that is opened to no more than it is, or to more than it shall be."""
    for index, step in enumerate(steps):
        least_in = max((one.drill.diameter_in for one in steps[:index] if one.drill), default=0.0)
        most_in = min((one.drill.diameter_in for one in steps[index + 1 :] if one.drill), default=math.inf)
        is_between = (
            step.drill is None or least_in < step.drill.diameter_in - FLOAT_NOISE < most_in - 2 * FLOAT_NOISE
        )
        if step.operation != "open" or is_between:
            yield step


def _drill_of(length: Length) -> Drill:
    """The drill of that very size, else one known by its size alone."""
    units: tuple[Unit, ...] = ("in", "mm")
    for unit in units:
        with suppress(TableError):
            near = nearest_drill(length.inch, unit)
            if abs(near.diameter_in - length.inch) < FLOAT_NOISE:
                return replace(near, source=_ENTERED, grade=Grade.SHOP)
    return Drill(f"{decimal_inch(length.inch, 4)} in", length.inch, _ENTERED, Grade.SHOP)
