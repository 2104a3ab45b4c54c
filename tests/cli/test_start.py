"""A command loads what its job needs and nothing more: who asks for an answer does not wait for what it leaves out."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

ALDER = Path(__file__).parents[2] / "examples" / "alder.toml"
HEAVY = ("scipy", "django", "typst", "ezdxf", "hatchwright.fem")
"""Finite elements, the page, papers and DXF."""

RUN = """
import sys
from hatchwright.cli.main import main
try:
    main()
except SystemExit:
    pass
print("loaded:", *sorted(sys.modules))
"""


def test_a_check_without_loads_loads_no_elements_no_page_and_no_paper():
    call = [sys.executable, "-c", RUN, "check", str(ALDER)]
    told = subprocess.run(call, capture_output=True, text=True, check=True).stdout
    head, _, loaded = told.rpartition("loaded:")
    assert head.startswith("Inspection opening")
    assert "hatchwright.rules.check" in loaded.split()
    assert not set(HEAVY) & set(loaded.split())
