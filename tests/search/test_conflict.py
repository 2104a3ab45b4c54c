"""Why no ring can be laid: birch, the mandated opening in a bay that is too narrow, and what else a wish may ask.

Birch is invented; its numbers are sums of its own entries: flanges at X .30 and 5.70 leave 5.40, at Y .45 and 7.10
leave 6.65; the drawn ring is 5.80 x 6.80; cuts of 5.00 and 4.00 ask for 19 and 15 rivets ([AC43.13-1B], table 4-10: 4.9
an inch in .025, of which note c takes three quarters). How narrow a ring can be is held to `brute_force`.
"""

from __future__ import annotations

from dataclasses import replace
from functools import partial

import pytest
from msgspec import structs

from hatchwright.errors import JobError
from hatchwright.job.file import read_job
from hatchwright.layout.lay_out import lay_out
from hatchwright.search.proposal.conflict import asked_of, conflicts_of
from hatchwright.search.proposal.conflict_asked import Question, Scope
from hatchwright.search.proposal.conflict_limits import limits_for
from hatchwright.search.proposal.conflict_sets import smallest_sets
from hatchwright.search.proposal.entering import shape_of
from hatchwright.search.proposal.propose import propose
from hatchwright.tables.materials import SHEET_STOCK
from hatchwright.tables.table import Row, ShopTables
from hatchwright.words.tell import tell
from hatchwright.workings import Grade, Source
from tests.conftest import EXAMPLES
from tests.search.brute_force import BruteForce
from tests.search.relaxed import relaxed
from tests.search.small_jobs import SmallJob, small_job

BIRCH = (EXAMPLES / "birch.toml").read_text(encoding="utf-8")


def laid(text: str):
    return lay_out(read_job(text))


def wishing(job: SmallJob, wish: str):
    return laid(job.text.replace("\n[[choices]]", f"\n{wish}\n[[choices]]"))


def conflicts(layout):
    return conflicts_of(layout, shape_of(layout.job))


@pytest.fixture(scope="module")
def birch():
    return propose(laid(BIRCH))


def test_birch_has_a_conflict_along_x_and_one_along_y(birch):
    along_x, along_y, both = birch.conflicts
    assert tell(along_x.between) == "Along X, between rib 5 flange and rib 6 flange"
    assert tell(along_y.between) == "Along Y, between spar flange and rear stringer flange"
    assert all(one.ways for one in (along_x, along_y, both))


def test_birch_says_in_one_line_what_is_needed_and_what_is_there(birch):
    """As drawn 5.80, at its narrowest 4.00 + 2 x .845, .125 clear on each side ([TM-1-1520-240-BD]), 5.40 there."""
    assert tell(birch.conflicts[0].told) == (
        "Along X the ring can't clear rib 5 flange and rib 6 flange: 5.800 across as drawn, 5.690 at its narrowest, "
        ".250 more to clear both, and 5.400 there."
    )


def test_the_narrowest_ring_of_birch_is_not_wider_than_one_that_brute_force_finds():
    """And no more than a step of its grid narrower."""
    job = replace(
        small_job(0), skin=".025", sheets=(".032",), rivets=("MS20470AD4",), most_rows=2, width=4.0, height=5.0,
        radius=1.0, bay_x=6.2, bay_y=7.2, x=3.1, y=3.6, shift=0.0, ring_through=False, drill=0.0, edge=0.0,
    )  # fmt: skip
    by_grid = BruteForce(job, step_in=0.02).best()["narrowest"].width_in
    layout = laid(BIRCH)
    found = Question(layout).narrowest(asked_of(layout, shape_of(layout.job)))
    assert by_grid - 0.02 < found.width_in <= by_grid + 1e-9


def test_birch_offers_the_largest_opening_that_does_as_a_departure(birch):
    (offer,) = birch.offers
    assert "size" in offer.departs
    assert offer.width_in < 4.0
    assert offer.height_in < 5.0
    assert offer.width_in + 2.0 * offer.ring_in + 2.0 * 0.125 <= 5.40 + 1e-9
    assert offer.height_in + 2.0 * offer.ring_in + 2.0 * 0.125 <= 6.65 + 1e-9


def test_under_a_mandate_no_size_or_place_can_be_entered(birch):
    moved = [one for conflict in birch.conflicts for way in conflict.ways for one in way]
    mandated = [one for one in moved if one.key in ("width", "height", "size", "place")]
    assert mandated
    for one in mandated:
        assert one.whose == "mandate"
        assert one.may_be_entered is None
        assert "no more than a request" in tell(one.gives)


def test_a_published_limit_is_told_as_what_somebody_would_have_to_show(birch):
    published = [one for one in birch.conflicts[-1].ways for one in one if one.whose == "published"]
    assert published
    for one in published:
        assert one.may_be_entered is None
        assert "a DER must show that it holds" in tell(one.gives)


def test_birch_may_ask_for_rows_picked_up_an_outer_doubler_a_smaller_opening_and_data(birch):
    requests = [tell(one) for one in birch.conflicts[-1].requests]
    assert requests[0].startswith("Pick up the rows of rib 5 and rib 6")
    assert requests[1].startswith("Doubler outside the skin")
    assert requests[2].startswith("A smaller opening than mandated")
    assert "design approval holder" in requests[3]
    assert "14 CFR 39.19" in requests[4]


def test_where_an_owner_asks_a_smaller_opening_can_be_entered():
    text = BIRCH.replace('kind = "directive"', 'kind = "owner"').replace(
        'opening_x = "4.00"\nopening_y = "5.00"\n', ""
    )
    (along_x, *_) = conflicts(laid(text))
    (width,) = [one for way in along_x.ways for one in way if one.key == "width"]
    assert width.whose == "drawing"
    assert width.may_be_entered.field == "opening.width"
    assert "14 CFR" not in " ".join(tell(one) for one in along_x.requests)


@pytest.mark.parametrize("text", [BIRCH, small_job(11).text, small_job(23).text], ids=["birch", "11", "23"])
def test_no_limit_is_moved_farther_than_it_must_be(text):
    """Moved one stop less, the same limits leave no ring."""
    layout = laid(text)
    question, asked = Question(layout), asked_of(layout, shape_of(layout.job))
    alone = 0
    for limit in limits_for(question, asked, Scope.ALL):
        ways = smallest_sets(asked, [limit.movable], partial(question.holds, scope=Scope.ALL))
        for ((_, stop),) in ways:
            alone += 1
            assert question.holds(limit.movable.at(asked, stop), Scope.ALL)
            assert not question.holds(limit.movable.at(asked, stop - 1), Scope.ALL)
    assert alone


@pytest.mark.parametrize("name", ["birch", "small"])
def test_every_way_gives_an_offer_at_the_size_that_it_names(name):
    layout = laid(BIRCH if name == "birch" else small_job(11).text)
    proposed = propose(layout)
    (*_, last) = proposed.conflicts
    assert last.ways
    for way in last.ways:
        changed = relaxed(layout, way)
        asked = changed.wanted.bounds
        again = propose(changed)
        assert again.offers
        assert again.conflicts == ()
        for offer in again.offers:
            assert offer.width_in == pytest.approx(asked[2] - asked[0])
            assert offer.height_in == pytest.approx(asked[3] - asked[1])


def test_a_hand_does_not_go_through_an_opening_of_an_inch():
    """A hole of 74 x 104 mm passed one, [BUILDER-LOGS]: 2.914 x 4.095 in, rounded up."""
    inch = replace(small_job(3), width=1.0, height=1.0, radius=0.25)
    proposed = propose(wishing(inch, '[[wish.passes]]\nwhat = "hand"'))
    assert proposed.offers == ()
    (conflict,) = proposed.conflicts
    assert tell(conflict.told) == (
        "The opening is too small for a hand: 1.000 x 1.000 left open, 2.914 x 4.095 passed one in a builder's trial."
    )
    ((width, height),) = conflict.ways
    assert sorted((width.to.value, height.to.value)) >= [2.913, 4.094]


def test_what_is_enlarged_for_a_tool_lets_it_through():
    job = replace(small_job(3), width=3.0, height=3.0, bay_x=8.0, bay_y=9.0, x=4.0, y=4.5, drill=0.0)
    layout = wishing(job, '[[wish.passes]]\nwhat = "part"\nwidth = "2.9"\nheight = "2.9"')
    (conflict,) = propose(layout).conflicts
    (way,) = conflict.ways
    assert propose(relaxed(layout, way)).offers


def test_a_ring_that_must_go_through_flat_may_be_worked_in_instead():
    layout = laid(replace(small_job(77), ring_through=True).text)
    (conflict,) = propose(layout).conflicts
    assert tell(conflict.told).startswith("The ring can't go through the opening flat: ")
    (through,) = [one for way in conflict.ways for one in way if one.key == "through"]
    assert "work one leg in first" in tell(through.gives)
    assert propose(relaxed(layout, (through,))).offers


def test_a_wish_for_one_row_that_holds_too_few_rivets_names_the_rows():
    layout = laid(BIRCH + "[wish]\nmost_rows = 1\n")
    (conflict,) = conflicts(layout)
    assert tell(conflict.told) == (
        "No ring holds the rivets: 19 on a side toward X and 15 toward Y are required, with MS20470AD4 on the shelf."
    )


def test_where_a_ring_can_be_laid_there_is_no_conflict():
    assert conflicts(laid(small_job(3).text)) == ()


def test_a_sheet_of_no_gauge_is_refused_with_the_gauges_next_to_it():
    """.020, .025, .032, .040: the decimal series of aircraft sheet."""
    with pytest.raises(JobError, match=r"wish\.sheets\.1: no sheet is stocked.*Enter \.032 or \.040, or add"):
        propose(laid(BIRCH + '[wish]\nsheets = [".032", ".036"]\n'))


def test_a_sheet_of_the_shops_own_is_taken():
    (own,) = (row for row in SHEET_STOCK.rows() if row.cells["thickness_in"] == "0.032")
    cells = dict(own.cells) | {"thickness_in": "0.036", "source": "OUR-SHELF", "basis": "shop"}
    shop = ShopTables({"sheet_stock": (Row(cells, 2, Source("OUR-SHELF"), Grade.SHOP),)})
    job = read_job(BIRCH + '[wish]\nsheets = [".036"]\n')
    assert propose(lay_out(job, shop)).conflicts


def test_alder_clears_its_flanges_on_all_four_sides():
    """Its drawn ring stands 1.00 outside the opening; what is left is least along Y, 2.50 - 1.00 - .55 = .95."""
    layout = laid((EXAMPLES / "alder.toml").read_text(encoding="utf-8"))
    question, asked = Question(layout), asked_of(layout, shape_of(layout.job))
    gaps = {scope: question.room_in(asked, scope) + 0.125 - 1.00 for scope in (Scope.X, Scope.Y)}
    assert gaps[Scope.X] == pytest.approx(10.60 - 9.00)
    assert gaps[Scope.Y] == pytest.approx(0.95)
    assert conflicts(layout) == ()


def test_a_shorter_edge_distance_gives_no_room_beside_a_fastener_that_is_there():
    """A new hole keeps its distance from the old one, so the ring's edge keeps as much more as the row lies nearer to
    it."""
    beside = '\n[[bay.existing]]\nat = ["0.5", "0.5"]\ndiameter = "1/8"\n'
    bare = replace(small_job(3), drill=0.0, edge=0.0).text
    layout = laid(bare.replace("\n[opening]\n", beside + "\n[opening]\n", 1))
    question, asked = Question(layout), asked_of(layout, shape_of(layout.job))
    kept = [
        question.problem(structs.replace(asked, edge_cut_d=cut)).asked[0].obstacles.kept_in[-1]
        for cut in (0.0, 0.5)
    ]
    limits = question.problem(asked).asked[0].kind.limits
    assert kept[1] - kept[0] == pytest.approx(0.5 * limits.diameter_in)
