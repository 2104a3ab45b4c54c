"""Which values are judged, against judging every one of them by the guarded acceptance of [JCGM 106:2012]."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hatchwright.judged import judge_at_least
from hatchwright.rules.worst import least_sure


def by_the_words(margin: float, u: float) -> str:
    """A value that misses with all of its uncertainty added stops; one that may miss cannot be shown to pass."""
    if margin + u < 0.0:
        return "stop"
    return "unknown" if margin - u < 0.0 else "pass"


THOUSANDTHS = st.integers(-10, 10).map(float)
VALUES = st.lists(st.tuples(THOUSANDTHS, st.sampled_from([0.0, 1.0, 5.0])), min_size=1, max_size=12)


@pytest.mark.property
@settings(max_examples=200, deadline=None)
@given(VALUES)
def test_the_worst_of_all_is_among_the_chosen(values):
    answers = [by_the_words(margin, u) for margin, u in values]
    worst_of_all = next(word for word in ("stop", "unknown", "pass") if word in answers)
    chosen = least_sure(*zip(*values, strict=True))
    assert worst_of_all in {answers[k] for k in chosen}
    assert [str(judge_at_least(margin, 0.0, uncertainty=u)) for margin, u in values] == answers


def test_drawn_values_alone_give_one():
    assert least_sure([0.3, 0.1, 0.2], [0.0, 0.0, 0.0]) == (1,)
