"""Small pictures of analysed values: an SVG canvas in whole units that keeps a picture at tens of kilobytes.

Black on white with greys that only repeat what lines and letters say, so that a photocopy loses nothing.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from xml.sax.saxutils import escape

import numpy as np
from numpy.typing import NDArray

from hatchwright.drawings.lettering import CAPITAL_RATIO, FAMILY, literal

Floats = NDArray[np.float64]

UNITS_PER_IN = 100.0
"""Canvas units in an inch of the picture as it is set into a paper at full size."""


@dataclass(slots=True)
class Picture:
    """A picture under way: y runs up, the origin is the lower left corner.

    Args:
        width: of the canvas [units].
        height: of the canvas [units].
        title: said to readers that cannot see it.
    """

    width: int
    height: int
    title: str
    _parts: list[str] = field(default_factory=list)
    _clips: int = 0

    def area(self, rings: Iterable[Floats], *, grey: float, outline: float = 0.0, clip: str = "") -> None:
        """Fill a region.

        Args:
            rings: its outlines, holes included, each of shape (n, 2) [units].
            grey: 0 black to 1 white [-].
            outline: width of a black line round it, 0 for none [units].
            clip: name of a clip, "" for none.
        """
        level = round(255 * min(max(grey, 0.0), 1.0))
        path = "".join(self._path(ring, closed=True) for ring in rings if len(ring) > 2)
        edge = f' stroke="#000" stroke-width="{outline:g}"' if outline else ""
        if path:
            paint = f'fill="#{level:02x}{level:02x}{level:02x}" fill-rule="evenodd"{edge}'
            self._add(f'<path d="{path}" {paint}', clip)

    def line(
        self, points: Floats, *, width: float = 1.0, dash: str = "", clip: str = "", closed: bool = False
    ) -> None:
        """Draw a line.

        Args:
            points: shape (n, 2) [units].
            width: of the line [units].
            dash: dash and gap in turn, "" for a solid line [units].
            clip: name of a clip, "" for none.
            closed: whether it returns to its start.
        """
        path = self._path(np.asarray(points, dtype=float), closed=closed)
        if path:
            dashes = f' stroke-dasharray="{dash}"' if dash else ""
            self._add(f'<path d="{path}" fill="none" stroke="#000" stroke-width="{width:g}"{dashes}', clip)

    def arrow(self, start: Floats, end: Floats, *, width: float = 2.0, head: float = 9.0) -> None:
        """Draw an arrow with a filled head.

        Args:
            start: its tail [units].
            end: its tip [units].
            width: of the line [units].
            head: length of the head [units].
        """
        start, end = np.asarray(start, dtype=float), np.asarray(end, dtype=float)
        length = float(np.hypot(*(end - start)))
        if length < 1.0:
            return
        along = (end - start) / length
        across = np.array([-along[1], along[0]])
        foot = end - along * min(head, length)
        self.line(np.array([start, foot]), width=width)
        self.area([np.array([end, foot + across * head / 3, foot - across * head / 3])], grey=0.0)

    def words(
        self,
        at: tuple[float, float],
        text: str,
        *,
        height: float = 11.0,
        anchor: str = "start",
        turned: bool = False,
        halo: bool = False,
    ) -> None:
        """Letter a line of text.

        Args:
            at: its foot at the anchor [units].
            text: any text; nothing in it has a meaning.
            height: of a capital [units].
            anchor: start, middle or end.
            turned: whether it reads upward.
            halo: whether it stands on a white ground, for numbers on lines.
        """
        x, y = round(at[0]), round(self.height - at[1])
        turn = f' transform="rotate(-90 {x} {y})"' if turned else ""
        size = f'font-size="{height / CAPITAL_RATIO:.1f}" text-anchor="{anchor}"'
        said = escape(literal(text))
        if halo:
            self._parts.append(
                f'<text x="{x}" y="{y}" {size}{turn} stroke="#fff" stroke-width="5">{said}</text>'
            )
        self._parts.append(f'<text x="{x}" y="{y}" {size}{turn}>{said}</text>')

    def window(self, left: float, bottom: float, right: float, top: float) -> str:
        """Make a clip.

        Args:
            left: its sides [units].
            bottom: as left.
            right: as left.
            top: as left.
        Returns:
            str: its name.
        """
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
        """Whole units from point to point; points that fall together are left out."""
        whole = np.rint(np.column_stack([points[:, 0], self.height - points[:, 1]])).astype(int)
        steps = np.diff(whole, axis=0)
        steps = steps[np.any(steps != 0, axis=1)]
        if not len(steps):
            return ""
        runs = " ".join(f"{dx} {dy}" for dx, dy in steps.tolist())
        return f"M{whole[0, 0]} {whole[0, 1]}l{runs}" + ("z" if closed else "")


def round_step(most: float, *, bands: int = 8) -> float:
    """A round step that divides a range into about so many bands.

    Args:
        most: the range, above 0.
        bands: about how many.
    Returns:
        float: 1, 2, 2.5 or 5 times a power of ten.

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
        level: the level.
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
