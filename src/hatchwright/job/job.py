"""A whole job, as entered."""

from typing import Annotated, Literal

from pydantic import Field

from hatchwright.job.as_made import AsMade
from hatchwright.job.bay import Bay
from hatchwright.job.cutter import Cutter, HandTool, Template
from hatchwright.job.departures import Departures
from hatchwright.job.drawing import Drawing
from hatchwright.job.entry import Count, Entered, matching
from hatchwright.job.finish import Finish
from hatchwright.job.frame import Frame, FrameEntry, make_frame
from hatchwright.job.gate import Gate
from hatchwright.job.loads import Loads
from hatchwright.job.looks import Look
from hatchwright.job.mount import Mount
from hatchwright.job.outline import Outline
from hatchwright.job.parts import Cover, Doubler
from hatchwright.job.patch import Patch
from hatchwright.job.plain_hole import PlainHole
from hatchwright.job.rivet_rows import Row
from hatchwright.job.scatter import Scatter
from hatchwright.job.site import Site
from hatchwright.job.skin import Aircraft, Mandate, Skin
from hatchwright.job.wish import Wish
from hatchwright.number import MOST_HOLES
from hatchwright.said import said
from hatchwright.units import Unit


class Choice(Entered):
    """The user's choice where documents conflict, kept with its reason."""

    rule: Annotated[str, matching(r"R\d{3}", said("job.no_rule"), said("job.no_rule.do"))]
    reading: str = Field(min_length=1, max_length=120)
    reason: str = Field(min_length=3, max_length=600)


class Acknowledged(Entered):
    """A caution that somebody read and lets stand; it is open again as soon as its number changes."""

    code: Annotated[str, matching(r"[RTS]\d{3}", said("job.no_code"), said("job.no_code.do"))]
    number: str = Field(min_length=1, max_length=60)
    reason: str = Field(min_length=3, max_length=600)
    initials: str = Field(min_length=1, max_length=12)


class Job(Entered):
    """One job: everything that a mechanic enters, in the order of the work.

    A section that is left out stands at its defaults, made without what would read it: most jobs lack most of them.
    """

    schema_number: Count = Field(alias="schema")
    title: str = Field(min_length=1, max_length=200)
    units: Annotated[str, matching("in|mm", said("job.no_unit"), said("job.no_unit.do"))] = Field(
        default="in"
    )
    revision: str = Field(default="A", max_length=12)
    samples: tuple[
        Annotated[str, matching(r"\w+(\.\w+)*", said("job.no_entry_name"), said("job.no_entry_name.do"))], ...
    ] = Field(default=(), max_length=400 + MOST_HOLES)
    aircraft: Aircraft
    mandate: Mandate = Mandate.model_construct()
    gate: Gate = Gate.model_construct()
    departures: Departures = Departures.model_construct()
    frame_entry: FrameEntry = Field(alias="frame")
    site: Site | None = None
    skin: Skin
    bay: Bay = Bay.model_construct()
    opening: Outline
    doubler: Doubler | None = None
    rows: tuple[Row, ...] = Field(default=(), max_length=200)
    cover: Cover | None = None
    mount: Mount | None = None
    patch: Patch | None = None
    plain_hole: PlainHole | None = None
    wish: Wish = Wish.model_construct()
    cutter: Cutter | None = None
    hand_tool: HandTool | None = None
    template: Template | None = None
    scatter: Scatter | None = None
    finish: Finish = Finish.model_construct()
    drawing: Drawing = Drawing.model_construct()
    loads: Loads = Loads.model_construct()
    choices: tuple[Choice, ...] = Field(default=(), max_length=100)
    acknowledged: tuple[Acknowledged, ...] = Field(default=(), max_length=200)
    as_made: AsMade | None = None
    looks: tuple[Look, ...] = Field(default=(), max_length=60)

    @property
    def frame(self) -> Frame:
        """The frame with its axes laid on the page."""
        return make_frame(self.frame_entry, side=self.aircraft.side, surface=self.aircraft.surface)

    @property
    def unit(self) -> Unit:
        """The unit that the job's findings and papers tell lengths in."""
        return "mm" if self.units == "mm" else "in"

    @property
    def tool(self) -> Cutter | HandTool | None:
        """What the opening is cut with, guided by a template or by hand; None while nothing was entered."""
        return self.cutter or self.hand_tool

    @property
    def kind(self) -> Literal["", "patch"]:
        """The kind of job whose words it is told in; "" for an opening, as `words.of_job` takes it."""
        return "patch" if self.patch else ""

    def choice(self, rule: str) -> Choice | None:
        """The choice made for one rule, or None."""
        return next((choice for choice in self.choices if choice.rule == rule), None)
