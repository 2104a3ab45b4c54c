"""Every free edge with the doubler on, and what its stress at limit load means.

Fty 39 ksi: [MIL-HDBK-5J], clad 2024-T3; the cap of .6 of it is common practice. U5 and U6 of the review of stress with
its figures.
"""

from __future__ import annotations

import numpy as np
import pytest

from hatchwright.fem.running import running_loads
from hatchwright.finding import Finding
from hatchwright.job.file import read_job
from hatchwright.job.job import Job
from hatchwright.job.loads import Loads
from hatchwright.judged import Status
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.layout import Layout
from hatchwright.search.strength_answer import StrengthAnswer, answer_of
from hatchwright.strength.fields import edge_curve
from hatchwright.strength.report import Elements, StrengthReport, strength_report
from hatchwright.words.tell import tell
from hatchwright.workflow.strength import strength_values
from strength.jobs import ANSWERED, SQUARE, layout_of, running
from strength.rings import box, ring_job, row
from told import advice_of, subject_of

FTY_PSI = 39_000.0


def findings(found: StrengthReport, code: str) -> list[Finding]:
    return [one for one in found.findings if one.code == code]


def analyzed(layout: Layout) -> StrengthReport:
    return strength_report(layout, elements=Elements(buckling=False))


def up(alder: Job) -> Layout:
    cases = [{"name": "up", "nx": "250", "q": "80"}]
    loads = Loads.model_validate({"basis": "running loads", "source": "review", "cases": cases})
    return lay_out(alder.model_copy(update={"loads": loads}))


@pytest.fixture(scope="module")
def answer(alder_drawn: Job) -> StrengthAnswer:
    return answer_of(up(alder_drawn), Elements(buckling=False))


@pytest.fixture(scope="module")
def alder_up(answer: StrengthAnswer) -> StrengthReport:
    return answer.report


def test_the_doublers_window_of_alder_is_a_caution(alder_up: StrengthReport) -> None:
    """U5: 37.9 ksi at ultimate load, 1.59 times the 23.9 of the skin's edge; 25.2 at limit load, over 23.4."""
    opening, window, outline = findings(alder_up, "S811")
    assert alder_up.analysis is not None
    edges = alder_up.analysis.cases[0].edges
    assert [abs(edge.peak.stress_psi) for edge in edges[:2]] == pytest.approx([23_870, 37_860], rel=2e-3)
    assert edges[1].peak.stress_psi / edges[0].peak.stress_psi == pytest.approx(1.59, abs=0.01)
    assert opening.status is Status.PASS
    assert window.value == pytest.approx(37_860 / 1.5 * (1.11 + edges[1].grid_ratio), rel=2e-3)
    assert (window.status, window.limit) == (Status.CAUTION, pytest.approx(0.6 * FTY_PSI))
    assert subject_of(window).startswith("Stress at the doubler inner edge, highest at X ")
    assert window.place == edges[1].peak.place_in
    assert subject_of(outline).startswith("Stress at the doubler outer edge, highest at X ")


def test_the_bare_chart_leaves_the_edge_to_the_elements(alder_up: StrengthReport, alder_drawn: Job) -> None:
    """49.3 ksi at limit load without the doubler, over yield; with it S811 judges. By hand alone it isn't shown."""
    (chart,) = findings(alder_up, "S701")
    assert chart.value is not None
    assert chart.value > FTY_PSI
    assert (chart.status, chart.limit) == (Status.CAUTION, FTY_PSI)
    by_hand = strength_report(up(alder_drawn), elements=None)
    (chart,) = findings(by_hand, "S701")
    assert chart.status is Status.UNKNOWN


ROUND_OUTSIDE = ring_job(
    box(4, 4, 0.5, '["0", "0"]'),
    'shape = "circle"\ndiameter = "7.55"\n',
    row("inner", "opening", 0.30, 0.55),
    row("outer", "doubler outer", 0.30, 0.55),
    skin=0.032,
    doubler=0.025,
    bay=5,
    case={"nx": 1000},
)


def test_an_edge_that_yields_at_limit_load_stops() -> None:
    """U6: 84 ksi at limit load is 2.15 Fty; the doubler's window 113 at ultimate load; in a bay of 10 in."""
    found = analyzed(lay_out(read_job(ROUND_OUTSIDE)))
    opening, window, _ = findings(found, "S811")
    assert opening.value == pytest.approx(1.11 * 84_000, rel=0.05)
    assert found.analysis is not None
    assert abs(found.analysis.cases[0].edges[1].peak.stress_psi) == pytest.approx(113_000, rel=0.02)
    for one in (opening, window):
        assert (one.status, one.limit) == (Status.STOP, FTY_PSI)
        assert "yields at limit load" in advice_of(one)
    assert found.must_stop


@pytest.mark.parametrize(("over", "status"), [(0.999, Status.CAUTION), (1.001, Status.STOP)])
def test_exactly_yield_is_the_bound(over: float, status: Status) -> None:
    """The answer is linear: the load under which the edge is just under and just over yield."""
    nx = 100.0
    per_load = findings(analyzed(layout_of(ANSWERED, running({"nx": nx}))), "S811")[0].value
    assert per_load is not None
    scaled = nx * over * FTY_PSI / per_load
    assert findings(analyzed(layout_of(ANSWERED, running({"nx": scaled}))), "S811")[0].status is status


def test_without_a_doubler_the_chart_stops() -> None:
    """A circle 2 in across, bare, Nx 900 over .032: 3 x 900 / .032 / 1.5 is over 39 ksi wherever the bay ends."""
    bare = (
        SQUARE[: SQUARE.index("[opening]")]
        + '[opening]\nshape = "circle"\ndiameter = "2"\ncenter = ["0", "0"]\n'
    )
    (chart,) = findings(
        strength_report(layout_of(ANSWERED, running({"nx": 900.0}), base=bare), elements=None), "S701"
    )
    assert chart.value is not None
    assert chart.value >= 3 * 900 / 0.032 / 1.5
    assert (chart.status, chart.limit) == (Status.STOP, FTY_PSI)
    assert "doubler" not in advice_of(chart)


def test_the_outline_bears_what_the_metal_beside_it_does(alder_up: StrengthReport) -> None:
    """A little inside a straight part of the outline the running load along it is the stress of the edge times t."""
    assert alder_up.analysis is not None
    found = alder_up.analysis.cases[0]
    edge = found.response.edge("doubler", outline=True)
    straight = (np.abs(edge.points[:, 1] - 7.5) < 1e-6) & (np.abs(edge.points[:, 0] - 5.5) < 1.0)
    inside = edge.points[straight] - [0.0, 0.02]
    along = running_loads(found.response.unit, "doubler", inside)[:, 0] @ found.response.load_lbf_in / 0.040
    assert np.abs(along - edge.stress_psi[straight]).max() < 0.1 * np.abs(edge.stress_psi[straight]).max()


def test_summary_json_and_picture_tell_the_doublers_edges(
    answer: StrengthAnswer, alder_up: StrengthReport
) -> None:
    assert alder_up.analysis is not None
    found = alder_up.analysis.cases[0]
    told = next(
        tell(line) for heading, line in alder_up.summaries[0].lines if "doubler's edges" in tell(heading)
    )
    assert told.startswith("doubler inner edge 37,860 psi at X ")
    assert "doubler outer edge" in told
    curve = edge_curve(found)
    assert np.abs(curve.window_psi).max() == pytest.approx(abs(found.edges[1].peak.stress_psi))
    assert curve.window_way_in[-1] == pytest.approx(curve.way_in[-1])
    window = strength_values(answer)["elements"]["cases"][0]["edge"]["free"][1]
    assert (window["name"], window["part"]) == ("doubler_inner_edge", "doubler")
    assert window["stress"] == pytest.approx(found.edges[1].peak.stress_psi)
    assert window["place"] == pytest.approx(found.edges[1].peak.place_in)
