"""How far holes and edges come out from where they were marked, as the shop found it on its own trials."""

from __future__ import annotations

from hatchwright.job.entry import AngleDeg, Entered, NotNegative, Positive


class Scatter(Entered):
    """The shop's own scatter in drilling and cutting, each as a standard deviation from holes measured on scrap."""

    drill: Positive
    placement: NotNegative | None = None
    turn: AngleDeg = 0.0
    edge: NotNegative | None = None
