"""On a skin that no flat template fits neither a template nor a plan of its pins is given, and it is said why."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import pytest

from hatchwright.errors import ExportError
from hatchwright.workflow.examine import examine_file
from hatchwright.workflow.pins import plan_pins
from hatchwright.workflow.template_files import template_files

ALDER = Path(__file__).parents[2] / "examples" / "alder.toml"


@pytest.fixture
def job_on(tmp_path):
    def written(*, rise, other_rise):
        text = ALDER.read_text(encoding="utf-8")
        curved = (
            f'[skin.curvature]\nalong = "y"\nchord = "8.00"\nrise = "{rise}"\nother_rise = "{other_rise}"\n\n'
        )
        assert text.count("[[bay.rows]]\n") > 1
        path = tmp_path / "curved.toml"
        path.write_text(text.replace("[[bay.rows]]\n", f"{curved}[[bay.rows]]\n", 1), encoding="utf-8")
        return path

    return written


@pytest.mark.parametrize(
    ("rise", "other_rise", "words"),
    [
        ("1/2", "1/4", "T701.*Double curvature"),
        ("1.3", "0", r"T702, Cut along a rigid flat template, \.0293 past the rough line"),
    ],
)
def test_neither_template_nor_pins_are_offered(job_on, rise, other_rise, words):
    job = job_on(rise=rise, other_rise=other_rise)
    with pytest.raises(ExportError, match=words):
        plan_pins(job)
    with pytest.raises(ExportError, match=words):
        template_files(examine_file(job), stamp=datetime(2026, 3, 1, tzinfo=UTC))


def test_on_a_flatter_skin_pins_are_planned(job_on):
    """Rise .5 over 8.00: the cut goes .005 beyond the rough line, of .015 that is left."""
    assert plan_pins(job_on(rise="1/2", other_rise="0")).pins.plan is not None
