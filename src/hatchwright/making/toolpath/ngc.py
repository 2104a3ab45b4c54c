"""Writes a tool's run in the words of RS-274/NGC: one tool a file, five decimals, arcs by center, no compensation.

Only words that every control of the kind knows; each line says all of its axes, so that no line leans on another.
That document counts I and J from the start of the arc and knows nothing else; G91.1, of later controls, says so.
Source: [NISTIR-6556]; method: docs/theory/toolpath.md.
"""

from __future__ import annotations

import cmath
import math
import re
from collections.abc import Iterable, Iterator
from itertools import product
from textwrap import wrap

import numpy as np

from hatchwright.making.toolpath.tool_moves import Drilling, Move, Place
from hatchwright.making.toolpath.toolpath import ToolRun
from hatchwright.said import said
from hatchwright.units import MM_PER_IN
from hatchwright.words.tell import tell

_PLACES = 5
_LOOKED_AT = 9
_TURN = 2.0 * math.pi
_LONGEST_REMARK = 120
"""Letters of a remark in one line, so that a control shows it whole. Own choice, no source."""

_UNIT_WORDS = {"in": "G20", "mm": "G21"}


def ngc_of(run: ToolRun, *, unit: str, safe_in: float, remarks: Iterable[str]) -> str:
    """Write what one tool does.

    Args:
        unit: "in" or "mm".
        remarks: what is told to the person at the machine, each in as many lines as it takes.
    """
    words = _Words(MM_PER_IN if unit == "mm" else 1.0)
    tool = run.tool
    lines = [
        "%",
        *(f"(- {line})" for remark in (*remarks, tell(said("ngc.arcs"))) for line in _plain(remark)),
        f"G17 {_UNIT_WORDS[unit]} G40 G49 G54 G80 G90 G91.1 G94",
        f"T{tool.number} M6",
        f"S{tool.spindle} M3",
        f"G0 {words.axis('Z', safe_in)}",
        *words.lines(run.moves),
        f"G0 {words.axis('Z', safe_in)}",
        "M5",
        "M2",
        "%",
    ]
    return "\n".join(lines) + "\n"


def _plain(remark: str) -> list[str]:
    """A remark that no control takes for anything else, by line: plain letters, no brackets, never a command."""
    return wrap(re.sub(r"[^A-Za-z0-9 .,:;/+=#'-]", "_", remark), _LONGEST_REMARK)


class _Words:
    def __init__(self, factor: float) -> None:
        self._factor = factor
        self._at: list[str] = []
        self._place: Place = (0.0, 0.0, 0.0)

    def axis(self, letter: str, value_in: float) -> str:
        text = f"{value_in * self._factor:.{_PLACES}f}"
        return letter + (text.lstrip("-") if float(text) == 0.0 else text)

    def lines(self, moves: Iterable[Move | Drilling]) -> Iterator[str]:
        drills = False
        for move in moves:
            if drills and not isinstance(move, Drilling):
                yield "G80"
            drills = isinstance(move, Drilling)
            yield from (self._drilling(move),) if isinstance(move, Drilling) else self._move(move)
        if drills:
            yield "G80"

    def _hub(self, center: tuple[float, float], to: Place, *, is_left: bool) -> list[str]:
        """The words of an arc's center: of those that five decimals allow, the ones that keep nearest to the arc."""
        step = 10.0**-_PLACES / self._factor
        hub, start = complex(*center), complex(*(self._written(value) for value in self._place[:2]))
        radius, shares = abs(complex(*to[:2]) - hub), np.linspace(0.0, 1.0, _LOOKED_AT)
        angle = cmath.phase((complex(*to[:2]) - hub) / (start - hub))
        sweep = angle % _TURN - (0.0 if is_left else _TURN)
        x, y = (
            [self._written(value + steps * step) for steps in (-1, 0, 1)]
            for value in ((hub - start).real, (hub - start).imag)
        )

        def off(to_hub: complex) -> float:
            on_arc = start + to_hub - to_hub * np.exp(1j * sweep * shares)
            return float(np.abs(np.abs(on_arc - hub) - radius).max())

        best = min((complex(i, j) for i, j in product(x, y)), key=off)
        return [self.axis("I", best.real), self.axis("J", best.imag)]

    def _written(self, value_in: float) -> float:
        """The value that stands in the file [in]."""
        return float(self.axis("", value_in)) / self._factor

    def _move(self, move: Move) -> Iterator[str]:
        """One line, or none when five decimals show no move."""
        at, word, rest = [self.axis(*pair) for pair in zip("XYZ", move.to, strict=True)], "G0", list[str]()
        if move.feed_in is not None:
            word, rest = "G1", [self.axis("F", move.feed_in)]
        if move.center:
            word = "G3" if move.is_left else "G2"
            rest = [*self._hub(move.center, move.to, is_left=move.is_left), *rest]
        if at != self._at:
            yield " ".join((word, *at, *rest))
        self._at, self._place = at, move.to

    def _drilling(self, hole: Drilling) -> str:
        values = (*hole.at, hole.bottom_in, hole.approach_in, hole.peck_in, hole.feed_in)
        words = (self.axis(letter, v) for letter, v in zip("XYZRQF", values, strict=True) if v is not None)
        return " ".join(("G98", "G81" if hole.peck_in is None else "G83", *words))
