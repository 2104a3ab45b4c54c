"""Follows a toolpath file word by word, as the control will, and refuses whatever it does not know for certain.

It shares nothing with the writer: what it returns is what the tool does, told by the file alone.
Source of the words and of the rule for arcs: [NISTIR-6556].
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from typing import NoReturn

from msgspec import Struct

from hatchwright.errors import ExportError
from hatchwright.said import Listed, Said, said

ARC_RULE = {"G20": 2e-4, "G21": 2e-3}
"""By how much the two radii of an arc may differ, in the unit of the file. [NISTIR-6556], the rule for arcs."""

_MUST_BE_SET = ("G17", "G40", "G49", "G54", "G80", "G90", "G91.1", "G94")
_INCHES = {"G20": 1.0, "G21": 1.0 / 25.4}
_WORD = re.compile(r"([GMTS])(\d+(?:\.1)?)|([XYZIJRQF])(-?\d+\.\d{5})")
_MOVES = {"G0": "XYZ", "G1": "XYZF", "G2": "XYZIJF", "G3": "XYZIJF"}
_CYCLES = {"G81": "XYZRF", "G83": "XYZRQF"}
_KNOWN = {**_MOVES, **_CYCLES}
_LONGEST_IN = 1e4
_HALF_CIRCLE_NOISE = 1e-3

Place = tuple[float, float, float]


class Stroke(Struct, frozen=True):
    """One move of the tool's tip.

    Args:
        line: of the file, counted from 1.
        start: X, Y, Z [in].
        end: X, Y, Z [in].
        center: of an arc (x, y), None for a straight move [in].
        sweep_rad: angle turned through, positive to the left; 0 for a straight move [rad].
        feed_in: feed, 0 for a rapid [in/min].
    """

    line: int
    is_rapid: bool
    start: Place
    end: Place
    center: tuple[float, float] | None = None
    sweep_rad: float = 0.0
    feed_in: float = 0.0

    @property
    def run_in(self) -> float:
        """Length of the move seen from above [in]."""
        if self.center is None:
            return math.dist(self.start[:2], self.end[:2])
        return abs(self.sweep_rad) * math.dist(self.start[:2], self.center)

    def at(self, share: float) -> Place:
        """A place on the way, at a share of it from 0 at the start to 1 at the end [in]."""
        x, y, z = (a + share * (b - a) for a, b in zip(self.start, self.end, strict=True))
        if self.center is not None:
            (hub_x, hub_y), angle = self.center, share * self.sweep_rad
            arm_x, arm_y = self.start[0] - hub_x, self.start[1] - hub_y
            x = hub_x + arm_x * math.cos(angle) - arm_y * math.sin(angle)
            y = hub_y + arm_x * math.sin(angle) + arm_y * math.cos(angle)
        return x, y, z


class DrilledHole(Struct, frozen=True):
    """One hole drilled by a cycle.

    Args:
        at: its center (x, y) [in].
        top_in: height that it is reached and left at [in].
        approach_in: height where feed begins [in].
        feed_in: feed [in/min].
    """

    line: int
    at: tuple[float, float]
    top_in: float
    approach_in: float
    bottom_in: float
    peck_in: float | None
    feed_in: float


class Trace(Struct, frozen=True):
    """What a file makes the machine do.

    Args:
        unit: "in" or "mm", as the file says.
        spindle: turns a minute.
        actions: moves and holes, in order; the way from wherever the tool was to the first of them is left out.
        first_height_in: height that the tool is drawn up to before anything else [in].
    """

    unit: str
    tool: int
    spindle: int
    actions: tuple[Stroke | DrilledHole, ...]
    first_height_in: float


def retrace(text: str) -> Trace:
    """Follow a toolpath file, in inches from the blank's lower left corner and its top.

    Raises:
        ExportError: a word is unknown, missing, said twice or said too late, an arc is not round, or a move goes
            nowhere; the message names the line.
    """
    control = _Control()
    for number, line in _lines(text):
        control.follow(number, line)
    return control.trace()


def refuse(line: int, why: Said) -> NoReturn:
    """Refuse a toolpath that is not what was planned, at a line, 0 for the file as a whole: an ExportError."""
    where = said("trace.line", line=line) if line else said("trace.file")
    raise ExportError(said("trace.refused", where=where, why=why), remedy=said("trace.report"))


def _lines(text: str) -> Iterator[tuple[int, dict[str, str]]]:
    """The words of each line by letter, G and M words by their whole; remarks and the outer % are left out."""
    lines = text.split("\n")
    if lines[-1:] != [""] or lines[0] != "%" or lines[-2] != "%" or len(lines) < 4:
        refuse(0, said("trace.frame"))
    for number, line in enumerate(lines[1:-2], start=2):
        if re.fullmatch(r"\(- [^()]*\)", line):
            continue
        words: dict[str, str] = {}
        for part in line.split(" "):
            found = _WORD.fullmatch(part)
            if found is None:
                refuse(number, said("trace.no_word", word=part))
            letter, value = found[1] or found[3], found[2] or found[4]
            key = part if letter in "GM" else letter
            if key in words:
                refuse(number, said("trace.twice", word=key))
            words[key] = value
        yield number, words


class _Control:
    """The state of a control while it reads."""

    def __init__(self) -> None:
        self._unit = ""
        self._tool = self._spindle = 0
        self._turns = self._in_cycle = self._is_lifted = self._ended = False
        self._height: float | None = None
        self._place: Place | None = None
        self._first_height = 0.0
        self._actions: list[Stroke | DrilledHole] = []

    def trace(self) -> Trace:
        if not self._ended:
            refuse(0, said("trace.no_end"))
        unit = "in" if self._unit == "G20" else "mm"
        return Trace(unit, self._tool, self._spindle, tuple(self._actions), self._first_height)

    def follow(self, number: int, words: dict[str, str]) -> None:
        if self._ended:
            refuse(number, said("trace.after_end"))
        if not self._unit:
            self._set(number, words)
        elif not self._tool:
            self._tool = self._told(number, words, "M6", "T")
        elif not self._spindle:
            self._spindle, self._turns = self._told(number, words, "M3", "S"), True
        elif not self._turns:
            self._end(number, words)
        elif set(words) == {"M5"} and self._is_lifted:
            self._turns = False
        elif set(words) == {"G80"} and self._in_cycle:
            self._in_cycle = False
        elif set(words) == {"G0", "Z"} and not self._in_cycle and not self._is_lifted:
            self._lift(number, float(words["Z"]) * _INCHES[self._unit])
        else:
            self._work(number, words)
            self._is_lifted = False

    def _set(self, number: int, words: dict[str, str]) -> None:
        """The start block, all in one line and before anything else."""
        units = [word for word in words if word in _INCHES]
        if len(units) != 1 or set(words) != {*_MUST_BE_SET, *units}:
            refuse(number, said("trace.start_block"))
        self._unit = units[0]

    def _told(self, number: int, words: dict[str, str], code: str, letter: str) -> int:
        if set(words) != {code, letter} or not words[letter].isdigit() or int(words[letter]) < 1:
            refuse(number, said("trace.expected", letter=letter, word=code))
        return int(words[letter])

    def _end(self, number: int, words: dict[str, str]) -> None:
        if set(words) != {"M2"}:
            refuse(number, said("trace.spindle_at_rest"))
        self._ended = True

    def _lift(self, number: int, height: float) -> None:
        if self._height is None:
            self._first_height = height
        elif height < self._height:
            refuse(number, said("trace.lowered"))
        elif self._place is not None and height > self._height:
            self._go(Stroke(number, True, self._place, (*self._place[:2], height)))
        self._height, self._is_lifted = height, True

    def _work(self, number: int, words: dict[str, str]) -> None:
        """A move with all of its axes, or a drilling cycle."""
        is_cycle = "G98" in words
        codes = [word for word in words if word in (_CYCLES if is_cycle else _MOVES)]
        code = codes[0] if len(codes) == 1 else refuse(number, said("trace.unknown_move"))
        needed = {code, *_KNOWN[code], *(("G98",) if is_cycle else ())}
        if set(words) != needed:
            refuse(number, said("trace.needs", word=code, letters=Listed(tuple(_KNOWN[code]), ",")))
        if self._height is None or (self._in_cycle and not is_cycle):
            refuse(number, said("trace.cycle_open"))
        inches = {letter: float(words[letter]) * _INCHES[self._unit] for letter in _KNOWN[code]}
        if max(abs(value) for value in inches.values()) > _LONGEST_IN or inches.get("F", 1.0) <= 0.0:
            refuse(number, said("trace.out_of_reason"))
        if is_cycle:
            self._drill(number, inches, self._height)
        else:
            self._travel(number, code, inches, self._height)

    def _drill(self, number: int, values: dict[str, float], top: float) -> None:
        if not values["Z"] < values["R"] <= top or values.get("Q", 1.0) <= 0.0:
            refuse(number, said("trace.cycle_heights"))
        self._in_cycle = True
        at = values["X"], values["Y"]
        self._actions.append(
            DrilledHole(number, at, top, values["R"], values["Z"], values.get("Q"), values["F"])
        )
        self._place = (*at, top)

    def _travel(self, number: int, code: str, values: dict[str, float], height: float) -> None:
        start, end = self._place, (values["X"], values["Y"], values["Z"])
        if start is None:
            if code != "G0" or end[2] != height:
                refuse(number, said("trace.first_move"))
            self._place = end
        elif start == end:
            refuse(number, said("trace.nowhere"))
        elif code in ("G0", "G1"):
            self._go(Stroke(number, code == "G0", start, end, feed_in=values.get("F", 0.0)))
        else:
            self._go(self._arc(number, code, start, end, values))

    def _arc(self, number: int, code: str, start: Place, end: Place, values: dict[str, float]) -> Stroke:
        hub = start[0] + values["I"], start[1] + values["J"]
        radii = math.dist(start[:2], hub), math.dist(end[:2], hub)
        if abs(radii[0] - radii[1]) > ARC_RULE[self._unit] * _INCHES[self._unit] or min(radii) == 0.0:
            refuse(number, said("trace.arc_radii"))
        if start[:2] == end[:2]:
            refuse(number, said("trace.full_circle"))
        angles = [math.atan2(y - hub[1], x - hub[0]) for x, y, _ in (start, end)]
        turn = (angles[1] - angles[0]) % (2.0 * math.pi)
        sweep = turn if code == "G3" else turn - 2.0 * math.pi
        if abs(sweep) > math.pi + _HALF_CIRCLE_NOISE:
            refuse(number, said("trace.over_half_circle"))
        return Stroke(number, False, start, end, hub, sweep, values["F"])

    def _go(self, stroke: Stroke) -> None:
        self._actions.append(stroke)
        self._place, self._height = stroke.end, stroke.end[2]
