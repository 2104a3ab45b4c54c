"""Small jobs for the tests of strength, written as a mechanic writes them."""

from __future__ import annotations

from hatchwright.job.file import read_job
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.layout import Layout

SQUARE = """
schema = 2
title = "Square opening in a square bay"
[aircraft]
side = "left"
surface = "lower"
[frame]
origin = "middle of the opening"
x = "OUTBD"
y = "AFT"
[skin]
alloy = "2024"
temper = "T3"
clad = true
thickness = ".032"
stressed = true
[[bay.rows]]
name = "inboard rib"
x = "-5"
[[bay.rows]]
name = "outboard rib"
x = "5"
[[bay.rows]]
name = "forward spar"
y = "-5"
[[bay.rows]]
name = "aft spar"
y = "5"
[opening]
shape = "rounded rectangle"
width = "4"
height = "4"
radius = "1"
center = ["0", "0"]
[doubler]
alloy = "2024"
temper = "T3"
clad = true
thickness = ".040"
[doubler.outer]
shape = "rounded rectangle"
width = "7"
height = "7"
radius = "1.5"
[[rows]]
name = "inner"
lay = "offset"
rivet = "MS20470AD4"
edge = "opening"
distance = ".30"
pitch = ".55"
[[rows]]
name = "outer"
lay = "offset"
rivet = "MS20470AD4"
edge = "doubler outer"
distance = ".30"
pitch = ".55"
"""

_SIDES = (("outboard", 1, 0), ("inboard", -1, 0), ("aft", 0, 1), ("forward", 0, -1))


def _line_row(name: str, offset: float, reach: float, across: int, along: int) -> str:
    ends = [
        (offset * across + k * reach * abs(along), offset * along + k * reach * abs(across)) for k in (-1, 1)
    ]
    (x1, y1), (x2, y2) = ends
    return (
        f'[[rows]]\nname = "{name}"\nlay = "line"\nrivet = "MS20470AD4"\ncount = 8\n'
        f'start = ["{x1}", "{y1}"]\nend = ["{x2}", "{y2}"]\n'
    )


SYMMETRIC = SQUARE[: SQUARE.index("[[rows]]\nname")] + "".join(
    _line_row(f"{name}, {which}", offset, reach, across, along)
    for name, across, along in _SIDES
    for which, offset, reach in (("inner", 2.3, 1.6), ("outer", 3.2, 1.9))
)
"""The square job with two straight rows on each side, the same on all four."""

ANSWERED = """
[gate]
spar_web_or_cap = false
pressure_skin = false
tank_wall = false
movable_surface = false
fitting_path = false
member_cut = false
"""

RESTORE = '\n[loads]\nbasis = "restore"\n'

COVER = """
[cover]
alloy = "2024"
temper = "T3"
clad = true
thickness = ".032"
fit = "lapped"
lap = ".6"
[cover.screws]
size = "8-32"
head = "pan"
nut = "two-lug nutplate"
inset = ".3"
count = 16
"""


def running(*cases: dict[str, float], more: str = "") -> str:
    """Known running loads, one table a case."""
    text = f'\n[loads]\nbasis = "running loads"\nsource = "stress note 7"\n{more}'
    for number, case in enumerate(cases, start=1):
        text += f'[[loads.cases]]\nname = "case {number}"\n'
        text += "".join(f'{key} = "{value:f}"\n' for key, value in case.items())
    return text


def layout_of(*parts: str, base: str = SQUARE) -> Layout:
    """Lay out a job: the base and further sections."""
    return lay_out(read_job(base + "".join(parts)))
