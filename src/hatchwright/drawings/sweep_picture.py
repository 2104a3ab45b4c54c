"""The trade-off of a sweep: lowest margin against the mass of the doubler."""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Sequence

import numpy as np
from msgspec import Struct

from hatchwright.drawings.picture import Floats, Picture, ring, round_step
from hatchwright.said import said
from hatchwright.units import Unit
from hatchwright.words.amounts import in_unit_of
from hatchwright.words.tell import tell

_LEFT, _BOTTOM, _RIGHT, _TOP = 70.0, 80.0, 745.0, 440.0
_NAMED = 8
_LINE = 14.0
_WIDEST = 118


class Trade(Struct, frozen=True):
    """One variant: mass of its doubler, its lowest margin, and whether every answer could be had and none stops."""

    mass_lb: float
    margin_ratio: float
    words: str
    is_clear: bool


def sweep_picture(
    trades: Sequence[Trade], *, title: str, notes: Sequence[str] = (), unit: Unit = "in"
) -> bytes:
    """Draw the trade-off as SVG; the line joins variants that no other beats in both mass and margin.

    Args:
        notes: what the margins do not speak of; it stands above the picture, however long.
    """
    above = [line for note in (*notes, tell(said("sweep.key"))) for line in textwrap.wrap(note, _WIDEST)]
    height = round(_TOP + 40 + _LINE * (len(above) - 1))
    picture = Picture(760, height, tell(said("sweep.title", title=title)))
    per_lb, mass_unit = in_unit_of(1.0, "lb", unit)
    mass = np.array([trade.mass_lb * per_lb for trade in trades])
    margin = np.array([trade.margin_ratio for trade in trades])
    x_of = _scale(picture, mass, across=True)
    y_of = _scale(picture, np.append(margin, 0.0), across=False)
    picture.line([(_LEFT, y_of(0.0)), (_RIGHT, y_of(0.0))], width=1.6)
    best = best_of(trades)
    front = [(x_of(mass[k]), y_of(trades[k].margin_ratio)) for k in best]
    picture.line(front, width=0.8, dash="6 3")
    for trade, heavy in zip(trades, mass, strict=True):
        at = x_of(heavy), y_of(trade.margin_ratio)
        picture.area([ring(16) * 4 + at], gray=0.0 if trade.is_clear else 1.0, outline=1.0)
    for k in best[-_NAMED:]:
        trade = trades[k]
        at = (x_of(mass[k]), y_of(trade.margin_ratio) + 9)
        anchor = "end" if at[0] > (_LEFT + _RIGHT) / 2 else "start"
        picture.words(at, trade.words, height=7, anchor=anchor, halo=True)
    for place, line in enumerate(reversed(above)):
        picture.words((10, _TOP + 18 + _LINE * place), line)
    picture.words(((_LEFT + _RIGHT) / 2, 42), tell(said("sweep.mass", unit=mass_unit)), anchor="middle")
    picture.foot(tell(said("sweep.of", title=title)))
    return picture.svg()


def best_of(trades: Sequence[Trade]) -> list[int]:
    """The numbers of the variants that no other beats in both mass and margin, the lightest first.

    >>> best_of([Trade(1, 0.1, "", True), Trade(2, 0.0, "", True), Trade(3, 0.5, "", True)])
    [0, 2]
    """
    best: list[int] = []
    for k in sorted(range(len(trades)), key=lambda k: (trades[k].mass_lb, -trades[k].margin_ratio)):
        if not best or trades[k].margin_ratio > trades[best[-1]].margin_ratio:
            best.append(k)
    return best


def _scale(picture: Picture, values: Floats, *, across: bool) -> Callable[[float], float]:
    """An axis with round ticks over the values, and with it what takes a value to canvas units along it."""
    low, high = float(values.min()), float(values.max())
    spread = high - low or max(abs(high), 1.0) * 0.1
    step = round_step(spread)
    low, high = np.floor(low / step) * step, np.ceil(high / step) * step
    if high == low:
        high = low + step
    start, end = (_LEFT, _RIGHT) if across else (_BOTTOM, _TOP)
    per = (end - start) / (high - low)

    def scale(value: float) -> float:
        at: float = start + (value - low) * per
        return at

    for count in range(round(low / step), round(high / step) + 1):
        tick = count * step
        at = scale(tick)
        if across:
            picture.tick(at, f"{tick:.4g}", bottom=_BOTTOM, below=20.0)
        else:
            picture.level(at, f"{tick:.3g}", left=_LEFT, right=_RIGHT, width=0.3)
    return scale
