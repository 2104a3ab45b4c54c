"""A command loads what its job needs and nothing more: who asks for an answer does not wait for what it leaves out."""

from __future__ import annotations

import gc
import os
import subprocess
import sys
from pathlib import Path

import click

from hatchwright.cli import main

ALDER = Path(__file__).parents[2] / "examples" / "alder.toml"
HEAVY = {
    *(
        "scipy",
        "django",
        "typst",
        "ezdxf",
        "hatchwright.fem",
        "hatchwright.drawings",
        "hatchwright.documents",
    ),
    *(
        "hatchwright.strength",
        "hatchwright.search.remedy",
        "hatchwright.tables.shop",
        "hatchwright.tables.catalog",
    ),
    *("numpy.ma", "logging"),
    *("hatchwright.layout.site", "hatchwright.metrology.routes", "hatchwright.metrology.quadrilateral"),
    "hatchwright.metrology.meeting",
}
"""Finite elements, the page, papers and DXF; what an answer alone never asks; libraries that come with one function;
what works out a site survey, which this job has not."""

RUN = """
import os, sys
from hatchwright.cli.main import main
try:
    main()
except SystemExit:
    pass
print("threads:", os.environ["OPENBLAS_NUM_THREADS"])
print("loaded:", *sorted(sys.modules))
"""


def test_a_check_without_loads_loads_no_elements_no_page_and_no_paper():
    call = [sys.executable, "-c", RUN, "check", str(ALDER)]
    bare = {name: value for name, value in os.environ.items() if name != "OPENBLAS_NUM_THREADS"}
    told = subprocess.run(call, capture_output=True, text=True, check=True, env=bare).stdout
    head, _, loaded = told.rpartition("loaded:")
    assert head.startswith("Inspection opening")
    assert "threads: 1\n" in head  # a pool of threads that nobody uses was half the time of the start
    assert "hatchwright.rules.check" in loaded.split()
    assert not HEAVY & set(loaded.split())


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
