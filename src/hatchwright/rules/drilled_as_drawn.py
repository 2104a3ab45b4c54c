"""R918: whether what was drilled and cut is the mirror image of what was drawn, or is turned."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from math import pi
from statistics import median
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from hatchwright.errors import GeometryError
from hatchwright.finding import Finding
from hatchwright.judged import OFF, Bound, Judgement, Measure, Status, bound
from hatchwright.layout.layout import points_of
from hatchwright.layout.survey import Survey
from hatchwright.metrology.registration import registered
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

_EIGHTH_RAD = pi / 4.0
"""A set that is turned by less is misplaced; by more it is nearer to a quarter turn than to the drawing [rad]."""

Points = npt.NDArray[np.float64]

_PRACTICE = Cited(CLEARLY_IN, "in", Source("PRACTICE", "mirrored or turned parts"), Grade.PRACTICE)

_IMAGES = {
    "mirrored_x": np.diag([-1.0, 1.0]),
    "mirrored_y": np.diag([1.0, -1.0]),
    "rotated": np.diag([-1.0, -1.0]),
}


class _Image(NamedTuple):
    """A way in which what was made may lie.

    Args:
        off_in: how far what was made lies off it [in].
        most_in: how far it may, that it is taken for what was made [in].
        is_fitted: whether it may lie anywhere; an image about the center that will do is the plainer answer.
    """

    off_in: float
    most_in: float
    is_fitted: bool = False

    @property
    def rank(self) -> tuple[bool, bool, float]:
        """The less, the more likely it is what was made."""
        return self.off_in > self.most_in, self.is_fitted, self.off_in


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
        wanted, found = np.array([hole.drawn_in for hole in made]), points_of(made)
        own_in = np.array([hole.uncertainty_in for hole in made])

        def off(points: Points) -> float:
            return float(median(np.hypot(*(points - found).T).tolist()))

        images = _images(layout.center_in, wanted, off) | _fitted(wanted, found, own_in, off)
        yield _judged(said("R918.holes", n=len(made)), off(wanted), images)
    if job.as_made.opening:
        edge, outline = Profile((layout.opening,)), layout.wanted.points(_CHORD_IN)

        def farthest(points: Points) -> float:
            return float(distances(edge, points).distance_in.max())

        yield _judged(said("R918.opening"), farthest(outline), _images(layout.center_in, outline, farthest))


def _images(
    center_in: tuple[float, float], wanted: Points, off: Callable[[Points], float]
) -> dict[str, _Image]:
    """The mirror images and the half turn about the center, each taken where it fits twice as well as the drawing."""
    middle, most_in = np.array(center_in), _BETTER * off(wanted)
    return {name: _Image(off((wanted - middle) @ turn + middle), most_in) for name, turn in _IMAGES.items()}


def _fitted(
    wanted: Points, found: Points, own_in: Points, off: Callable[[Points], float]
) -> dict[str, _Image]:
    """The best fits that are no misplaced drawing: mirrored and moved as it may be, and turned by more than an eighth.

    Each must fit twice as well as the drawing does wherever it may lie, since a row by itself is its own mirror image.
    """
    try:
        plain = registered(wanted, found, own_in=own_in)
        mirror = registered(wanted @ _IMAGES["mirrored_x"], found, own_in=own_in)
    except GeometryError:  # all in one place: nothing turns there
        return {}
    fits = {
        "mirrored": off(mirror.placed(wanted @ _IMAGES["mirrored_x"])),
        "turned": off(plain.placed(wanted)),
    }
    as_drawn_in = off(wanted)
    if abs(plain.turn_rad) > _EIGHTH_RAD:
        return {"turned": _Image(fits["turned"], _BETTER * min(as_drawn_in, fits["mirrored"]), True)}
    if fits["turned"] <= float(own_in.max()):  # misplaced, and no more than that
        return {}
    return {"mirrored": _Image(fits["mirrored"], _BETTER * min(as_drawn_in, fits["turned"]), True)}


def _judged(subject: Said, as_drawn_in: float, images: Mapping[str, _Image]) -> Finding:
    """Compare how well what was made fits the drawing, and how well each image of it."""
    best = min(images, key=lambda name: images[name].rank)
    offs = tuple((f"off {name}", image.off_in, "in") for name, image in images.items())
    place = Judgement(
        Measure(OFF, as_drawn_in, with_=offs), (bound(_PRACTICE),), at_least=False, fails_as=Status.CAUTION
    )
    fit = inch(images[best].off_in)
    told = said("R918.off", what=subject, off=inch(as_drawn_in), image=said(f"R918.{best}"), fit=fit)
    if place.status is Status.PASS:
        return held(place, told)
    bounds = (Bound(images[best].most_in, _PRACTICE.source, _PRACTICE.grade, "half of off"),)
    as_image = Judgement(Measure(f"off {best}", images[best].off_in, with_=offs), bounds)
    judged = worse(place, as_image)
    stops = judged.status is Status.STOP
    return held(judged, told, said("R918.stop_and_compare" if stops else "R918.measure_again"))
