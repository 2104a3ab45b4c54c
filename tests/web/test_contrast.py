"""What has to be read at a glance stands out by 7:1.

Contrast: WCAG 2.2, success criterion 1.4.6 (enhanced), with the relative luminance that its glossary defines.
"""

from __future__ import annotations

import re
from importlib.resources import files

import pytest


def style(name):
    return files("hatchwright.web").joinpath("static", name).read_text(encoding="utf-8")


def luminance(color):
    parts = [int(color[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


@pytest.mark.parametrize("name", ["focus", "stop"])
def test_the_two_colors_of_the_page_can_be_read_on_white(name):
    color = re.search(rf"--{name}: (#\w{{6}});", style("page.css")).group(1)
    assert 1.05 / (luminance(color) + 0.05) >= 7.0


def test_a_drawing_that_waits_grows_no_fainter():
    assert not re.findall(r"opacity", style("drawing.css"))
