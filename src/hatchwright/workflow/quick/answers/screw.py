"""Screw length and nut: how long a screw must be for its sheets and its nut, and how tight it is set."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated

from msgspec.structs import replace

from hatchwright.errors import TableError
from hatchwright.job.entry import Entered, Positive, SameAs
from hatchwright.job.fasteners import Screws
from hatchwright.job.stack import Sheets, Stacked
from hatchwright.recipe.hole_drills import drill_said
from hatchwright.rules.cover_screws import length_judged, torque_told
from hatchwright.said import inch, missing, said
from hatchwright.tables.screws import clearance_drill, screw_size
from hatchwright.workflow.quick.answer import Answer, Bench, Quick, Told, entered, listed, told
from hatchwright.workings import Quantity, Working


class ScrewAsked(Entered):
    """A screw, the sheets that it goes through, and the nut behind them."""

    size: Annotated[str, SameAs(Screws, "size")]
    sheets: Annotated[Sheets, SameAs(Stacked, "sheets")]
    nut_height: Annotated[Positive | None, SameAs(Screws, "nut_height")] = None
    length: Annotated[Positive | None, SameAs(Screws, "length")] = None


def _answer(asked: ScrewAsked, bench: Bench) -> Answer:
    judged = length_judged(
        asked.size, asked.length, grip_in=asked.sheets.grip_in, nut=asked.nut_height, shop=bench.shop
    )
    own = tuple(name.rpartition(".")[2] for name in judged.enter)
    findings = (replace(judged, code="R802", enter=own), torque_told(asked.size, bench.shop).of("R808"))
    open_ = [said("quick.screw.open.behind"), said("quick.screw.open.washer")]
    if asked.nut_height is None:
        open_.insert(0, said("quick.screw.open.nut"))
    return Answer(findings, tuple(_told(asked, bench)), tuple(open_))


def _told(asked: ScrewAsked, bench: Bench) -> Iterator[Told]:
    thread, size = bench.limit("thread_protrusion"), screw_size(asked.size, bench.shop)
    one_in, grip_in = thread.value * size.one_thread_in, asked.sheets.grip_in
    nut_in = asked.nut_height.inch if asked.nut_height else 0.0
    parts = [Quantity("grip", grip_in, "in"), Quantity("one thread", one_in, "in")]
    parts[1:1] = [Quantity("nut", nut_in, "in")] if asked.nut_height else []
    least = Quantity("least", grip_in + nut_in + one_in, "in")
    formula = Working.resting_on(thread, " + ".join(part.symbol for part in parts), least, *parts)
    yield told("screw.least" if asked.nut_height else "screw.least_no_nut", missing(least.value), formula)
    yield told("screw.grip", inch(grip_in), entered("grip", grip_in, "in"))
    yield told("screw.one_thread", inch(one_in, fine=True), listed(size, "thread", one_in))
    try:
        drill = clearance_drill(asked.size, shop=bench.shop)
    except TableError:
        return
    yield told("screw.hole", drill_said(drill), listed(drill, "hole", drill.diameter_in))


QUICK = Quick("screw", ScrewAsked, _answer)
