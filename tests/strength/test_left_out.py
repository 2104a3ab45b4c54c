"""What a report does not speak of follows from the answers that it holds, and from nothing else."""

from __future__ import annotations

import pytest

from hatchwright.strength.left_out import TOPICS, not_analyzed
from hatchwright.strength.report import strength_report
from tests.strength.jobs import ANSWERED, COVER, RESTORE, SYMMETRIC, layout_of, running
from told import lines_of

BUCKLING = ("S401", "S402", "S803")


@pytest.mark.parametrize("topic", [topic for topic in TOPICS if topic.codes], ids=lambda topic: topic.id)
def test_a_topic_is_left_out_until_one_of_its_codes_answers(topic) -> None:
    layout = layout_of(ANSWERED, COVER, running({"nx": 100.0, "ny": -50.0, "q": 60.0}), base=SYMMETRIC)
    silent = not_analyzed(layout, ())
    for code in topic.codes:
        spoken = not_analyzed(layout, (code,))
        gone = [line.id for line in silent if line not in spoken]
        assert f"left_out.{topic.id}" in gone


def test_a_job_is_told_nothing_of_what_it_has_not() -> None:
    pulled = layout_of(ANSWERED, running({"nx": 100.0}), base=SYMMETRIC)
    told = " ".join(lines_of(not_analyzed(pulled, ())))
    assert "Buckling" not in told
    assert "cover" not in told
    assert "Nutplate" not in told


def test_without_loads_strength_as_a_whole_is_left_out() -> None:
    told = lines_of(strength_report(layout_of(ANSWERED, base=SYMMETRIC)).not_analyzed)
    assert told[0] == "Strength: no loads entered"


def test_what_only_compares_is_no_margin() -> None:
    """On the restore basis buckling is compared after against before (S812), which is no margin against buckling."""
    found = strength_report(layout_of(ANSWERED, RESTORE, base=SYMMETRIC))
    assert "Buckling margins: S812 for comparison only, after against before" in lines_of(found.not_analyzed)
    assert not {margin.code for margin in found.margins} & set(BUCKLING)
    by_hand = strength_report(layout_of(ANSWERED, RESTORE, base=SYMMETRIC), elements=None)
    assert "Finite elements: not run" in lines_of(by_hand.not_analyzed)
    assert any(line.startswith("Buckling: the restore basis") for line in lines_of(by_hand.not_analyzed))
