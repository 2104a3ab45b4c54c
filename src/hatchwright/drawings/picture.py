"""Small pictures of analyzed values: an SVG canvas in whole units that keeps a picture at tens of kilobytes.

Black on white with grays that only repeat what lines and letters say, so that a photocopy loses nothing. Points are of
shape (n, 2), all lengths and widths in canvas units; `dash` is dash and gap in turn, `clip` the name of a clip, each ""
for none.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any
from xml.sax.saxutils import escape

import numpy as np
import numpy.typing as npt
from numpy.typing import NDArray

from hatchwright.drawings.boxes import Box, sides_of, touching
from hatchwright.drawings.lettering import CAPITAL_RATIO, FAMILY, literal, text_width_in
from hatchwright.said import said
from hatchwright.words.tell import tell

Floats = NDArray[np.float64]

UNITS_PER_IN = 100.0
"""Canvas units in an inch of the picture as it is set into a paper at full size."""

_BEND = 0.2
"""How far a drawn line may stray from its points before they are rounded, less than shows [units]."""


@dataclass(slots=True)
class Picture:
    """A picture under way: y runs up, the origin is the lower left corner.

    Args:
        title: said to readers that cannot see it.
    """

    width: int
    height: int
    title: str
    _parts: list[str] = field(default_factory=list)
    _clips: int = 0

    def area(self, rings: Iterable[Floats], *, gray: float, outline: float = 0.0, clip: str = "") -> None:
        """Fill a region.

        Args:
            rings: its outlines, holes included, each of shape (n, 2) [units].
            gray: 0 black to 1 white [-].
            outline: width of a black line round it, 0 for none.
        """
        level = round(255 * min(max(gray, 0.0), 1.0))
        path = "".join(self._path(ring, closed=True) for ring in rings if len(ring) > 2)
        edge = f' stroke="#000" stroke-width="{outline:g}"' if outline else ""
        if path:
            paint = f'fill="#{level:02x}{level:02x}{level:02x}" fill-rule="evenodd"{edge}'
            self._add(f'<path d="{path}" {paint}', clip)

    def discs(self, centers: npt.ArrayLike, radius: float, *, gray: float, outline: float = 0.0) -> None:
        """Fill true circles of one kind about centers of shape (n, 2) [units]; `gray` and `outline` as of an area."""
        level = round(255 * min(max(gray, 0.0), 1.0))
        edge = f' stroke="#000" stroke-width="{outline:g}"' if outline else ""
        places = np.asarray(centers, dtype=float).reshape(-1, 2).tolist()
        drawn = "".join(
            f'<circle cx="{x:.1f}" cy="{self.height - y:.1f}" r="{radius:.1f}"/>' for x, y in places
        )
        self._parts.append(f'<g fill="#{level:02x}{level:02x}{level:02x}"{edge}>{drawn}</g>')

    def line(self, points: npt.ArrayLike, **drawn: Any) -> None:
        """Draw a line through points of shape (n, 2) [units], as `lines` draws many."""
        self.lines([points], **drawn)

    def lines(
        self,
        runs: Iterable[npt.ArrayLike],
        *,
        width: float = 1.0,
        dash: str = "",
        clip: str = "",
        closed: bool = False,
    ) -> None:
        """Draw many lines of one kind, each through points of shape (n, 2) [units]."""
        path = "".join(self._path(np.asarray(run, dtype=float), closed=closed) for run in runs)
        if path:
            dashes = f' stroke-dasharray="{dash}"' if dash else ""
            self._add(f'<path d="{path}" fill="none" stroke="#000" stroke-width="{width:g}"{dashes}', clip)

    def arrows(
        self, tails_and_tips: Iterable[tuple[Floats, Floats]], *, width: float = 2.0, head: float = 9.0
    ) -> None:
        """Draw arrows between places of shape (2,), with filled heads of that length [units]."""
        shafts, heads = [], []
        for tail, tip in tails_and_tips:
            length = float(np.hypot(*(tip - tail)))
            if length < 1.0:
                continue
            along = (tip - tail) / length
            across = np.array([-along[1], along[0]])
            foot = tip - along * min(head, length)
            shafts.append(np.array([tail, foot]))
            heads.append(np.array([tip, foot + across * head / 3, foot - across * head / 3]))
        self.lines(shafts, width=width)
        if path := "".join(self._path(one, closed=True) for one in heads):
            self._add(f'<path d="{path}"', "")

    def words(
        self,
        at: tuple[float, float],
        text: str,
        *,
        height: float = 8.0,
        anchor: str = "start",
        turned: bool = False,
        halo: bool = False,
    ) -> None:
        """Letter a line of any text, in which nothing has a meaning.

        Args:
            at: its foot at the anchor.
            height: of a capital.
            anchor: start, middle or end.
            turned: whether it reads upward.
            halo: whether it stands on a white ground, for numbers on lines.
        """
        x, y = round(at[0]), round(self.height - at[1])
        turn = f' transform="rotate(-90 {x} {y})"' if turned else ""
        size = f'font-size="{height / CAPITAL_RATIO:.1f}" text-anchor="{anchor}"'
        letters = escape(literal(text))
        if halo:
            ground = 'stroke="#fff" stroke-width="5"'
            self._parts.append(f'<text x="{x}" y="{y}" {size}{turn} {ground}>{letters}</text>')
        self._parts.append(f'<text x="{x}" y="{y}" {size}{turn}>{letters}</text>')

    def level(self, y: float, words: str, *, left: float, right: float, width: float) -> None:
        """Draw a level line of a scale with its value beside the left end."""
        self.line([(left, y), (right, y)], width=width)
        self.words((left - 6, y - 4), words, anchor="end")

    def tick(self, x: float, words: str, *, bottom: float, below: float = 18.0) -> None:
        """Draw a tick of a scale under a picture with its value below."""
        self.line([(x, bottom), (x, bottom - 5)], width=0.8)
        self.words((x, bottom - below), words, anchor="middle")

    def foot(self, words: str) -> None:
        """Letter what the picture shows, and below it that it is not approved data."""
        self.words((10, 20), words)
        self.words((10, 6), tell(said("paper.not_data")), height=7)

    def window(self, left: float, bottom: float, right: float, top: float) -> str:
        """Make a clip of these sides; returns its name."""
        self._clips += 1
        box = f'x="{left:.0f}" y="{self.height - top:.0f}" width="{right - left:.0f}" height="{top - bottom:.0f}"'
        self._parts.append(f'<clipPath id="c{self._clips}"><rect {box}/></clipPath>')
        return f"c{self._clips}"

    def svg(self) -> bytes:
        """The picture as an SVG file: presentation attributes only, nothing from outside."""
        size = f'width="{self.width / UNITS_PER_IN:g}in" height="{self.height / UNITS_PER_IN:g}in"'
        head = (
            f'<svg xmlns="http://www.w3.org/2000/svg" version="1.1" {size} viewBox="0 0 {self.width} {self.height}">'
            f"<title>{escape(literal(self.title))}</title>"
            f'<rect width="{self.width}" height="{self.height}" fill="#fff"/>'
            f'<g font-family="{FAMILY}, Verdana, sans-serif" fill="#000">'
        )
        return "\n".join([head, *self._parts, "</g></svg>\n"]).encode()

    def _add(self, start: str, clip: str) -> None:
        self._parts.append(start + (f' clip-path="url(#{clip})"/>' if clip else "/>"))

    def _path(self, points: Floats, *, closed: bool) -> str:
        """Whole units from point to point; points that fall together or hardly bend the line are left out."""
        kept = thinned(np.column_stack([points[:, 0], self.height - points[:, 1]]), _BEND)
        whole = np.rint(kept).astype(int)
        steps = np.diff(whole, axis=0)
        steps = steps[np.any(steps != 0, axis=1)]
        if not len(steps):
            return ""
        runs = "".join(f"{dx: d}{dy: d}" for dx, dy in steps.tolist()).lstrip()
        return f"M{whole[0, 0]} {whole[0, 1]}l{runs}" + ("z" if closed else "")


def thinned(points: Floats, stray: float) -> Floats:
    """Leave out points until those left out stray from the line that is kept by no more than is allowed.

    Args:
        points: of a line, shape (n, 2); where it ends at its start, all of it counts as one line.
    Returns:
        Floats: the first, the last and those needed between, shape (k, 2).
    Method: Douglas and Peucker: keep the point that lies farthest off, then do the same on both sides of it.

    >>> thinned(np.array([(0.0, 0.0), (1.0, 0.1), (2.0, 0.0), (2.0, 5.0)]), 0.5).tolist()
    [[0.0, 0.0], [2.0, 0.0], [2.0, 5.0]]
    """
    keep = np.zeros(len(points), dtype=bool)
    keep[[0, -1]] = True
    waiting = [(0, len(points) - 1)]
    while waiting:
        first, last = waiting.pop()
        if last - first < 2:
            continue
        along = points[last] - points[first]
        inner = points[first + 1 : last] - points[first]
        share = np.clip(inner @ along / max(float(along @ along), 1e-12), 0.0, 1.0)
        off = np.hypot(*(inner - share[:, None] * along).T)
        worst = int(off.argmax())
        if off[worst] > stray:
            middle = first + 1 + worst
            keep[middle] = True
            waiting += [(first, middle), (middle, last)]
    return points[keep]


def ring(corners: int) -> Floats:
    """A ring of radius 1 about the origin, shape (corners, 2)."""
    angle = np.linspace(0.0, 2 * np.pi, corners, endpoint=False)
    return np.column_stack([np.cos(angle), np.sin(angle)])


def round_step(most: float, *, bands: int = 8) -> float:
    """A step of 1, 2, 2.5 or 5 times a power of ten that divides a range above 0 into about so many bands.

    >>> round_step(83.0), round_step(0.9)
    (10.0, 0.1)
    """
    rough = most / bands
    power = 10.0 ** np.floor(np.log10(rough))
    return float(min((k * power for k in (1.0, 2.0, 2.5, 5.0, 10.0)), key=lambda step: abs(step - rough)))


def isolines(points: Floats, triangles: NDArray[np.int64], values: Floats, level: float) -> Sequence[Floats]:
    """Lines of one level over a triangulated region.

    Args:
        points: corners, shape (n, 2).
        triangles: numbers of the three corners of each, shape (t, 3).
        values: at the corners, shape (n,).
    Returns:
        Sequence[Floats]: polylines, each of shape (k, 2).
    """
    above = values[triangles] > level
    crossed = above.any(axis=1) & ~above.all(axis=1)
    links: dict[tuple[int, int], list[tuple[int, int]]] = {}
    for corner in triangles[crossed].tolist():
        edges = [
            (min(a, b), max(a, b))
            for a, b in ((corner[0], corner[1]), (corner[1], corner[2]), (corner[2], corner[0]))
            if (values[a] > level) != (values[b] > level)
        ]
        links.setdefault(edges[0], []).append(edges[1])
        links.setdefault(edges[1], []).append(edges[0])
    lines = []
    ends = [edge for edge, others in links.items() if len(others) == 1]
    for start in [*ends, *links]:
        if start not in links or not links[start]:
            continue
        walk = [start]
        while links[walk[-1]]:
            step = links[walk[-1]].pop()
            links[step].remove(walk[-1])
            walk.append(step)
        a, b = np.array(walk).T
        share = ((level - values[a]) / (values[b] - values[a]))[:, None]
        lines.append(points[a] * (1 - share) + points[b] * share)
    return lines


_HEIGHT = 7.0
_RING, _ARROW, _ROOM = 4.0, 2.0, 1.5
_STEP = 4.0
_DISTANCES = (6.0, 12.0, 20.0, 30.0, 42.0, 56.0)
_NEAR = 12.0
_ANGLES = np.arange(24) * 2 * np.pi / 24


def number_rivets(picture: Picture, places: Floats, tips: Floats, labels: Mapping[int, str]) -> None:
    """Letter what is said of some rivets, as near to each as there is room; a thin line leads to one farther off.

    Args:
        places: of all rivets, shape (n, 2) [units].
        tips: ends of their arrows, shape (n, 2) [units].
        labels: words of a rivet by its row in places.
    """
    taken = sides_of(_ink(places, tips))
    for row, words in labels.items():
        boxes, distances = _candidates(places[row], text_width_in(words, height_in=_HEIGHT))
        best = int(np.argmin(touching(boxes, taken).sum(axis=1)))
        left, bottom, right, top = boxes[best]
        middle = np.array([left + right, bottom + top]) / 2
        if distances[best] > _NEAR:
            picture.line([places[row], middle], width=0.5)
        picture.words(
            (float(middle[0]), float(bottom) + _ROOM), words, height=_HEIGHT, anchor="middle", halo=True
        )
        taken = np.vstack([taken, boxes[best]])


def _ink(places: Floats, tips: Floats) -> Iterator[Box]:
    """Boxes of every rivet and along its arrow."""
    for place, tip in zip(places, tips, strict=True):
        yield Box(*place, *place).grown(_RING)
        count = 1 + int(np.hypot(*(tip - place)) / _STEP)
        for point in (place + share * (tip - place) for share in np.linspace(0.0, 1.0, count + 1)):
            yield Box(*point, *point).grown(_ARROW)


def _candidates(place: Floats, width: float) -> tuple[Floats, Floats]:
    """Boxes of a number round its rivet, the nearest first, and how far off each is."""
    half = np.array([width / 2 + _ROOM, _HEIGHT / 2 + _ROOM])
    toward = np.column_stack([np.cos(_ANGLES), np.sin(_ANGLES)])
    middles = np.concatenate([place + toward * (half + distance) for distance in _DISTANCES])
    return np.hstack([middles - half, middles + half]), np.repeat(_DISTANCES, len(_ANGLES))
