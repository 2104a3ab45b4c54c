"""How the sketch of a survey lies: seen from which side, which way up; and both ways where that was not told."""

from __future__ import annotations

from msgspec import Struct
from msgspec.structs import replace

from hatchwright.job.frame import OPPOSITE, Direction, Frame, directions_on_page
from hatchwright.job.site import Site, ViewedFrom


class Sketch(Struct, frozen=True):
    """One way to read a sketch.

    Args:
        seen_from: where whoever drew it looked from.
        up: which way its top points.
        right: which way its right-hand side points.
        x, y: which way the axes of the readings run then; in the mirrored reading one of them is turned.
    """

    seen_from: ViewedFrom
    up: Direction
    right: Direction
    x: Direction
    y: Direction


class Sketches(Struct, frozen=True):
    """The ways to read the sketch of a survey.

    Args:
        ways: the one that was told, or the two between which it is to be asked; the first is as the readings stand.
        contradicts: whether what was told can't all be true, as of a sketch that is mirrored.
        off_skin: an arrow that was told and doesn't lie in this skin, so that it tells nothing; None without.
    """

    ways: tuple[Sketch, ...]
    contradicts: bool = False
    off_skin: Direction | None = None

    @property
    def is_asked(self) -> bool:
        """Whether it has to be asked which of them is meant."""
        return len(self.ways) > 1


def sketches(site: Site, frame: Frame) -> Sketches:
    """Read how a sketch lies off what was told.

    From outside one arrow settles it. From inside an arrow up the sketch leaves open whether left and right were
    turned over in the head; a second arrow, to the right, settles that, and shows a sketch that is mirrored.
    """
    seen = directions_on_page(frame.side, frame.surface)
    usual: Direction = "UP" if frame.surface == "side" else "FWD"
    off_skin = next((told for told in (site.up, site.right) if told is not None and told not in seen), None)
    up = site.up if site.up in seen else None
    outside, inside = _sketch("outside", up or usual, frame), _sketch("inside", up or usual, frame)
    told, other = (inside, outside) if site.seen_from == "inside" else (outside, inside)
    asked = Sketches((told, _turned(other, frame)), off_skin=off_skin)
    if off_skin is not None or up is None or site.seen_from is None:
        return asked
    if site.right is not None and seen[site.right] != seen[told.right]:
        return replace(asked, contradicts=True)
    return asked if site.seen_from == "inside" and site.right is None else Sketches((told,))


def _sketch(seen_from: ViewedFrom, up: Direction, frame: Frame) -> Sketch:
    seen = directions_on_page(frame.side, frame.surface)
    x, y = seen[up]
    right = next(word for word, way in seen.items() if way == (y, 0.0 - x))
    right = OPPOSITE[right] if seen_from == "inside" else right
    return Sketch(seen_from, up, _aircraft_word(right, frame), frame.x, frame.y)


def _aircraft_word(word: str, frame: Frame) -> Direction:
    """The word of the job's own axes for a way, where two words name it: outboard is left on the left side."""
    seen = directions_on_page(frame.side, frame.surface)
    own = (frame.x, frame.y, OPPOSITE[frame.x], OPPOSITE[frame.y])
    return next(one for one in own if seen[one] == seen[word])


def _turned(sketch: Sketch, frame: Frame) -> Sketch:
    """The same with the axis turned that runs across it."""
    across = {sketch.right, OPPOSITE[sketch.right]}
    x = OPPOSITE[frame.x] if frame.x in across else frame.x
    y = OPPOSITE[frame.y] if frame.y in across else frame.y
    return Sketch(sketch.seen_from, sketch.up, sketch.right, x, y)
