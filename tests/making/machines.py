"""A machine that has every tool, for tests that are not about the machine; sizes are invented."""

from __future__ import annotations

from hatchwright.job.machine import Machine

TEXT = """schema = 1
units = "{units}"
travel = ["60 in", "40 in", "4 in"]
blank_at = ["1 in", "1 in"]
spoil_board = "1/2 in"
cut_below = ".010 in"
safe_height = "{safe}"
approach = ".100 in"
ramp = "{ramp}"

[tabs]
count = {tabs}
width = "{tab_width}"
height = "{tab_height}"

[[tools]]
number = 1
kind = "drill"
diameter = "#40"
reach = "1 in"
spindle = 3000
plunge = "6 in"
peck = "{peck}"

[[tools]]
number = 2
kind = "end mill"
diameter = "{mill}"
reach = "1 in"
spindle = 12000
plunge = "8 in"
feed = "30 in"
pass_depth = "{pass_depth}"
"""

ENGRAVER = """
[[tools]]
number = 3
kind = "engraver"
diameter = ".010 in"
reach = ".25 in"
spindle = 9000
plunge = "5 in"
feed = "20 in"
depth = ".006 in"
"""


def machine(*, engraves: bool = False, **changes: object) -> Machine:
    """The machine, with sizes that are not the usual ones, and with an engraver when it is asked for."""
    usual: dict[str, object] = {
        "units": "in",
        "safe": ".75 in",
        "ramp": 5,
        "tabs": 4,
        "tab_width": ".2 in",
        "tab_height": ".040 in",
        "peck": ".100 in",
        "mill": "1/8 in",
        "pass_depth": ".050 in",
    }
    return Machine.read(TEXT.format(**(usual | changes)) + ENGRAVER * engraves)
