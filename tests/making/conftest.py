"""What the tests of the making share: example jobs with some fields changed, laid out."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from hatchwright.job.file import edited, read_job
from hatchwright.job.text_file import load_text
from hatchwright.layout.lay_out import lay_out

EXAMPLES = Path(__file__).parents[2] / "examples"

UNMEASURED = re.compile(r"(?m)^(advance|body|behind|starter|starter_at|pin_body|pin_clearance) = .*\n")

PLAIN = """schema = 2
title = "A plain opening, to try shapes on"

[aircraft]
side = "left"
surface = "upper"

[frame]
origin = "a corner of the bay"
x = "AFT"
y = "OUTBD"

[skin]
alloy = "2024"
temper = "T3"
clad = true
thickness = ".032"
stressed = false

[opening]
shape = "rounded rectangle"
width = "5.00"
height = "4.00"
radius = ".75"
center = ["4", "3"]

[cutter]
kind = "round-punch nibbler"
cut_width = ".193"
guide = ".500"
filing_allowance = ".015"
template = "female"

[template]
thickness = ".125"
end_mill = "1/8"
border = "1.5"
"""


@pytest.fixture(scope="session")
def job_of():
    """Read an example job, or "plain", with fields changed; a double underscore stands for the dot of the field.

    What the shop may leave unmeasured of a tool is left away, so that a test says what it measures. `opening` replaces
    the whole section of that name.
    """

    def read(example: str, *, opening: str = "", **changes: str):
        text = PLAIN if example == "plain" else load_text(EXAMPLES / f"{example}.toml")
        text = UNMEASURED.sub("", text)
        if opening:
            text, count = re.subn(r"(?ms)^\[opening\]\n.*?(?=^\[|^#)", f"[opening]\n{opening}\n\n", text)
            assert count == 1
        return read_job(edited(text, {f.replace("__", "."): value for f, value in changes.items()}))

    return read


@pytest.fixture(scope="session")
def layout_of(job_of):
    """The same, laid out."""
    return lambda *names, **changes: lay_out(job_of(*names, **changes))
