"""The frame of a job: where the origin is, which way the axes run, and how that lies on a page seen from outside."""

from typing import Literal

from msgspec import Struct
from pydantic import Field

from hatchwright.errors import EntryError
from hatchwright.job.entry import Entered
from hatchwright.said import said

Side = Literal["left", "right", "center"]
Surface = Literal["upper", "lower", "side"]
Direction = Literal["FWD", "AFT", "OUTBD", "INBD", "LEFT", "RIGHT", "UP", "DOWN"]

OPPOSITE: dict[str, Direction] = {
    "FWD": "AFT",
    "AFT": "FWD",
    "OUTBD": "INBD",
    "INBD": "OUTBD",
    "LEFT": "RIGHT",
    "RIGHT": "LEFT",
    "UP": "DOWN",
    "DOWN": "UP",
}
"""Which way lies straight behind a direction."""


SWAPPED: dict[str, Direction] = {"LEFT": "RIGHT", "RIGHT": "LEFT"}
"""Which way runs on the other side of the aircraft what runs so on this; all other directions stay."""


class FrameEntry(Entered):
    """Origin and axes of the job, in words."""

    origin: str = Field(min_length=1, max_length=400)
    x: Direction
    y: Direction


class Frame(Struct, frozen=True):
    """How the job's axes lie on a page that shows the skin seen from outside.

    Args:
        x_on_page: where X runs on the page (page x to the right, page y up) [-].
        y_on_page: where Y runs on the page [-].
    """

    origin: str
    x: Direction
    y: Direction
    side: Side
    surface: Surface
    x_on_page: tuple[float, float]
    y_on_page: tuple[float, float]

    @property
    def matrix(self) -> tuple[tuple[float, float], tuple[float, float]]:
        """Rows of the 2 x 2 matrix that takes job axes to page axes [-]."""
        return (self.x_on_page[0], self.y_on_page[0]), (self.x_on_page[1], self.y_on_page[1])

    @property
    def is_mirrored(self) -> bool:
        """Whether the page shows the job's axes the other hand round."""
        (a, b), (c, d) = self.matrix
        return a * d - b * c < 0

    def to_page(self, x_in: float, y_in: float) -> tuple[float, float]:
        """Take a point of the job to the page: x to the right, y up [in]."""
        (a, b), (c, d) = self.matrix
        return a * x_in + b * y_in, c * x_in + d * y_in

    def directions(self) -> tuple[tuple[str, tuple[float, float]], ...]:
        """The two direction arrows of a page, each a word and its page direction [-]."""
        seen = directions_on_page(self.side, self.surface)
        first = "FWD"
        second = "UP" if self.surface == "side" else ("OUTBD" if self.side != "center" else "LEFT")
        return (first, seen[first]), (second, seen[second])


def directions_on_page(side: Side, surface: Surface) -> dict[str, tuple[float, float]]:
    """Where each direction of the aircraft points on a page seen from outside.

    Upper and lower skins are drawn with FWD up, side skins with UP up. Left and right are those of the pilot.
    """
    seen: dict[str, tuple[float, float]] = {}
    if surface == "side":
        seen["UP"] = (0.0, 1.0)
        seen["FWD"] = (-1.0, 0.0) if side == "left" else (1.0, 0.0)
    else:
        seen["FWD"] = (0.0, 1.0)
        seen["LEFT"] = (-1.0, 0.0) if surface == "upper" else (1.0, 0.0)
        if side != "center":
            sign = 1.0 if side == "left" else -1.0
            seen["OUTBD"] = (sign * seen["LEFT"][0], 0.0)
    for word, (x, y) in list(seen.items()):
        seen[OPPOSITE[word]] = (0.0 - x, 0.0 - y)
    return seen


def make_frame(entry: FrameEntry, *, side: Side, surface: Surface) -> Frame:
    """Lay the job's axes on the page.

    Raises:
        EntryError: an axis does not lie in that skin, or both axes run along the same line.
    """
    if surface == "side" and side == "center":
        raise EntryError(said("job.side_skin"), where="aircraft.side", remedy=said("job.left_or_right"))
    seen = directions_on_page(side, surface)
    for axis, word in (("x", entry.x), ("y", entry.y)):
        if word not in seen:
            words = ", ".join(seen)
            raise EntryError(
                said("job.axis_off_skin", word=word, surface=surface, side=side),
                where=f"frame.{axis}",
                remedy=said("job.use_one_of", words=words),
            )
    if entry.y in (entry.x, OPPOSITE[entry.x]):
        raise EntryError.saying("job.axes_along", where="frame.y")
    return Frame(
        origin=entry.origin,
        x=entry.x,
        y=entry.y,
        side=side,
        surface=surface,
        x_on_page=seen[entry.x],
        y_on_page=seen[entry.y],
    )
