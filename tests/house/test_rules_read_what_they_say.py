"""What a rule reads is what its entry of the register says: by it the page knows what to judge anew at each key."""

from __future__ import annotations

import sys
from collections import defaultdict
from pathlib import Path

import pytest

from hatchwright.job.file import load_job
from hatchwright.job.job import Job
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.layout import Layout
from hatchwright.layout.survey import Survey, survey
from hatchwright.rules import check  # noqa: F401  enters every rule
from hatchwright.rules.rule import all_rules

EXAMPLES = Path(__file__).parents[2] / "examples"
JOBS = ("alder", "birch", "cypress", "dogwood", "elder", "finch", "heron")
OF_NO_ACCOUNT = {
    "layout", "limit", "shop", "chosen", "choice", "job", "unit", "units", "center_in", "frame", "near_in",
    "holes_named", "title", "as_made",
}  # fmt: skip
"""What leads on to something else, or is the same for every rule."""
SAME = {
    "holes_of": "holes",
    "points": "holes",
    "part": "parts",
    "distinct_edges": "edges",
    "rivet_pitches": "pitches",
}


@pytest.fixture
def reading(monkeypatch):
    """Sets the names that rules read of survey, layout and job; filled while a rule runs."""
    found: set[str] = set()

    def watched(kind):
        plain = kind.__getattribute__

        def get(self, name):
            if sys._getframe(1).f_globals.get("__name__", "").startswith("hatchwright.rules."):
                found.add(name)
            return plain(self, name)

        monkeypatch.setattr(kind, "__getattribute__", get, raising=False)

    for kind in (Survey, Layout, Job):
        watched(kind)
    return found


def test_every_rule_reads_what_its_entry_says(reading):
    untold = defaultdict(set)
    for name in JOBS:
        measured = survey(lay_out(load_job(EXAMPLES / f"{name}.toml")))
        for rule in all_rules():
            reading.clear()
            list(rule.check(measured))
            seen = {SAME.get(one, one) for one in reading if not one.startswith("_")} - OF_NO_ACCOUNT
            told = {SAME.get(one, one) for one in rule.entry.reads}
            untold[rule.code] |= seen - told
    faults = [f"{code} reads {', '.join(sorted(more))}" for code, more in sorted(untold.items()) if more]
    assert not faults, "\n".join(faults)
