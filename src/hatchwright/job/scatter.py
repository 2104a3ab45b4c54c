"""How far holes and edges come out from where they were marked, as the shop found it on its own trials."""

from __future__ import annotations

from pydantic import Field

from hatchwright.job.entry import AngleDeg, Entered, NotNegative, Positive


class Scatter(Entered):
    """The shop's own scatter in drilling and cutting, each as a standard deviation from holes measured on scrap."""

    drill: Positive = Field(description="Of a hole's centre about its mark, along one axis")
    placement: NotNegative | None = Field(
        default=None, description="Of the place at which the pattern is laid on, along one axis"
    )
    turn: AngleDeg = Field(default=0.0, description="Of the angle at which the pattern is laid on")
    edge: NotNegative | None = Field(default=None, description="Of an edge about its line, as cut and filed")
