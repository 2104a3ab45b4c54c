"""One state of the job, drawn or as made, for every hand method: what is not there, or does not fill its hole, carries
nothing, and its hole stays.

388 lb, an AD4 in its .1285 hole: [MIL-HDBK-5J], table 8.1.2(b), restated; arithmetic by hand.
"""

from __future__ import annotations

import pytest

from hatchwright.errors import EntryError, JobError
from hatchwright.job.file import read_job
from hatchwright.layout.lay_out import without_rivets
from hatchwright.layout.unlisted import unlisted_names
from hatchwright.strength.margin import Margin
from hatchwright.strength.report import StrengthReport, strength_report
from hatchwright.words.tell import tell
from tests.strength.jobs import ANSWERED, SYMMETRIC, layout_of, running

THICK = SYMMETRIC.replace('".032"', '".063"').replace('".040"', '".063"')
"""In .063 a protruding AD4 keeps all of its shear, and the holes bear more than that."""

PULL = running({"nx": 1000.0})
"""Over the 4 in cut 4,000 lb; the 16 rivets of a side carry 6,208 by shear."""


def report(*parts: str, base: str = THICK) -> StrengthReport:
    return strength_report(layout_of(ANSWERED, PULL, *parts, base=base), elements=None)


def side(found: StrengthReport, code: str, name: str = "X+") -> Margin:
    return next(one for one in found.margins if one.code == code and name in tell(one.subject))


def allowable(margin: Margin) -> float:
    assert margin.allowable is not None
    return margin.allowable.value


def made(*fitted: tuple[tuple[int, ...], str], holes: str = "") -> str:
    text = f'\n[as_made]\nuncertainty = ".002"\nholes = [{holes}]\n'
    for numbers, rivet in fitted:
        text += f'[[as_made.fitted]]\nholes = {list(numbers)}\nrivet = "{rivet}"\n'
    return text


def measured(number: int, size: str) -> str:
    hole = layout_of(base=THICK).holes[number - 1]
    return f'[{number}, "{hole.x_in:.4f}", "{hole.y_in:.4f}", "{size}"]'


def test_rivets_that_are_not_there_carry_nothing() -> None:
    """Of 16 rivets 6 are out: 10 x 388 = 3,880 lb against 4,000; U1 of the review, on another job."""
    assert allowable(side(report(), "S201")) == pytest.approx(16 * 388)
    out = made((tuple(range(1, 7)), "none"))
    margin = side(report(out), "S201")
    assert allowable(margin) == pytest.approx(10 * 388)
    assert margin.ratio == pytest.approx(3880 / 4000 - 1)
    by_command = strength_report(
        without_rivets(layout_of(ANSWERED, PULL, base=THICK), range(1, 7)), elements=None
    )
    assert allowable(side(by_command, "S201")) == pytest.approx(10 * 388)
    told = [tell(line) for line in report(out).inputs]
    assert "Rivet out, hole left, nothing counted: rivets 1, 2, 3, 4, 5 and 6" in told


def test_the_hole_of_a_missing_rivet_stays_in_the_row() -> None:
    whole, out = (side(report(*parts), "S301") for parts in ((), (made(((10, 12, 14), "none")),)))
    assert allowable(out) == pytest.approx(allowable(whole))


def test_a_thinner_sheet_carries_less() -> None:
    """.022 measured where .032 was drawn, U3: 22/32 of the first row's strength; .0315 is the gauge."""
    base = SYMMETRIC.replace("stressed = true", 'stressed = true\nmeasured = ".022"')
    gauge = SYMMETRIC.replace("stressed = true", 'stressed = true\nmeasured = ".0315"')
    drawn, thin, same = (allowable(side(report(base=one), "S301")) for one in (SYMMETRIC, base, gauge))
    assert thin == pytest.approx(drawn * 22 / 32)
    assert same == pytest.approx(drawn)


def test_a_rivet_in_a_hole_that_it_does_not_fill_is_no_joint() -> None:
    """U4: an AD4 in .159 is none; with an AD5 in it it is one of 596 lb."""
    loose = side(report(made(holes=measured(1, ".159"))), "S201")
    assert allowable(loose) == pytest.approx(15 * 388)
    assert "doesn't fill its .1590 hole" in " ".join(tell(one) for one in loose.advice)
    rescued = side(report(made(((1,), "MS20470AD5"), holes=measured(1, ".159"))), "S201")
    assert allowable(rescued) == pytest.approx(15 * 388 + 596)


@pytest.mark.parametrize(
    ("text", "match"),
    [
        (made(((900,), "none")), "900"),
        (made(((1,), "none"), ((1,), "MS20470AD5")), "hole 1 has two rivets.*Name each hole once"),
        (made(((1,), "MS20470AD5-4")), "length"),
    ],
)
def test_what_cannot_be_fitted_is_named(text: str, match: str) -> None:
    with pytest.raises(JobError, match=match):
        layout_of(text, base=THICK)


def test_a_missing_rivet_that_is_none_is_named() -> None:
    with pytest.raises(EntryError, match="no rivet 900"):
        without_rivets(layout_of(base=THICK), (900,))
    assert read_job(THICK + made(((3,), "None"))).as_made is not None


def test_a_fitted_rivet_that_no_table_lists_is_named_once() -> None:
    job = read_job(THICK + made(((1, 2), "MS20470AD7"), ((3,), "none")))
    (found,) = unlisted_names(job)
    assert found.entry == "as_made.fitted.0.rivet"
    assert "MS20470AD7" in tell(found.what)
