"""Who is logged in signs as himself alone, once, and for as long as he may."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from hatchwright.records.people import Role
from hatchwright.records.store import Store
from hatchwright.records.verify import verify
from hatchwright.workflow.people import give_role, signer
from security.browsing import form_of
from security.shop import INSPECTOR, MECHANIC, PHRASES, VIEWER
from tests.signing import DRAWN, NAME

PAGE = f"/job/{NAME}/records"


class Bench:
    """A mechanic before the records of a job whose plan can be signed."""

    def __init__(self, shop):
        (shop.folder / NAME).write_text(DRAWN, encoding="utf-8")
        self.store, self.browser = Store.opened(shop.folder), shop.browser(MECHANIC)

    def shown(self) -> dict[str, str]:
        return form_of(self.browser.ask(PAGE).text, "/records/enter")

    def send(self, does: str, shown: dict[str, str] | None = None, **typed: str) -> tuple[int, int]:
        """Status, and how many entries were made."""
        form = {"pass_phrase": PHRASES[MECHANIC], "initials": "BM", "does": does, **typed}
        before = self.store.last().seq
        status = self.browser.ask(f"{PAGE}/enter", {**(shown or self.shown()), **form}).status
        return status, self.store.last().seq - before


def test_a_mechanic_signs_plan_and_hold_as_himself_and_each_form_once(shop):
    bench = Bench(shop)
    as_inspector = {"name": INSPECTOR, "pass_phrase": PHRASES[INSPECTOR]}
    assert bench.send("sign:plan", **as_inspector) == (409, 0)
    form = bench.shown()
    assert bench.send("sign:plan", form, name=INSPECTOR) == (302, 1)
    assert bench.store.last().author == MECHANIC
    assert bench.send("sign:plan", form) == (409, 0)
    form = bench.shown()
    assert bench.send("hold:left:data", form, **as_inspector) == (409, 0)
    assert bench.send("hold:left:data", form, name=INSPECTOR, by=INSPECTOR) == (302, 1)
    assert bench.store.last().author == MECHANIC
    assert bench.send("hold:left:data", form) == (409, 0)
    assert bench.send("hold:left:release") == (409, 0)
    assert bench.send("sign:work") == (409, 0)
    assert verify(bench.store).is_whole


def test_who_became_a_viewer_or_left_with_the_page_open_signs_nothing(shop):
    bench = Bench(shop)
    form = bench.shown()
    by = signer(shop.staff.people(), INSPECTOR, PHRASES[INSPECTOR])
    for role in (Role.VIEWER, None):
        give_role(shop.folder, by=by, name=MECHANIC, role=role, now=datetime.now(UTC))
        assert bench.send("in:left", form, **{"n-left": "1", "item-left": "drill bit"}) == (403, 0)


@pytest.mark.parametrize("name", [MECHANIC, VIEWER])
@pytest.mark.parametrize("number", ["0", "2147483648", "9" * 25, "9" * 5000])
def test_a_record_of_a_number_that_none_has_is_not_there(shop, name, number):
    Store.opened(shop.folder)
    browser = shop.browser(name)
    assert browser.ask(f"{PAGE}/{number}").status == 404
    assert browser.ask(f"{PAGE}/{number}/job").status == 404
