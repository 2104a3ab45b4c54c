"""How the job is protected against corrosion: the shop's one choice of treatment, primer and sealant."""

from typing import Self

from pydantic import Field, model_validator

from hatchwright.job.entry import Count, Entered, YesNo, refusal
from hatchwright.said import said


class Finish(Entered):
    """What the sheets are treated, primed and sealed with, as the shop has chosen it; "" where that is open."""

    treatment: str = Field(default="", max_length=120)
    primer: str = Field(default="", max_length=120)
    coats: Count | None = None
    sealant: str = Field(default="", max_length=120)
    dash: str = Field(default="", max_length=20)
    unsealed: YesNo = False

    @model_validator(mode="after")
    def _agrees(self) -> Self:
        if self.unsealed and (self.sealant or self.dash):
            raise refusal(said("job.unsealed"), said("job.unsealed.do"))
        if self.coats is not None and not self.primer:
            raise refusal(said("job.coats"), said("job.coats.do"))
        return self
