"""What the page shows of a job's risk, and the scatter of its own readings entered in its text."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec import Struct
from msgspec.structs import replace

from hatchwright.drawings.risk_view import risk_picture
from hatchwright.drawings.writers.svg import picture_svg_of
from hatchwright.errors import GeometryError, JobError
from hatchwright.job.file import read_job
from hatchwright.job.text_file import LARGEST_FILE_BYTES, text_in
from hatchwright.job.trial_readings import TrialReadings
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.layout import Layout
from hatchwright.making.trial.trial import evaluate
from hatchwright.page.screen import Asked, seen_from_inside
from hatchwright.said import Said, Value, said
from hatchwright.search.risk.own_scatter import Found, scatter_made, scatter_of_trial
from hatchwright.search.risk.simulate import FEWEST, SEED, TRIALS
from hatchwright.units import Unit
from hatchwright.words.tell import tell
from hatchwright.workflow.risk import RiskReport, risk_layout, with_scatter
from hatchwright.workflow.risk_said import (
    HOLE_HEADS,
    RULE_HEADS,
    WHAT_TO_MEASURE,
    beside_said,
    found_said,
    gains_said,
    head_said,
    hole_cells,
    holes_shown,
    orders_said,
    other_rules_said,
    others_said,
    rule_cells,
    rules_shown,
)

_FEW_HOLES, _AT_MOST = 100, 20_000_000
"""Up to so many holes a million trials take a second or two; of more holes so many are drilled in all [-]."""

STEP = "own-scatter"
"""What the step of undo is called that enters scatter from readings."""


class ShownTable(Struct, frozen=True):
    """A table in words."""

    title: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    below: str = ""


class RiskView(Struct, frozen=True):
    """The risk of a job as the page shows it, in words.

    Args:
        head: what it comes to, and what it is not; empty where no scatter is entered.
        measure: what to measure where none is entered.
        svg: the drawing, "" without.
        found: what the job's own as-made readings say of the scatter; empty where they say nothing.
        seed: of the simulation that was asked for, or of the next one.
        has_cutter: whether a trial cut can tell its offset: a cutter and a template are entered.
    """

    head: tuple[str, ...]
    gains: tuple[str, ...]
    orders: tuple[str, ...]
    tables: tuple[ShownTable, ...]
    beside: tuple[str, ...]
    measure: tuple[str, ...]
    svg: str
    found: tuple[str, ...]
    seed: int
    unit: Unit
    has_cutter: bool


def risk_view(asked: Asked, *, is_simulated: bool = False, seed: int = SEED) -> RiskView:
    """Work out the risk of a job as it is shown.

    Args:
        is_simulated: whether to prove it by lot, with as many trials as take no longer than a page may.
    Raises:
        HatchwrightError: the job is not sound, or the seed can't be.
    """
    layout = lay_out(asked.shown(), asked.shop)
    many = len(layout.holes) > _FEW_HOLES
    trials = (max(FEWEST, _AT_MOST // len(layout.holes)) if many else TRIALS) if is_simulated else None
    report = risk_layout(layout, trials=trials, seed=seed)
    unit = layout.job.unit

    def told(some: Iterable[Said]) -> tuple[str, ...]:
        return tuple(tell(one, unit) for one in some)

    risk = report.risk
    return RiskView(
        head=told(head_said(risk)) if risk else (),
        gains=told(gains_said(risk)) if risk else (),
        orders=told(orders_said(risk)) if risk else (),
        tables=_tables(report, unit),
        beside=told(beside_said(report)),
        measure=() if risk else told(WHAT_TO_MEASURE),
        svg=_drawn(asked, report),
        found=told(map(found_said, scatter_made(layout))),
        seed=seed,
        unit=unit,
        has_cutter=layout.job.cutter is not None and layout.job.template is not None,
    )


def _drawn(asked: Asked, report: RiskReport) -> str:
    if report.risk is None:
        return ""
    chances = {one.hole.number: one.chance.short for one in report.risk.holes}
    held = frozenset(one.hole.number for one in report.risk.holes if one.is_held)
    sheet = risk_picture(report.layout, chances, held)
    return picture_svg_of(seen_from_inside(sheet) if asked.look.seen == "inside" else sheet).decode()


def _tables(report: RiskReport, unit: Unit) -> tuple[ShownTable, ...]:
    risk = report.risk
    if risk is None:
        return ()
    likely = holes_shown(risk)
    of_holes = said("command.risk.holes", shown=len(likely), of=len(risk.holes))
    tables = (
        (of_holes, HOLE_HEADS, map(hole_cells, likely), others_said(risk)),
        (said("command.risk.rules"), RULE_HEADS, map(rule_cells, rules_shown(risk)), other_rules_said(risk)),
    )
    return tuple(
        replace(_table(title, heads, rows, unit), below=tell(others, unit) if others else "")
        for title, heads, rows, others in tables
    )


def _table(title: Said, heads: Iterable[Said], rows: Iterable[Iterable[Value]], unit: Unit) -> ShownTable:
    cells = tuple(tuple(tell(cell, unit) for cell in row) for row in rows)
    return ShownTable(tell(title, unit), tuple(tell(head, unit) for head in heads), cells)


def with_trial_scatter(text: str, asked: Asked, sheet: bytes, name: str) -> str:
    """A job's text with the scatter of its cutter that a filled-in trial sheet shows.

    Args:
        sheet: the file of the sheet, and name: its name.
    Raises:
        JobError: the sheet or the job with it is not sound; nothing is entered then.
    """
    layout = lay_out(read_job(text, folder=asked.folder, name=asked.name), asked.shop)
    readings = text_in(sheet) if 0 < len(sheet) <= LARGEST_FILE_BYTES else None
    if readings is None:
        raise JobError.about("trial", "page.risk.no_trial")
    try:
        found = scatter_of_trial(evaluate(TrialReadings.read(readings, name=name), layout), layout)
    except GeometryError as error:
        raise JobError(error.as_faults("trial")) from None
    return _with(text, asked, layout, (found,))


def with_own_scatter(text: str, asked: Asked) -> str:
    """A job's text with the scatter that its own as-made readings show.

    Raises:
        JobError: they show none, or the job with it would not be sound; nothing is entered then.
    """
    layout = lay_out(read_job(text, folder=asked.folder, name=asked.name), asked.shop)
    found = scatter_made(layout)
    if not found:
        raise JobError.about("scatter", "risk.no_readings")
    return _with(text, asked, layout, found)


def _with(text: str, asked: Asked, layout: Layout, found: tuple[Found, ...]) -> str:
    new = with_scatter(text, layout, found)
    read_job(new, folder=asked.folder, name=asked.name)
    return new
