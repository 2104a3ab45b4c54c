"""The title block: which aircraft, which side, which revision, and who signs; on every page."""

from __future__ import annotations

from itertools import chain

from msgspec import Struct
from msgspec.structs import force_setattr

from hatchwright.drawings.block import Block
from hatchwright.drawings.ink import Anchor, Ink, Layer, Line, Point, Style, Text, box_of, moved
from hatchwright.drawings.lettering import BIG_IN, SMALL_IN, fitted, literal, text_width_in, wrapped
from hatchwright.drawings.marks import arrow
from hatchwright.said import said
from hatchwright.words.tell import tell

LEAST_WIDTH_IN = 6.4
"""Width below which the title block cannot be read [in]."""

_LABEL_IN = 0.075
_LEAST_IN = 0.08
_TWO_LINES_IN = 0.07
_PAD_IN = 0.06
_ROWS_IN = (0.46, 0.36, 0.36, 0.32)
_ROSE_IN = 1.9

CORNER_IN = (_ROSE_IN - 2.0 * _PAD_IN, sum(_ROWS_IN[:2]) - 2.0 * _PAD_IN)
"""Room in the upper right corner, across and up [in]."""


class TitleBlock(Struct, frozen=True):
    """What identifies a drawing.

    Args:
        aircraft: registration and serial number as typed.
        side: ``LEFT``, ``RIGHT``, or what else tells this face from its mirror.
        view: from where it is seen, such as ``SEEN FROM OUTSIDE``.
        directions: words and angle on the page of each direction, such as ``("FWD", 180.0)`` [deg].
    """

    job: str
    aircraft: str
    side: str
    view: str
    revision: str
    date: str
    directions: tuple[tuple[str, float], ...] = ()

    def __post_init__(self) -> None:
        for name in ("job", "aircraft", "side", "view", "revision", "date"):
            force_setattr(self, name, literal(getattr(self, name)))

    def block(
        self,
        *,
        title: str,
        page: int,
        pages: int,
        scale: str,
        width_in: float,
        corner: Block | None = None,
    ) -> Block:
        """Side in big letters, names, revision, arrows and a line to sign on.

        Args:
            scale: such as ``FULL SIZE 1:1``.
            width_in: width to fill, at least `LEAST_WIDTH_IN` [in].
            corner: what stands in its upper right corner instead of the direction arrows, at most `CORNER_IN`.
        """
        width = max(width_in, LEAST_WIDTH_IN)
        tops = [-sum(_ROWS_IN[:row]) for row in range(len(_ROWS_IN) + 1)]
        side, rose = 1.45, width - _ROSE_IN
        parts: list[Ink] = [
            _rule((0.0, top), (width, top), thick=top in (tops[0], tops[-1]))
            for top in tops
            if top != tops[1]
        ]
        parts += [_rule((x, 0.0), (x, tops[-1]), thick=True) for x in (0.0, width)]
        parts += [_rule((side, 0.0), (side, tops[1])), _rule((rose, 0.0), (rose, tops[2]))]
        parts += [_rule((0.0, tops[1]), (rose, tops[1]))]
        parts += _centered(self.side, 0.5 * side, 0.5 * tops[1], side, BIG_IN)
        parts += _named(_label("sheet"), title, side, tops[0], rose - side, bold=True)
        if corner is None:
            parts += self._rose(
                rose + 0.5 * _ROSE_IN, 0.5 * tops[2], room_in=(0.95 * _ROSE_IN, -0.9 * tops[2])
            )
        else:
            parts += corner.at(rose + _PAD_IN, tops[0] - _PAD_IN)
        names = ((_label("job"), self.job, 0.55), (_label("aircraft"), self.aircraft, 0.45))
        state = (
            (_label("view"), self.view, 0.29),
            (_label("revision"), self.revision, 0.12),
            (_label("date"), self.date, 0.22),
            (_label("scale"), scale, 0.24),
            (_label("page"), tell(said("block.page_of", page=page, pages=pages)), 0.13),
        )
        shares = (("name", 0.36), ("certificate", 0.3), ("date", 0.18), ("initials", 0.16))
        hand = tuple((_label(name), "", share) for name, share in shares)
        parts += _cells(names, tops[1], tops[2], rose)
        parts += _cells(state, tops[2], tops[3], width)
        parts += _cells(hand, tops[3], tops[4], width)
        parts += _centered(tell(said("paper.not_data")), 0.5 * width, tops[4] - 0.11, width, SMALL_IN)
        return Block(tuple(parts), width, 0.22 - tops[4])

    def _rose(self, x: float, y: float, *, room_in: tuple[float, float]) -> tuple[Ink, ...]:
        """The direction arrows, made to fit and centered on a point."""
        arrows = (arrow((0.0, 0.0), angle, words, 0.24, 0.09) for words, angle in self.directions)
        parts = tuple(chain.from_iterable(arrows))
        if not parts:
            return ()
        box = box_of(parts)
        scale = min(1.0, room_in[0] / box.width_in, room_in[1] / box.height_in)
        right = x - 0.5 * scale * (box.left + box.right)
        up = y - 0.5 * scale * (box.bottom + box.top)
        return moved(parts, right_in=right, up_in=up, scale_ratio=scale)


def _label(name: str) -> str:
    return tell(said(f"block.{name}"))


def _cells(cells: tuple[tuple[str, str, float], ...], top: float, foot: float, width: float) -> list[Ink]:
    """A row of cells, each a label, what it names, and its share of the width."""
    parts: list[Ink] = []
    left = 0.0
    for label, words, share in cells:
        if left:
            parts.append(_rule((left, top), (left, foot)))
        parts += _named(label, words, left, top, share * width)
        left += share * width
    return parts


def _named(label: str, words: str, left: float, top: float, width: float, *, bold: bool = False) -> list[Ink]:
    """A small label over what it names."""
    wanted, room_in = 0.15 if bold else SMALL_IN, width - 2.0 * _PAD_IN
    small = Text((left + _PAD_IN, top - _PAD_IN - _LABEL_IN), label, _LABEL_IN)
    if text_width_in(words, height_in=_LEAST_IN, bold=bold) > room_in:
        return [small, *_small_lines(words, left + _PAD_IN, top - 1.6 * _PAD_IN - _LABEL_IN, room_in)]
    shown, height = fitted(words, height_in=wanted, width_in=room_in, least_height_in=_LEAST_IN, bold=bold)
    at = left + _PAD_IN, top - 2.0 * _PAD_IN - _LABEL_IN - height
    return [small, Text(at, shown, height, bold=bold)]


def _small_lines(words: str, left: float, top: float, room_in: float) -> list[Ink]:
    """Two lines of small letters, smaller still for a very long text, so that nothing is cut off."""
    height_in = _TWO_LINES_IN
    while len(lines := wrapped(words, height_in=height_in, width_in=room_in)) > _two_lines(height_in):
        height_in *= 0.9
    return [
        Text((left, top - height_in * (1.0 + 1.4 * row)), line, height_in) for row, line in enumerate(lines)
    ]


def _two_lines(height_in: float) -> int:
    """How many lines of letters a cell has room for."""
    return int(2.4 * _TWO_LINES_IN / (1.4 * height_in) + 0.3)


def _centered(words: str, x: float, y: float, width: float, height_in: float) -> list[Ink]:
    shown, height = fitted(
        words, height_in=height_in, width_in=width - 2.0 * _PAD_IN, least_height_in=_LEAST_IN, bold=True
    )
    return [Text((x, y - 0.5 * height), shown, height, bold=True, anchor=Anchor.MIDDLE)]


def _rule(start: Point, end: Point, *, thick: bool = False) -> Line:
    return Line((start, end), Layer.TEXT, Style.FINISHED if thick else Style.DIMENSION)
