"""What is pasted of what was made, before it is entered: how it lies, and every answer and number that it changes."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from msgspec import Struct

from hatchwright.documents.made_table import tables_on_paper
from hatchwright.errors import Fault, HatchwrightError
from hatchwright.job.file import read_job
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.layout import Layout
from hatchwright.page.lay_out_sheet import READINGS
from hatchwright.page.paste import Pasted
from hatchwright.page.pasted_holes import PastedHoles, laid_on, with_u
from hatchwright.said import said
from hatchwright.tables.table import ShopTables
from hatchwright.words.tell import tell
from hatchwright.workflow.compared import compared
from hatchwright.workflow.compared_said import answers_said, changes_said, number_tables
from hatchwright.workflow.job_folder import version_of
from hatchwright.workflow.measure import HowRead, measured


class BeforeEntering(Struct, frozen=True):
    """What a person sees before pasted readings are entered.

    Args:
        told: how much changes, in one sentence, and what is not in the list.
        answers: each answer that changes.
        tables: the numbers that change, as a page prints them.
        holes: how a set of holes lies on the drawing, None for none.
        seen: by which the page that shows this says so when it enters the rows.
    """

    told: tuple[str, ...]
    answers: tuple[str, ...]
    tables: list[dict[str, Any]]
    holes: PastedHoles | None
    seen: str

    @property
    def doubts(self) -> tuple[Fault, ...]:
        """What keeps it from being entered unless a person says that it is as it is."""
        return self.holes.doubts if self.holes else ()


class _Pasted(Struct, frozen=True):
    """A job, and its text with what was pasted."""

    layout: Layout
    changed_text: str


def with_readings(
    text: str, pasted: str, *, u: str, folder: Path, commas_are_decimal: bool
) -> tuple[Pasted, PastedHoles | None]:
    """Put readings of every kind into a job.

    Args:
        u: expanded uncertainty of readings that name none, as typed; "" for that of the job.
        folder: of the job's file.
    Returns:
        tuple: the job with them, and how the holes among them lie.
    Raises:
        HatchwrightError: as of `workflow.measure.measured`, or the job can't take them.
    """
    found = measured(
        with_u(text, u), pasted, HowRead(u=u, commas_are_decimal=commas_are_decimal), folder=folder
    )
    return Pasted(found.changed_text, found.count, found.notes), laid_on(found)


def before_entering(
    text: str,
    changed: str,
    *,
    path: str,
    said_too: str,
    holes: PastedHoles | None,
    folder: Path,
    shop: ShopTables | None,
) -> BeforeEntering | None:
    """What a changed text changes; margins are left out, for they take seconds.

    Args:
        path: of the list that was pasted into.
        said_too: all that a person pasted and said with it.
    Returns:
        BeforeEntering | None: None where the list is not of what was made, or the job is not sound yet.
    """
    if path.partition(".")[0] != READINGS:
        return None
    try:
        layout = lay_out(read_job(text, folder=folder), shop)
        both = compared(_Pasted(layout, changed), folder=folder, with_strength=False)
    except HatchwrightError:
        return None  # told by the job's own page
    if both.after is None:
        return None
    told = [changes_said(both)]
    if layout.job.loads.basis != "none":
        told.append(tell(said("measure.no_margins")))
    tables = tables_on_paper(number_tables(both), layout.job.unit)
    return BeforeEntering(
        tuple(told), tuple(answers_said(both)), tables, holes, version_of(f"{path} {said_too}")
    )
