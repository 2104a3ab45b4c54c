"""R918: whether what was drilled and cut is the mirror image of what was drawn, or is turned."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import numpy as np
import numpy.typing as npt

from hatchwright.finding import Finding
from hatchwright.judged import FLOAT_NOISE, Status
from hatchwright.layout.survey import Survey, points_of
from hatchwright.register import Shelf
from hatchwright.rules.answer import against
from hatchwright.rules.rule import rule
from hatchwright.rules.wording import over_text
from hatchwright.shapes.distance import distances
from hatchwright.shapes.profile import Profile
from hatchwright.tables.cited import Cited
from hatchwright.workings import Grade, Quantity, Source

FEWEST_HOLES = 3
"""Fewer measured holes than this do not tell a mirrored pattern from a misplaced one [holes]."""

CLEARLY_IN = 0.0625
"""Off the drawing by less than this, what was made may be anything; common practice, no source [in]."""

_CHORD_IN = 0.01
_BETTER = 0.5
"""An image is taken for what was made when it fits twice as well as the drawing [-]."""

Points = npt.NDArray[np.float64]

_PRACTICE = Cited(CLEARLY_IN, "in", Source("PRACTICE", "mirrored or turned parts"), Grade.PRACTICE)

_IMAGES = {
    "mirrored along X": np.diag([-1.0, 1.0]),
    "mirrored along Y": np.diag([1.0, -1.0]),
    "turned half round": np.diag([-1.0, -1.0]),
}


@rule("R918", Shelf.PLACE, rests_on=(_PRACTICE,), reads=("as_made", "holes", "opening", "wanted"))
def mirrored(survey: Survey) -> Iterator[Finding]:
    """R918: mirrored or turned."""
    job = survey.layout.job
    if job.as_made is None:
        return
    layout = survey.layout
    made = tuple(hole for hole in layout.holes if hole.is_made)
    if len(made) >= FEWEST_HOLES:
        wanted = np.array([hole.drawn_in for hole in made])
        found = points_of(made)
        yield _judged(
            f"{len(made)} measured holes",
            layout.center_in,
            wanted,
            lambda p: float(np.median(np.hypot(*(p - found).T))),
            "in the median",
        )
    if job.as_made.opening:
        edge, outline = Profile((layout.opening,)), layout.wanted.points(_CHORD_IN)
        yield _judged(
            "the filed opening",
            layout.center_in,
            outline,
            lambda p: float(distances(edge, p).distance_in.max()),
            "at most",
        )


def _judged(
    subject: str,
    center_in: tuple[float, float],
    wanted: Points,
    off: Callable[[Points], float],
    measure: str,
) -> Finding:
    """Compare how well what was made fits the drawing, and how well each image of it."""
    middle = np.array(center_in)
    as_drawn_in = off(wanted)
    fits = {name: off((wanted - middle) @ turn + middle) for name, turn in _IMAGES.items()}
    best = min(fits, key=lambda name: fits[name])
    is_off = as_drawn_in > CLEARLY_IN + FLOAT_NOISE
    is_image = is_off and fits[best] < _BETTER * as_drawn_in
    return against(
        "R918",
        Status.STOP if is_image else Status.CAUTION if is_off else Status.PASS,
        f"{subject}: {measure} {as_drawn_in:.3f} in from the drawing, {fits[best]:.3f} in from the drawing {best}",
        value=as_drawn_in,
        limit=CLEARLY_IN,
        unit="in",
        cited=_PRACTICE,
        formula=f"distance from the drawing, and from its images, {measure}",
        values=tuple(Quantity(name, off_in, "in") for name, off_in in fits.items()),
        advice="Wrong side, wrong face or turned? Stop, and compare the part with the layout drawing of this side."
        if is_image
        else f"{over_text(as_drawn_in - CLEARLY_IN)} Not where it was drawn: measure again, and judge the rest by it."
        if is_off
        else "",
        shortfall=as_drawn_in - CLEARLY_IN,
    )
