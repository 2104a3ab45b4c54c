"""Any opening that a job can draw is analyzed whole: off center, round, long, and with reentrant corners."""

from __future__ import annotations

import re
from datetime import UTC, datetime
from functools import cache

import pytest

from hatchwright.search.strength_answer import StrengthAnswer
from hatchwright.strength.report import Elements
from hatchwright.workflow.strength import strength_of
from hatchwright.workflow.strength_papers import strength_papers
from tests.made_once import by_name
from tests.strength.jobs import ANSWERED, SQUARE, layout_of, running
from told import subject_of

STAMP = datetime(2026, 3, 1, 10, 0, tzinfo=UTC)
HEAD, _, REST = SQUARE.partition("[opening]")
DOUBLER, ROWS = REST[REST.index("[doubler]") :].split("[doubler.outer]")
ROWS = ROWS[ROWS.index("[[rows]]") :]


def polygon(table: str, corners: list[tuple[float, float]], radius: float) -> str:
    listed = ", ".join(f'["{x}", "{y}"]' for x, y in corners)
    return f'[{table}]\nshape = "polygon"\ncorners = [{listed}]\nradii = ["{radius}"]\n'


def grown(corners: list[tuple[float, float]], by: float) -> list[tuple[float, float]]:
    """Each corner moved outward along both axes: the next sides of a polygon along the axes, moved."""
    moved = []
    for (x0, y0), (x, y), (x1, y1) in zip(
        corners[-1:] + corners, corners, corners[1:] + corners[:1], strict=False
    ):
        dx, dy = (x - x0 or x1 - x), (y - y0 or y1 - y)
        moved.append((x + by * (dy > 0) - by * (dy < 0), y + by * (dx < 0) - by * (dx > 0)))
    return moved


ELL = [(-3.0, -3.0), (3.0, -3.0), (3.0, -1.0), (-1.0, -1.0), (-1.0, 3.0), (-3.0, 3.0)]
YOKE = [
    (-3.0, -2.0),
    (3.0, -2.0),
    (3.0, 2.0),
    (2.0, 2.0),
    (2.0, -1.0),
    (-2.0, -1.0),
    (-2.0, 2.0),
    (-3.0, 2.0),
]
SHAPES = {
    "off centre": (
        '[opening]\nshape = "rounded rectangle"\nwidth = "3"\nheight = "2"\nradius = ".6"\ncenter = ["1.2", "-.8"]\n',
        '[doubler.outer]\nshape = "rounded rectangle"\nwidth = "6"\nheight = "5"\nradius = "1.2"\n',
    ),
    "round": (
        '[opening]\nshape = "circle"\ndiameter = "3"\ncenter = ["0", "0"]\n',
        '[doubler.outer]\nshape = "circle"\ndiameter = "6"\n',
    ),
    "long and turned": (
        '[opening]\nshape = "obround"\nlength = "3.5"\nwidth = "1.5"\nangle = 30\ncenter = ["0", "0"]\n',
        '[doubler.outer]\nshape = "obround"\nlength = "6.5"\nwidth = "4.5"\nangle = 30\n',
    ),
    "ell": (polygon("opening", ELL, 0.4), polygon("doubler.outer", grown(ELL, 1.2), 0.6)),
    "yoke": (polygon("opening", YOKE, 0.4), polygon("doubler.outer", grown(YOKE, 1.2), 0.6)),
}


@cache
def analyzed(name: str) -> StrengthAnswer:
    opening, outer = SHAPES[name]
    bay = HEAD.replace('"-5"', '"-6"').replace('"5"', '"6"')
    base = bay + opening + DOUBLER + outer + ROWS
    job = layout_of(ANSWERED, running({"nx": 100.0, "q": 40.0}), base=base).job
    return strength_of(job, elements=Elements(buckling=False))


@pytest.mark.parametrize("name", SHAPES)
def test_an_opening_goes_through_the_whole_analysis(name: str) -> None:
    answer = analyzed(name)
    assert answer.report.analysis, answer.report.not_analyzed[-1]
    (found,) = answer.report.analysis.cases
    assert 0 < abs(found.after.stress_psi) < abs(found.before.stress_psi)
    assert found.grid_error.edge_ratio < 0.06
    assert found.grid_error.fastener_ratio < 0.06
    files = by_name(strength_papers(answer, stamp=STAMP, stem="opening"))
    stress = next(made for file, made in files.items() if "STRESS" in file)
    assert len(stress) < 40_000
    assert b"nan" not in stress
    top = max(float(top) for top in re.findall(r"to ([\d.]+) ksi", stress.decode()))
    assert 1000 * top >= 0.9 * abs(found.after.stress_psi)


def test_a_shape_that_no_rings_fit_is_meshed_with_triangles_and_said() -> None:
    said = [subject_of(finding) for finding in analyzed("yoke").report.findings if finding.code == "S813"]
    assert any("meshed with triangles" in subject for subject in said)
