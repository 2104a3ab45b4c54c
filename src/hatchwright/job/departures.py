"""Where a job departs from the manufacturer's data that cover it, and who accepted that."""

from typing import Literal, Self, get_args

from pydantic import Field, model_validator

from hatchwright.job.entry import Entered, refusal
from hatchwright.said import said

Subject = Literal["size", "place", "hardware", "sheet"]
SUBJECTS: tuple[Subject, ...] = get_args(Subject)
"""What a job may depart in, in the order in which it is asked."""

Answer = Literal["none", "departs"]


class Accepted(Entered):
    """A departure that somebody accepted; it is open again as soon as its number changes."""

    of: Subject
    by: str = Field(min_length=1, max_length=120)
    data: str = Field(min_length=1, max_length=200)
    number: str = Field(min_length=1, max_length=60)


class Departures(Entered):
    """Asked of a job that the manufacturer's data cover: none, or it departs."""

    size: Answer | None = None
    place: Answer | None = None
    hardware: Answer | None = None
    sheet: Answer | None = None
    accepted: tuple[Accepted, ...] = Field(default=(), max_length=len(SUBJECTS))

    @model_validator(mode="after")
    def _accepted_departs(self) -> Self:
        taken = [one.of for one in self.accepted]
        for of in taken:
            if self.answer(of) == "none":
                raise refusal(
                    said("job.accepted_none", of=said(f"departure.{of}")), said("job.accepted_none.do")
                )
            if taken.count(of) > 1:
                raise refusal(
                    said("job.accepted_twice", of=said(f"departure.{of}")), said("job.accepted_twice.do")
                )
        return self

    def answer(self, of: Subject) -> Answer | None:
        """Whether the job departs in one subject, None while nobody has answered."""
        answers: dict[Subject, Answer | None] = {
            "size": self.size, "place": self.place, "hardware": self.hardware, "sheet": self.sheet,
        }  # fmt: skip
        return answers[of]

    def acceptance(self, of: Subject) -> Accepted | None:
        """Who accepted the departure in one subject, None where nobody has."""
        return next((one for one in self.accepted if one.of == of), None)
