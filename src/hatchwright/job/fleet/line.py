"""One side of one aircraft that gets the opening: its job, where the work stands, and the hours that it took."""

from typing import Annotated, Any, Literal

from pydantic import Field, StringConstraints

from hatchwright.job.day import Day
from hatchwright.job.entry import Entered, ReadBy, WrittenBy, matching, refusal
from hatchwright.job.fleet.hours import HoursMany
from hatchwright.said import said

WorkStep = Literal[
    "survey", "template", "parts", "laying out", "cutting", "drilling", "riveting", "closing", "records"
]
"""What is done for one opening, in the order of the work."""

JobFile = Annotated[
    str,
    matching(r"(?!\.)[^/\\\x00-\x1f]{1,115}\.toml", said("fleet.no_job_file"), said("fleet.no_job_file.do")),
]
"""File name of a job beside the fleet file; never a path."""

Told = Annotated[str, StringConstraints(strip_whitespace=True, max_length=120)]


def _on_hand(value: Any) -> int:
    text = "" if isinstance(value, bool) else str(value).strip()
    if not (text.isascii() and text.isdigit()) or len(text) > len("100000"):
        raise refusal(said("fleet.no_stock"), said("fleet.no_stock.do"))
    return int(text)


class NotedHours(Entered):
    """Hours that a step took, as somebody noted them."""

    step: WorkStep
    hours: HoursMany
    date: Day
    who: Told = ""


class Line(Entered):
    """One side of one aircraft: a job of its own."""

    side: Literal["left", "right"]
    job: JobFile | None = None
    given: str = Field(default="", max_length=20)
    who: Told = ""
    step: WorkStep | None = None
    waiting_for: Told = ""
    hours: tuple[NotedHours, ...] = Field(default=(), max_length=200)


class Stock(Entered):
    """What is on hand of one part number."""

    number: str = Field(min_length=1, max_length=80)
    count: Annotated[int, ReadBy(_on_hand), WrittenBy(str)]
