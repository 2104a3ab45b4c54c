"""R918: whether what was drilled and cut is the mirror image of what was drawn, or is turned."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from statistics import median

import numpy as np
import numpy.typing as npt

from hatchwright.finding import Finding
from hatchwright.judged import OFF, Bound, Judgement, Measure, Status, bound
from hatchwright.layout.layout import points_of
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.rules.answer import held, worse
from hatchwright.rules.rule import judged_by, rule
from hatchwright.said import Said, inch, said
from hatchwright.shapes.distance import distances
from hatchwright.shapes.profile import Profile
from hatchwright.tables.cited import Cited
from hatchwright.workings import Grade, Source

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
    "mirrored_x": np.diag([-1.0, 1.0]),
    "mirrored_y": np.diag([1.0, -1.0]),
    "rotated": np.diag([-1.0, -1.0]),
}


@rule("R918", Shelf.PLACE, reads=("as_made", "holes", "opening", "wanted"))
@judged_by(_PRACTICE)
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
            said("R918.holes", n=len(made)),
            layout.center_in,
            wanted,
            lambda p: float(median(np.hypot(*(p - found).T).tolist())),
        )
    if job.as_made.opening:
        edge, outline = Profile((layout.opening,)), layout.wanted.points(_CHORD_IN)
        yield _judged(
            said("R918.opening"),
            layout.center_in,
            outline,
            lambda p: float(distances(edge, p).distance_in.max()),
        )


def _judged(
    subject: Said, center_in: tuple[float, float], wanted: Points, off: Callable[[Points], float]
) -> Finding:
    """Compare how well what was made fits the drawing, and how well each image of it."""
    middle = np.array(center_in)
    as_drawn_in = off(wanted)
    fits = {name: off((wanted - middle) @ turn + middle) for name, turn in _IMAGES.items()}
    best = min(fits, key=lambda name: fits[name])
    images = tuple((f"off {name}", off_in, "in") for name, off_in in fits.items())
    place = Judgement(
        Measure(OFF, as_drawn_in, with_=images), (bound(_PRACTICE),), at_least=False, fails_as=Status.CAUTION
    )
    told = said(
        "R918.off", what=subject, off=inch(as_drawn_in), image=said(f"R918.{best}"), fit=inch(fits[best])
    )
    if place.status is Status.PASS:
        return held(place, told)
    bounds = (Bound(_BETTER * as_drawn_in, _PRACTICE.source, _PRACTICE.grade, "half of off"),)
    as_image = Judgement(Measure(f"off {best}", fits[best], with_=images), bounds)
    judged = worse(place, as_image)
    stops = judged.status is Status.STOP
    return held(judged, told, said("R918.stop_and_compare" if stops else "R918.measure_again"))
