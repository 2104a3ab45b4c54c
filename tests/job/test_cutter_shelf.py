"""The shelf file: its page lists every key, and its example is read."""

from __future__ import annotations

import re
from pathlib import Path

from hatchwright.job.cutter import HandTool
from hatchwright.job.cutter_shelf import CutterShelf

PAGE = (Path(__file__).parents[2] / "docs" / "shop-cutters.md").read_text(encoding="utf-8")


def test_every_key_of_a_hand_tool_stands_on_the_page():
    assert set(re.findall(r"^\| `(\w+)` \|", PAGE, re.MULTILINE)) == set(HandTool.model_fields)


def test_the_example_of_the_page_is_read():
    shelf = CutterShelf.read(re.search(r"```toml\n(.*?)```", PAGE, re.DOTALL)[1])
    assert [tool.name for tool in shelf.tools] == ["punch head A", "hole saw 5/8"]
    assert shelf.cutters[0].cut_width.inch == 0.193
    assert shelf.hand_tools[0].diameters[0].inch == 0.625


def test_millimeters_of_the_file_hold_for_every_tool():
    text = 'schema = 1\nunits = "mm"\n[[hand_tools]]\nname = "a"\nkind = "snips"\ncapacity = "1.6"\n'
    assert round(CutterShelf.read(text).hand_tools[0].capacity.inch, 6) == round(1.6 / 25.4, 6)
