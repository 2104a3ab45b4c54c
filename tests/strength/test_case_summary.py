"""What is told of each case, against the analysis that it tells of."""

from __future__ import annotations

import math
import re

import pytest

from hatchwright.strength.case_summary import CaseSummary
from hatchwright.strength.report import Elements, StrengthReport, strength_report
from hatchwright.words.tell import tell
from tests.strength.jobs import ANSWERED, RESTORE, SYMMETRIC, layout_of, running
from tests.strength.test_carrying_cover import CARRIES, COVER


@pytest.fixture(scope="module")
def report() -> StrengthReport:
    return strength_report(layout_of(ANSWERED, running({"nx": -100.0}, {"q": 60.0}), base=SYMMETRIC))


def words(report: StrengthReport, case: int, heading: str) -> str:
    return lines_told(report.summaries[case])[heading]


def lines_told(summary: CaseSummary) -> dict[str, str]:
    return {tell(heading): tell(line) for heading, line in summary.lines}


def figures(text: str) -> list[float]:
    return [
        float(figure) for figure in re.findall(r"-?(?:\d+\.?\d*|\.\d+)", re.sub(r"(?<=\d),(?=\d)", "", text))
    ]


def test_every_case_is_told_in_the_same_words(report: StrengthReport) -> None:
    assert [summary.case for summary in report.summaries] == ["case 1", "case 2"]
    headings = [[heading for heading, _ in summary.lines] for summary in report.summaries]
    assert headings[0] == headings[1]


def test_figures_are_those_of_the_analysis(report: StrengthReport) -> None:
    assert report.analysis
    for number, found in enumerate(report.analysis.cases):
        edge = figures(words(report, number, "Highest edge stress"))
        assert edge[:2] == pytest.approx([found.before.stress_psi, found.after.stress_psi], rel=5e-4)
        assert edge[2:] == pytest.approx(list(found.after.place_in), abs=5e-4)
        carried = figures(words(report, number, "Load in doubler across the middle"))
        assert carried == pytest.approx(list(found.pick_up_lbf), abs=0.5)  # whole pounds-force
        hardest = max(found.rivets, key=lambda rivet: rivet.greater_lbf)
        told = figures(words(report, number, "Highest-loaded rivet"))
        assert told == pytest.approx([hardest.number, hardest.huth_lbf, hardest.swift_lbf], abs=0.5)
        error = found.grid_error
        told = figures(words(report, number, "Grid error, two grids, below"))
        ratios = [error.edge_ratio, error.fastener_ratio, error.deflection_ratio]
        assert all(0 <= percent - 100 * ratio < 0.1 for percent, ratio in zip(told, ratios, strict=True))
        buckles = figures(words(report, number, "Panel buckles at"))
        # three figures, rounded down
        for told_factor, one in zip(buckles, found.buckling.values(), strict=True):
            last = 10.0 ** (math.floor(math.log10(one.factor)) - 2)
            assert 0 <= one.factor - told_factor < last
        assert all(map(math.isfinite, buckles))
        assert report.summaries[number].rivets == found.rivets


def test_nothing_is_told_that_was_not_analyzed() -> None:
    by_hand = strength_report(layout_of(RESTORE, base=SYMMETRIC), elements=None)
    assert by_hand.summaries == ()
    assert strength_report(layout_of(base=SYMMETRIC)).summaries == ()


def test_a_cover_that_carries_is_told_with_its_screws() -> None:
    found = strength_report(
        layout_of(ANSWERED, COVER, running({"nx": 150.0}), CARRIES, base=SYMMETRIC),
        elements=Elements(buckling=False),
    )
    for summary in found.summaries:
        told = lines_told(summary)
        assert "lbf in shear" in told["Load in cover across its middle"]
        numbers = {f"No. {screw.number}" for screw in summary.screws}
        assert told["Highest-loaded screw"].split(":")[0] in numbers
        assert "Panel buckles at" not in told
