"""What asks for an action on the aircraft of a fleet, and by when, as its own words say."""

from typing import Annotated, Literal, Self

from pydantic import Field, StringConstraints, model_validator

from hatchwright.job.day import Day
from hatchwright.job.entry import Entered, YesNo, refusal
from hatchwright.job.fleet.hours import HoursMany
from hatchwright.job.fleet.limits import FirstLimits, Interval
from hatchwright.said import said

Number = Annotated[str, StringConstraints(strip_whitespace=True, min_length=1, max_length=120)]
Paragraph = Annotated[str, StringConstraints(strip_whitespace=True, max_length=40)]
Told = Annotated[str, StringConstraints(strip_whitespace=True, min_length=1, max_length=400)]
Revision = Annotated[str, StringConstraints(strip_whitespace=True, min_length=1, max_length=80)]

MOST_OVERRUN_H = 10
"""That the 100-hour inspection may be passed on the way to where it is done. Source: 14 CFR 91.409(b) [h]."""


class After(Entered):
    """The action whose accomplishment starts the clock of another."""

    mandate: str = Field(default="", max_length=120)
    paragraph: Paragraph = ""


class Action(Entered):
    """One action that a mandate asks for, with its limits."""

    paragraph: Paragraph = ""
    asks: Told
    first: FirstLimits | None = None
    or_later: FirstLimits | None = None
    repeat: Interval | None = None
    grace: Interval | None = None
    overrun: HoursMany | None = None
    after: After | None = None
    component: str = Field(default="", max_length=120)
    landings_per_hour: HoursMany | None = None
    closes: tuple[Paragraph, ...] = Field(default=(), max_length=40)
    stands: YesNo = False

    @model_validator(mode="after")
    def _has_a_limit(self) -> Self:
        limits = (self.first, self.repeat)
        if self.stands == any(one is not None for one in limits):
            raise refusal(said("due.action_limit"), said("due.action_limit.do"))
        if (self.or_later is not None and self.first is None) or (self.grace and self.repeat is None):
            raise refusal(said("due.later_of_nothing"), said("due.later_of_nothing.do"))
        if self.paragraph in self.closes:
            raise refusal(said("due.closes_itself"), said("due.closes_itself.do"))
        return self


class Alternative(Entered):
    """An approved alternative method of compliance (AMOC), for what its letter covers and nothing else."""

    letter: Number
    approved: Day
    by: Told
    serials: tuple[Number, ...] = Field(min_length=1, max_length=500)
    paragraph: Paragraph = ""
    first: FirstLimits | None = None
    repeat: Interval | None = None
    conditions: str = Field(default="", max_length=400)


class FleetMandate(Entered):
    """A directive, a bulletin, an inspection or a manual's instructions as they are read."""

    number: Number
    kind: Literal["directive", "bulletin", "owner", "inspection", "instructions"] = "directive"
    amendment: str = Field(default="", max_length=80)
    revision: str = Field(default="", max_length=80)
    effective: Day | None = None
    replaces: str = Field(default="", max_length=120)
    applies_to: str = Field(default="", max_length=400)
    unless_done: YesNo = False
    data_revision: str = Field(default="", max_length=80)
    credit: tuple[Revision, ...] = Field(default=(), max_length=20)
    permit: Literal["allowed", "limited", "forbidden"] | None = None
    permit_words: str = Field(default="", max_length=400)
    read_by: str = Field(default="", max_length=120)
    checked_by: str = Field(default="", max_length=120)
    actions: tuple[Action, ...] = Field(default=(), max_length=40)
    alternatives: tuple[Alternative, ...] = Field(default=(), max_length=40)

    @model_validator(mode="after")
    def _fits_together(self) -> Self:
        paragraphs = [one.paragraph for one in self.actions]
        if twice := next((one for one in paragraphs if paragraphs.count(one) > 1), None):
            raise refusal(said("due.paragraph_twice", paragraph=twice), said("due.paragraph_twice.do"))
        if paragraphs.count("") > 1:
            raise refusal(said("due.paragraph_blank"), said("due.paragraph_blank.do"))
        for one in (
            *(of for action in self.actions for of in action.closes),
            *(a.paragraph for a in self.alternatives),
        ):
            if one not in paragraphs:
                raise refusal(said("due.no_paragraph", paragraph=one), said("due.no_paragraph.do"))
        if self.kind != "inspection" and any(one.overrun for one in self.actions):
            raise refusal(said("due.no_overrun"), said("due.no_overrun.do"))
        if any(one.overrun and one.overrun > MOST_OVERRUN_H for one in self.actions):
            raise refusal(said("due.far_overrun"), said("due.far_overrun.do", most=MOST_OVERRUN_H))
        return self

    def action(self, paragraph: str) -> Action | None:
        """What one paragraph asks, None where it stands nowhere."""
        return next((one for one in self.actions if one.paragraph == paragraph), None)
