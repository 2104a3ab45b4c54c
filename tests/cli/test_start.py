"""A command loads what its job needs and nothing more: who asks for an answer does not wait for what it leaves out."""

from __future__ import annotations

import gc
import subprocess
import sys
from pathlib import Path

import click

from hatchwright.cli import main

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


def test_a_command_that_was_loaded_before_keeps_nothing_for_ever():
    """Who calls commands again and again in one process, as a study does, gets back what each has used."""
    group = main.hatchwright
    with click.Context(group) as context:
        group.get_command(context, "rules")
        before = gc.get_freeze_count()
        kept = [[] for _ in range(1000)]
        group.get_command(context, "rules")
    assert len(kept) == 1000
    assert gc.get_freeze_count() <= before
