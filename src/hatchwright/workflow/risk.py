"""The risk of a job: by its own scatter or by readings, in closed form, proved by simulation where that is asked."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from msgspec import Struct

from hatchwright.errors import GeometryError, JobError
from hatchwright.job.as_typed import raw_data
from hatchwright.job.changed_text import changed_text
from hatchwright.job.file import load_job_text, read_job
from hatchwright.job.text_file import ended_alike, load_text, save_text
from hatchwright.job.trial_readings import TrialReadings
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.layout import Layout
from hatchwright.making.making import making_of
from hatchwright.making.trial.trial import evaluate
from hatchwright.progress import Progress, unheard
from hatchwright.search.risk.chances import hole_chances, missing_from, risk_of
from hatchwright.search.risk.errors import Play, errors_of
from hatchwright.search.risk.judged_gaps import gaps_of
from hatchwright.search.risk.own_scatter import (
    Found,
    entries_of,
    pooled,
    scatter_made,
    scatter_of_trial,
)
from hatchwright.search.risk.play import play_of
from hatchwright.search.risk.simulate import SEED, Simulated, simulate
from hatchwright.search.risk.values import HoleChance, Risk
from hatchwright.workflow.job_folder import jobs_alone
from hatchwright.workflow.open_job import open_job, own_tables


class RiskReport(Struct, frozen=True):
    """The risk of one job.

    Args:
        risk: None where no scatter is entered.
        simulated: the proof by lot, None where it was not asked for.
        found: what readings say of the scatter.
        silent: names of the files of readings that say nothing of it.
    """

    layout: Layout
    risk: Risk | None
    simulated: Simulated | None = None
    found: tuple[Found, ...] = ()
    silent: tuple[str, ...] = ()


def risk_layout(
    layout: Layout, *, trials: int | None = None, seed: int = SEED, progress: Progress = unheard
) -> RiskReport:
    """The risk of what is laid out already.

    Args:
        trials: to be simulated, None for none [-].
    Raises:
        GeometryError: a number of trials or a seed that can't be.
    """
    scatter = layout.job.scatter
    if scatter is None:
        return RiskReport(layout, None)
    risk = risk_of(layout, scatter, _play(layout))
    found = None
    if trials is not None:
        found = simulate(gaps_of(layout, risk.errors), trials=trials, seed=seed, progress=progress)
    return RiskReport(layout, risk, found)


def risk_of_hole(layout: Layout, number: int) -> tuple[HoleChance | None, bool]:
    """The chance of one hole to end short, and whether part of the scatter is missing from it; None without scatter,
    or where nothing of the hole can end short."""
    scatter = layout.job.scatter
    if scatter is None:
        return None, False
    play = _play(layout)
    found = (one for one in hole_chances(layout, scatter, play) if one.hole.number == number)
    return next(found, None), bool(missing_from(layout, errors_of(scatter, play)))


def _play(layout: Layout) -> Play | None:
    try:
        return play_of(making_of(layout))
    except GeometryError:
        return None  # no template can be made, which its findings say


def risk_file(
    path: Path,
    *,
    trials: int | None,
    seed: int = SEED,
    readings: Iterable[Path] = (),
    shop: Path | None = None,
    progress: Progress = unheard,
) -> RiskReport:
    """Read a job file and work out its risk, by the scatter of readings where some are named.

    Args:
        readings: files of trial cuts, and jobs with what was really made.
    Raises:
        JobError: a file is refused; errors as of `open_job`, `evaluate` and `simulate` besides.
    """
    layout = open_job(path, shop=shop)
    found, silent = found_in(layout, readings, shop=shop)
    if found:
        text = with_scatter(load_job_text(path), layout, found)
        job = read_job(text, folder=path.parent, name=path.name)
        layout = lay_out(job, layout.shop)
    report = risk_layout(layout, trials=trials, seed=seed, progress=progress)
    return RiskReport(report.layout, report.risk, report.simulated, found, silent)


def found_in(
    layout: Layout, readings: Iterable[Path], *, shop: Path | None = None
) -> tuple[tuple[Found, ...], tuple[str, ...]]:
    """What files of readings say of the scatter, put together, and the names of those that say nothing; those of a
    trial are read for this job's cutter."""
    sets, silent = list[Found](), []
    for path in readings:
        try:
            found = _found_in(layout, path, shop)
        except JobError as error:
            raise JobError(error.faults, where=path.name) from None
        sets += found
        silent += [] if found else [path.name]
    return pooled(sets), tuple(silent)


def _found_in(layout: Layout, path: Path, shop: Path | None) -> tuple[Found, ...]:
    text = load_text(path)
    if "cuts" in raw_data(text):
        return (scatter_of_trial(evaluate(TrialReadings.read(text, name=path.name), layout), layout),)
    job = read_job(load_job_text(path), folder=path.parent, name=path.name)
    return scatter_made(lay_out(job, own_tables(shop)))


def with_scatter(text: str, layout: Layout, found: Iterable[Found]) -> str:
    """A job's text with what was found entered; JobError where it can't take it."""
    job = layout.job
    return ended_alike(changed_text(text, entries_of(found, job.scatter, job.unit)), like=text)


def enter_scatter(path: Path, report: RiskReport) -> None:
    """Write what was found into the job file, once nobody else writes it; JobError where the job would not be sound."""
    with jobs_alone(path.resolve().parent):
        text = load_job_text(path)
        changed = with_scatter(text, open_job(path), report.found)
        read_job(changed, folder=path.parent, name=path.name)
        save_text(path, changed)
