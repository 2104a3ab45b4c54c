"""What the browser page shows of a job: the entry sheet with its echoes, the drawing, the findings, the faults."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from pathlib import Path
from typing import Any, Literal

from msgspec import Struct
from msgspec.structs import replace

from hatchwright.drawings.ink import Circle, Ink, Line, Outline, Solid, Text
from hatchwright.drawings.screen_view import screen_picture
from hatchwright.drawings.sheet import Sheet
from hatchwright.drawings.short_holes import marking_codes
from hatchwright.drawings.writers.svg import screen_svg_of
from hatchwright.errors import Fault, HatchwrightError
from hatchwright.finding import Finding
from hatchwright.job.as_typed import raw_data
from hatchwright.job.file import read_job
from hatchwright.job.job import Job
from hatchwright.job.other_side import other_side
from hatchwright.judged import Status
from hatchwright.page.entry_sheet import EntrySheet
from hatchwright.page.lay_out_sheet import entry_sheet, sheet_of
from hatchwright.remedy import Tried, told_for
from hatchwright.said import Said, said
from hatchwright.tables.table import ShopTables
from hatchwright.units import Unit
from hatchwright.verdict import Verdict
from hatchwright.words.tell import tell
from hatchwright.workflow.examine import Examination, examine, examine_holes, gets_both

Seen = Literal["outside", "inside"]


class Look(Struct, frozen=True):
    """How a person wants to see a job: the side as entered or the mirrored other one, from outside or inside."""

    other_side: bool = False
    seen: Seen = "outside"


class Asked(Struct, frozen=True):
    """A job that the page is asked for: the text of a file, how it is to be seen, and by whose tables it is judged."""

    text: str
    folder: Path
    name: str
    look: Look = Look()
    shop: ShopTables | None = None

    def entered(self) -> Job:
        """The job of the text.

        Raises:
            JobError: it is not sound.
        """
        return read_job(self.text, folder=self.folder, name=self.name)

    def shown(self) -> Job:
        """The same as entered, or mirrored where the other side is to be seen; in the middle there is but one."""
        job = self.entered()
        return other_side(job) if self.look.other_side and job.aircraft.side != "center" else job


class ScreenView(Struct, frozen=True):
    """A job as the page shows it.

    Args:
        asked: what all this was made from.
        data: its text as typed values.
        sheet: every box with its echo and faults.
        faults: everything that is wrong with the text; with a fault there is no drawing and no finding.
        examination: the job with its findings, None when it is not sound.
        svg: the drawing, "" when there is none.
        other: verdict of the side that is not shown, where both get the opening; None where it is not judged yet.
        tried: remedies, None where none were tried.
    """

    asked: Asked
    data: Mapping[str, Any]
    sheet: EntrySheet
    faults: tuple[Fault, ...]
    examination: Examination | None
    svg: str
    other: Verdict | None = None
    tried: Tried | None = None

    @property
    def is_sound(self) -> bool:
        """Whether the job could be laid out and judged."""
        return self.examination is not None

    @property
    def title(self) -> str:
        """Title of the job, or its file name while it has none."""
        return str(self.data.get("title") or self.asked.name)

    @property
    def side(self) -> str:
        """LEFT, RIGHT or CENTER of what is shown, "" while that is not known."""
        if self.examination:
            return self.examination.job.aircraft.side.upper()
        aircraft = self.data.get("aircraft")
        return str(aircraft.get("side", "")).upper() if isinstance(aircraft, Mapping) else ""

    @property
    def unit(self) -> Unit:
        """The unit that lengths are told in."""
        return "mm" if self.data.get("units") == "mm" else "in"

    @property
    def verdict(self) -> Verdict | None:
        """The one verdict on what is shown, None when the job is not sound."""
        return self.examination.verdict if self.examination else None

    @property
    def is_judged(self) -> bool:
        """Whether nothing of the verdict stands out: strength that was asked for, the other side, or remedies."""
        return not (
            self.awaits_other or self.awaits_remedies or (self.verdict and self.verdict.awaits_strength)
        )

    @property
    def awaits_remedies(self) -> bool:
        """Whether something does not pass for which nothing was tried yet."""
        return self.examination is not None and self.tried is None and self.examination.has_to_try

    @property
    def awaits_other(self) -> bool:
        """Whether both sides get the opening, and the one that is not shown is not judged yet."""
        return self.examination is not None and gets_both(self.examination.job) and self.other is None

    @property
    def findings(self) -> tuple[Finding, ...]:
        """Findings, the worst first."""
        return self.examination.worst_first() if self.examination else ()

    def remedy(self, finding: Finding) -> Said | None:
        """What was tried on the job and makes a finding pass, None where nothing was tried or found."""
        return told_for(finding, self.tried or ())

    @property
    def marked(self) -> frozenset[str]:
        """Codes of the rules that mark a hole of the drawing."""
        return frozenset(marking_codes(self.findings))

    @property
    def counts(self) -> dict[Status, int]:
        """Number of causes by status, as the head tells them."""
        verdict = self.verdict
        return {status: verdict.count(status) if verdict else 0 for status in Status}

    @property
    def shop(self) -> str:
        """The shop's own rows that it was judged by, in words, "" without."""
        own = self.examination.layout.shop if self.examination else None
        return own.words if own else ""

    @property
    def not_checked(self) -> tuple[str, ...]:
        """What neither a finding nor the page's strength speaks of."""
        return tuple(map(tell, self.examination.not_checked())) if self.examination else ()


def screen(
    asked: Asked,
    *,
    drawn: bool = True,
    is_typed: bool = False,
    with_strength: bool = True,
    with_other: bool = False,
    marked: Collection[str] | None = None,
    with_remedies: bool = False,
) -> ScreenView:
    """Read, lay out, judge and draw a job for the page, with the faults in their boxes when it is not sound.

    Args:
        is_typed: whether somebody is typing: only what the drawing marks is judged then.
        with_strength: whether to analyze strength too where loads are entered, which takes seconds.
        with_other: whether to judge the side that is not shown too, where both get the opening: as long again.
        marked: codes of the rules that marked a hole before the typing, None when nobody knows.
        with_remedies: whether to try remedies for what does not pass, which takes a second.
    Raises:
        JobError: the text is not TOML, so that it has no boxes.
    """
    data, shop = raw_data(asked.text), asked.shop
    examination, svg, other = None, "", None
    try:
        job = asked.shown()
        examination = (
            examine_holes(job, shop, marked=marked)
            if is_typed
            else examine(job, shop, with_strength=with_strength)
        )
        if drawn:
            sheet = screen_picture(examination.layout, examination.findings)
            svg = screen_svg_of(seen_from_inside(sheet) if asked.look.seen == "inside" else sheet)
        if with_other and gets_both(job):
            unseen = asked.entered() if asked.look.other_side else other_side(job)
            other = examine(unseen, shop, with_strength=with_strength).verdict
        faults: tuple[Fault, ...] = ()
    except HatchwrightError as error:
        faults = error.as_faults("job")
    entries = entry_sheet(data, faults) if faults else sheet_of(asked.text)
    tried = examination.remedies if examination and with_remedies else None
    return ScreenView(asked, data, entries, faults, examination, svg, other, tried)


def seen_from_inside(sheet: Sheet) -> Sheet:
    """Mirror a drawing, for the screen only: paper and machine files are always seen from outside."""
    along_x, along_y = sheet.axes
    return replace(
        sheet,
        title=tell(said("sheet.from_inside", title=sheet.title)),
        entities=tuple(_mirrored(part) for part in sheet.parts()),
        axes=((-along_x[0], along_x[1]), (-along_y[0], along_y[1])),
    )


def _mirrored(part: Ink) -> Ink:
    match part:
        case Text():
            span = part.span and ((-part.span[0][0], part.span[0][1]), (-part.span[1][0], part.span[1][1]))
            box, turned = part.box(), replace(part, at=(-part.at[0], part.at[1]), span=span)
            here = turned.box()
            shift = -0.5 * (box.left + box.right + here.left + here.right)
            return replace(turned, at=(turned.at[0] + shift, turned.at[1]))
        case Circle():
            return replace(part, center=(-part.center[0], part.center[1]))
        case Outline():
            return replace(part, loop=part.loop.transformed(((-1.0, 0.0), (0.0, 1.0))))
        case Line():
            return replace(part, points=tuple((-x, y) for x, y in part.points))
        case Solid():
            a, b, c = ((-x, y) for x, y in part.points)
            return replace(part, points=(a, b, c))
