"""The page on the JSON of template, trial, pins, cutters and toolpath names every key that they print."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from tests.conftest import EXAMPLES

PAGE = (Path(__file__).parents[2] / "docs" / "making-json.md").read_text(encoding="utf-8")
NAMED = set(re.findall(r"`(\w+)`", PAGE))

READINGS = """schema = 1
units = "in"
piece = "square"
size = "3.000"
template_x = "3.277"
template_y = "3.277"
template_uncertainty = ".0005"
gauge_limit = ".001"
[[cuts]]
x = ["2.978", "2.977"]
y = ["2.977", "2.978", "2.978"]
"""

SHELF = 'schema = 1\n[[hand_tools]]\nname = "snips"\nkind = "snips"\n'


def keys(value) -> set[str]:
    """Every key of a JSON value but those of findings and verdicts, which another page lists."""
    if isinstance(value, list):
        return set().union(*map(keys, value)) if value else set()
    if isinstance(value, dict):
        return set(value) | set().union(
            *(keys(v) for k, v in value.items() if k not in ("findings", "stops", "verdicts"))
        )
    return set()


@pytest.mark.parametrize("name", ["template", "trial", "pins", "cutters", "toolpath"])
def test_every_key_is_on_the_page(shell, alder_file, tmp_path, name):
    beside = tmp_path / "beside.toml"
    beside.write_text(READINGS if name == "trial" else SHELF, encoding="utf-8")
    more = {
        "template": ("--out", tmp_path / "shop"),
        "pins": (),
        "toolpath": ("--machine", EXAMPLES / "machines" / "machine.toml", "--out", tmp_path / "shop"),
    }.get(name, (beside,))
    _, out, err = shell(name, alder_file, *more, "--json")
    assert out, err
    assert keys(json.loads(out)) <= NAMED
