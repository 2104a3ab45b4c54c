"""How far work is: each part tells its own stretch, in order, and who is not listened to costs nothing."""

from __future__ import annotations

import pytest

from hatchwright.progress import in_parts, stretches, unheard
from hatchwright.said import said


def test_parts_tell_their_stretch_of_the_whole_by_their_weight():
    told: list = []
    first, second = stretches(lambda share, doing: told.append((share, doing.id)), 1.0, 3.0)
    first(0.0, said("a"))
    first(0.5, said("b"))
    for name, mine in in_parts(("c", "d", "e"), second):
        mine(0.0, said(name))
    mine(1.0, said("f"))
    shares, names = zip(*told, strict=True)
    assert shares == pytest.approx((0.0, 0.125, 0.25, 0.5, 0.75, 1.0))
    assert "".join(names) == "abcdef"


def test_where_nobody_listens_nothing_is_divided():
    assert stretches(unheard, 1.0, 2.0) == (unheard, unheard)
    assert list(in_parts("ab", unheard)) == [("a", unheard), ("b", unheard)]
    assert not stretches(unheard)
