"""The title block: which aircraft, which side, which revision, and who signs; on every page."""

from __future__ import annotations

from dataclasses import dataclass

from hatchwright.drawings.block import Block
from hatchwright.drawings.ink import Anchor, Ink, Line, Text
from hatchwright.drawings.layers import Layer, Style
from hatchwright.drawings.lettering import BIG_IN, SMALL_IN, fitted
from hatchwright.drawings.marks import Arrow

NOT_DATA = "CALCULATION AID: NOT APPROVED DATA"
"""What every page says of itself."""

LEAST_WIDTH_IN = 6.4
"""Width below which the title block cannot be read [in]."""

_LABEL_IN = 0.075
_LEAST_IN = 0.08
_PAD_IN = 0.06
_ROWS_IN = (0.46, 0.34, 0.34, 0.26)


@dataclass(frozen=True, slots=True)
class TitleBlock:
    """What identifies a drawing.

    Args:
        job: name of the job.
        aircraft: registration and serial number as typed.
        side: ``LEFT``, ``RIGHT``, or what else tells this face from its mirror.
        view: from where it is seen, such as ``SEEN FROM OUTSIDE``.
        revision: of the job.
        date: date and time as they are to be read.
        directions: words and angle on the page of each direction, such as ``("FWD", 180.0)`` [deg].
    """

    job: str
    aircraft: str
    side: str
    view: str
    revision: str
    date: str
    directions: tuple[tuple[str, float], ...] = ()

    def block(self, *, title: str, page: int, pages: int, scale: str, width_in: float) -> Block:
        """The title block as ink.

        Args:
            title: name of the sheet.
            page: number of this page, from 1.
            pages: how many pages there are.
            scale: such as ``FULL SIZE 1:1``.
            width_in: width to fill, at least `LEAST_WIDTH_IN` [in].
        Returns:
            Block: side in big letters, names, revision, arrows, a line to sign on.
        """
        width = max(width_in, LEAST_WIDTH_IN)
        tops = [-sum(_ROWS_IN[:row]) for row in range(len(_ROWS_IN) + 1)]
        side, rose = 1.45, width - 1.6
        parts: list[Ink] = [_rule(((0.0, top), (width, top)), top in (tops[0], tops[-1])) for top in tops]
        parts += [_rule(((x, 0.0), (x, tops[-1])), thick=True) for x in (0.0, width)]
        parts += [_rule(((x, 0.0), (x, tops[1])), thick=False) for x in (side, rose)]
        parts += _centred(self.side, 0.5 * side, 0.5 * tops[1], side, BIG_IN)
        parts += _named("SHEET", title, side, tops[0], rose - side, bold=True)
        parts += self._rose(rose, tops[0], width - rose)
        names = (("JOB", self.job, 0.36), ("AIRCRAFT", self.aircraft, 0.34), ("VIEW", self.view, 0.30))
        state = (
            ("REVISION", self.revision, 0.2),
            ("DATE", self.date, 0.3),
            ("SCALE", scale, 0.32),
            ("PAGE", f"{page} of {pages}", 0.18),
        )
        parts += _shared(names, tops[1], tops[2], width)
        parts += _shared(state, tops[2], tops[3], width)
        parts += _signing_line(tops[3], tops[4], width)
        parts += _centred(NOT_DATA, 0.5 * width, tops[4] - 0.11, width, SMALL_IN)
        return Block(tuple(parts), width, 0.22 - tops[4])

    def _rose(self, left: float, top: float, width: float) -> list[Ink]:
        if not self.directions:
            return []
        centre = (left + 0.5 * width, top - 0.5 * _ROWS_IN[0] - 0.02)
        return [
            part
            for words, angle_deg in self.directions
            for part in Arrow(centre, angle_deg, words, length_in=0.3, height_in=0.09).parts()
        ]


def _shared(shares: tuple[tuple[str, str, float], ...], top: float, foot: float, width: float) -> list[Ink]:
    parts: list[Ink] = []
    left = 0.0
    for label, words, share in shares:
        if left:
            parts.append(_rule(((left, top), (left, foot)), thick=False))
        parts += _named(label, words, left, top, share * width)
        left += share * width
    return parts


def _named(label: str, words: str, left: float, top: float, width: float, *, bold: bool = False) -> list[Ink]:
    """A small label over what it names."""
    wanted = 0.15 if bold else SMALL_IN
    shown, height = fitted(
        words, height_in=wanted, width_in=width - 2.0 * _PAD_IN, least_height_in=_LEAST_IN, bold=bold
    )
    return [
        Text((left + _PAD_IN, top - _PAD_IN - _LABEL_IN), label, _LABEL_IN),
        Text((left + _PAD_IN, top - 2.0 * _PAD_IN - _LABEL_IN - height), shown, height, bold=bold),
    ]


def _centred(words: str, x: float, y: float, width: float, height_in: float) -> list[Ink]:
    shown, height = fitted(
        words, height_in=height_in, width_in=width - 2.0 * _PAD_IN, least_height_in=_LEAST_IN, bold=True
    )
    return [Text((x, y - 0.5 * height), shown, height, bold=True, anchor=Anchor.MIDDLE)]


def _signing_line(top: float, foot: float, width: float) -> list[Ink]:
    parts: list[Ink] = []
    left = 0.0
    for label, share in (("NAME", 0.36), ("CERTIFICATE NO.", 0.3), ("DATE", 0.18), ("INITIALS", 0.16)):
        if left:
            parts.append(_rule(((left, top), (left, foot)), thick=False))
        parts.append(Text((left + _PAD_IN, top - _PAD_IN - _LABEL_IN), label, _LABEL_IN))
        left += share * width
    return parts


def _rule(points: tuple[tuple[float, float], tuple[float, float]], thick: bool) -> Line:
    return Line(points, Layer.TEXT, Style.FINISHED if thick else Style.DIMENSION)
