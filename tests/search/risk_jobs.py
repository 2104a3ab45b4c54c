"""Jobs by whose scatter the risk is tried; everything in them is invented."""

from __future__ import annotations

import math

from hatchwright.job.file import read_job
from hatchwright.layout.lay_out import lay_out
from hatchwright.search.risk.errors import Play

OWN = f"""
[scatter]
drill = ".006"
offset = ".003"
filing = ".003"
ring_place = ".004"
ring_turn = {math.degrees(0.0007):.8f}
"""
"""Wander .006, offset and filing .003, ring laid by hand .004 and .0007 rad, as in the measured design of this."""

PLAY = Play(clearance_in=0.004, span_in=7.766)
"""Of alder's pins."""

SKIN = """schema = 2
title = "one row"
[aircraft]
side = "left"
surface = "lower"
[frame]
origin = "rib row x spar row"
x = "OUTBD"
y = "AFT"
[skin]
alloy = "2024"
temper = "T3"
clad = true
thickness = ".032"
stressed = true
"""
"""What every job of one row begins with."""

HARD = f"""{SKIN}[opening]
shape = "rounded rectangle"
width = "7.4"
height = "4.3"
radius = ".75"
center = ["0", "0"]
[doubler]
alloy = "2024"
temper = "T3"
clad = true
thickness = ".040"
[doubler.outer]
shape = "rounded rectangle"
width = "8.488"
height = "5.388"
radius = "1.294"
[[rows]]
name = "row"
lay = "offset"
edge = "opening"
distance = ".272"
rivet = "MS20470AD4"
count = 60
"""
"""60 holes, each .022 beyond the least distance from both edges and about .02 beyond the least pitch."""


def alder_of(alder_text, scatter=OWN):
    """Alder as drawn, with the shop's scatter."""
    drawn = alder_text[: alder_text.index("# What was really made on the left wing")]
    return lay_out(read_job(drawn + scatter))


def hard(scatter=OWN):
    """The hard job, with the shop's scatter."""
    return lay_out(read_job(HARD + scatter))
