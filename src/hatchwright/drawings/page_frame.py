"""The page: where the job's frame lies on paper, seen from outside, and what the title block says of it.

The job's coordinates are the same on the left and on the right of the aircraft; only this mapping differs. Shapes
and places are mirrored by it, words never are.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from functools import lru_cache

import numpy as np
from msgspec import Struct

from hatchwright.drawings.boxes import Box
from hatchwright.drawings.ink import Ink, Point, Style
from hatchwright.drawings.marks import arrow
from hatchwright.drawings.scale import FULL, Scale
from hatchwright.drawings.sheet import Sheet
from hatchwright.drawings.table import Table
from hatchwright.drawings.title_block import TitleBlock
from hatchwright.job.frame import Frame
from hatchwright.job.job import Job
from hatchwright.layout.flat_pattern import Stretch
from hatchwright.said import Said, Value, said
from hatchwright.shapes.profile import Loop, Profile
from hatchwright.words.of_job import in_words_of
from hatchwright.words.tell import tell

Bounds = tuple[float, float, float, float]
"""x_from, y_from, x_to, y_to in the job's frame [in]."""


class PageFrame(Struct, frozen=True):
    """Takes places of the job to the page; the datum corner stays the origin unless a sheet is stretched.

    Shapes and places are drawn at the scale, lettering never is.

    Args:
        stretch: of a sheet that is drawn flat and bent onto the skin afterwards, None for what is drawn as it lies.
        scale: full size unless it is a drawing of one page.
    """

    frame: Frame
    stretch: Stretch | None = None
    scale: Scale = FULL

    def point(self, x_in: float, y_in: float) -> Point:
        """A point of the job on the page [in]."""
        x, y = self.frame.to_page(*(self.stretch.place(x_in, y_in) if self.stretch else (x_in, y_in)))
        return x * self.scale.ratio, y * self.scale.ratio

    def length(self, length_in: float) -> float:
        """A length of the job, such as the diameter of a hole, on the page [in]."""
        return length_in * self.scale.ratio

    def loop(self, loop: Loop) -> Loop:
        """A closed edge of the job on the page."""
        turned = _turned(self.stretch.loop(loop) if self.stretch else loop, self.frame.matrix)
        return turned if self.scale.is_full else _scaled(turned, self.scale.ratio)

    def profile(self, profile: Profile) -> tuple[Loop, ...]:
        """The closed edges of a region on the page."""
        return tuple(self.loop(loop) for loop in profile.loops)

    def box(self, bounds: Bounds) -> Box:
        """A rectangle along the job's axes, which is one along the page's axes too [in]."""
        x, y = zip(self.point(*bounds[:2]), self.point(*bounds[2:]), strict=True)
        return Box(min(x), min(y), max(x), max(y))

    @property
    def x_is_level(self) -> bool:
        """Whether the job's X runs level across the page, and so its Y up or down."""
        return self.frame.x_on_page[0] != 0.0

    def angles_deg(self) -> tuple[tuple[str, float], ...]:
        """Words and page angles of the two direction arrows, such as FWD and OUTBD [deg]."""
        return tuple((word, _angle_deg(along)) for word, along in self.frame.directions())

    def arrows(self, at: Point, *, length_in: float, height_in: float) -> Iterator[Ink]:
        """Both direction arrows from one place of the page [in]."""
        for words, angle in self.angles_deg():
            yield from arrow(at, angle, words, length_in, height_in)

    def axes_deg(self) -> tuple[tuple[str, float], ...]:
        """Words and page angles of the job's axes, such as ``X OUTBD`` [deg]."""
        frame = self.frame
        return (f"X {frame.x}", _angle_deg(frame.x_on_page)), (f"Y {frame.y}", _angle_deg(frame.y_on_page))

    def title_block(self, job: Job, *, date: str = "", view: Value | None = None) -> TitleBlock:
        """What names a drawing of a job, seen from outside unless another view is told."""
        return TitleBlock(
            job=job.title,
            aircraft=aircraft_words(job),
            side=side_word(job),
            view=tell(view or said(f"view.{job.aircraft.surface}")),
            revision=job.revision,
            date=date,
            directions=self.angles_deg(),
        )

    def sheet(
        self,
        job: Job,
        title: Value,
        entities: Iterable[Ink],
        *,
        date: str = "",
        notes: Iterable[Value] = (),
        tables: Iterable[Table] = (),
        legend: Mapping[Style, Value] | None = None,
    ) -> Sheet:
        """A sheet of a job: under its title block, in its unit, with all words told in that unit."""
        return Sheet(
            title=tell(in_words_of(job.kind, title)),
            title_block=self.title_block(job, date=date),
            entities=tuple(entities),
            axes=(self.frame.x_on_page, self.frame.y_on_page),
            unit=job.unit,
            notes=tuple(tell(in_words_of(job.kind, note), job.unit) for note in notes),
            tables=tuple(tables),
            legend=tuple(
                (style, tell(in_words_of(job.kind, meaning))) for style, meaning in (legend or {}).items()
            ),
        )


def _angle_deg(along: Point) -> float:
    return math.degrees(math.atan2(along[1], along[0]))


def side_word(job: Job) -> str:
    """The word that tells this side from its mirror: LEFT, RIGHT or CENTER."""
    return job.aircraft.side.upper()


def aircraft_said(job: Job) -> Said:
    """The aircraft as the mechanic wrote it, registration and serial number, or that it is not named."""
    registration, serial = job.aircraft.registration, job.aircraft.serial
    if registration and serial:
        return said("aircraft.with_serial", registration=registration, serial=serial)
    if registration:
        return said("aircraft.registered", registration=registration)
    return said("aircraft.serial", serial=serial) if serial else said("aircraft.not_named")


def aircraft_words(job: Job) -> str:
    """The same in words."""
    return tell(aircraft_said(job))


def rectangle(box: Box) -> Loop:
    """The closed edge of a box on the page, counter-clockwise from its lower left corner."""
    return Loop(np.array([(x, y, 0.0) for x, y in box.corners[:-1]]))


@lru_cache(maxsize=64)  # most edges of a job stay where they are from one entry to the next
def _turned(loop: Loop, matrix: tuple[tuple[float, float], tuple[float, float]]) -> Loop:
    return loop.transformed(matrix)


@lru_cache(maxsize=64)
def _scaled(loop: Loop, ratio: float) -> Loop:
    return Loop(loop.rows * (ratio, ratio, 1.0))
