"""Time of all rules on a job of 60 and of 2 000 holes, as a ratio to a plain loop timed in the same run.

The plain loop is what a first program would do: the distance of every hole to every piece of every edge, and of every
hole to every other, one after the other, and nothing judged. Milliseconds are printed for information; only the ratios
mean anything from one machine to another.
"""

from __future__ import annotations

import math
import statistics
import time
from collections.abc import Callable

from hatchwright.job.file import read_job
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.layout import Layout
from hatchwright.layout.survey import survey
from hatchwright.rules.check import check
from hatchwright.shapes.profile import Arc

_RUNS = 15

_JOB = """
schema = 2
title = "benchmark"
[aircraft]
side = "left"
surface = "lower"
[frame]
origin = "rib x spar"
x = "OUTBD"
y = "AFT"
[skin]
alloy = "2024"
temper = "T3"
clad = true
thickness = ".032"
stressed = true
[[bay.rows]]
name = "rib 1"
member = "rib"
x = "-{room_x}"
diameter = "1/8"
[[bay.rows]]
name = "rib 2"
member = "rib"
x = "{room_x}"
diameter = "1/8"
[[bay.flanges]]
name = "rib 1 flange"
x_to = "-{room_x}"
[[bay.flanges]]
name = "rib 2 flange"
x_from = "{room_x}"
[[bay.keep_outs]]
name = "cable"
x_from = "1"
x_to = "1"
depth = "2"
[opening]
shape = "rounded rectangle"
width = "{width}"
height = "{height}"
radius = ".75"
center = ["0", "0"]
[doubler]
alloy = "2024"
temper = "T3"
clad = true
thickness = ".040"
[doubler.outer]
shape = "rounded rectangle"
width = "{outer_width}"
height = "{outer_height}"
radius = "1.25"
[doubler.inner]
shape = "rounded rectangle"
width = "{inner_width}"
height = "{inner_height}"
radius = ".5"
[[rows]]
name = "inner"
lay = "offset"
rivet = "MS20470AD4"
edge = "opening"
distance = ".28"
pitch = "{pitch}"
[[rows]]
name = "outer"
lay = "offset"
rivet = "MS20470AD4"
edge = "doubler outer"
distance = ".28"
pitch = "{pitch}"
stagger = true
[cover]
alloy = "2024"
temper = "T3"
clad = true
thickness = ".032"
fit = "flush"
gap = ".030"
[cover.screws]
size = "8-32"
length = "1/2"
head = "100 degree flush"
nut = "two-lug nutplate"
nut_rivet = "MS20426AD3"
preparation = "dimple"
inset = ".35"
count = {screws}
"""


def layout_of(*, width_in: float, height_in: float, pitch_in: float, screws: int) -> Layout:
    """A reinforced opening with two staggered rows all round and a flush cover on nutplates."""
    text = _JOB.format(
        width=width_in,
        height=height_in,
        outer_width=width_in + 2.0,
        outer_height=height_in + 2.0,
        inner_width=width_in - 1.4,
        inner_height=height_in - 1.4,
        room_x=width_in / 2.0 + 2.0,
        pitch=pitch_in,
        screws=screws,
    )
    return lay_out(read_job(text))


def plain_loop(layout: Layout) -> float:
    """Least distance of all, hole by hole, piece by piece and pair by pair [in]."""
    least = math.inf
    for hole in layout.holes:
        for part in layout.parts:
            for edge in part.edges:
                for piece in edge.loop.pieces():
                    x, y = piece.start
                    if isinstance(piece, Arc):
                        far = math.hypot(hole.x_in - piece.center[0], hole.y_in - piece.center[1])
                        least = min(least, abs(far - piece.radius_in))
                        continue
                    along_x, along_y = piece.end[0] - x, piece.end[1] - y
                    share = ((hole.x_in - x) * along_x + (hole.y_in - y) * along_y) / (
                        along_x**2 + along_y**2
                    )
                    share = min(1.0, max(0.0, share))
                    foot_x, foot_y = x + share * along_x, y + share * along_y
                    least = min(least, math.hypot(hole.x_in - foot_x, hole.y_in - foot_y))
        for other in layout.holes:
            if other.number != hole.number:
                least = min(least, math.hypot(hole.x_in - other.x_in, hole.y_in - other.y_in))
    return least


def milliseconds(work: Callable[[], object], *, runs: int = _RUNS) -> float:
    """Median processor time of several runs, the first left out."""
    work()
    taken = []
    for _ in range(runs):
        begun = time.process_time()
        work()
        taken.append((time.process_time() - begun) * 1e3)
    return statistics.median(taken)


def main() -> None:
    """Print survey and rules of both jobs beside the plain loop over the same holes."""
    small = layout_of(width_in=4.0, height_in=3.0, pitch_in=0.8, screws=18)
    large = layout_of(width_in=150.0, height_in=78.0, pitch_in=0.487, screws=120)
    for layout, runs in ((small, _RUNS), (large, 5)):
        plain = milliseconds(lambda layout=layout: plain_loop(layout), runs=min(runs, 3))
        print(f"{len(layout.holes)} holes, plain loop          {plain:9.2f} ms  ratio 1.000")
        for name, work in (("survey", survey), ("survey and all rules", check)):
            taken = milliseconds(lambda work=work, layout=layout: work(layout), runs=runs)
            print(f"{len(layout.holes)} holes, {name:20s}{taken:9.2f} ms  ratio {taken / plain:5.3f}")


if __name__ == "__main__":
    main()
