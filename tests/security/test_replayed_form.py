"""A form that is sent again, as by the back button or by who recorded it, does nothing a second time."""

from __future__ import annotations

import re

from hatchwright.records.store import Store
from security.browsing import form_of
from security.shop import INSPECTOR, MECHANIC, PHRASES

NEW = "another pass phrase"
AGAIN = {"new_pass_phrase": NEW, "new_pass_phrase_again": NEW}


def test_a_person_is_named_once(shop):
    inspector, store = shop.browser(INSPECTOR), Store.opened(shop.folder)
    token = form_of(inspector.ask("/people").text, "/people/name")
    form = {**token, "name": "D. Mechanic", "role": "mechanic", "pass_phrase": PHRASES[INSPECTOR], **AGAIN}
    assert inspector.ask("/people/name", form).status == 302
    seq = store.last().seq
    assert inspector.ask("/people/name", form).status == 409
    assert store.last().seq == seq


def test_a_pass_phrase_is_changed_once(shop):
    mechanic = shop.browser(MECHANIC)
    token = form_of(mechanic.ask("/people").text, "/people/pass-phrase")
    form = {**token, "pass_phrase": PHRASES[MECHANIC], **AGAIN}
    assert mechanic.ask("/people/pass-phrase", form).status == 302
    key = shop.staff.people()[MECHANIC].key
    assert mechanic.ask("/people/pass-phrase", form).status == 409
    assert shop.staff.people()[MECHANIC].key == key


def test_a_role_form_that_was_recorded_changes_nothing_after_the_log_out(shop):
    inspector = shop.browser(INSPECTOR)
    token = form_of(inspector.ask("/people").text, "/people/role")
    form = {**token, "name": MECHANIC, "role": "viewer", "pass_phrase": PHRASES[INSPECTOR]}
    shop.send(inspector, "/leave", {})
    assert inspector.ask("/people/role", form).status == 403
    assert shop.staff.people()[MECHANIC].may(shop.staff.people()[MECHANIC].role)


def test_a_login_form_that_was_recorded_does_not_bring_back_the_session_that_ended(shop):
    """The pass phrase is in it, so it lets in as a new session would; TLS is what keeps it from being recorded."""
    shown = shop.outside()
    token = form_of(shown.ask("/login").text, "/login")
    form = {**token, "name": MECHANIC, "pass_phrase": PHRASES[MECHANIC]}
    first = shown.ask("/login", form).cookies["__Host-hatchwright_session"]
    copied = shop.outside()
    copied.cookies = {first.key: first}
    shop.send(shown, "/leave", {})
    second = shown.ask("/login", form).cookies["__Host-hatchwright_session"]
    assert second.value != first.value
    assert copied.ask("/").status == 302
    assert shop.outside().ask("/login", form).status == 403  # in another browser its token is worth nothing


def test_what_is_counted_out_of_the_wing_is_counted_once(shop):
    """Counted twice, it would hide the one that is still in there."""
    mechanic, page = shop.browser(MECHANIC), "/job/alder.toml/records"
    store, side = Store.opened(shop.folder), re.search(r'value="in:(\w+)"', mechanic.ask(page).text)[1]

    def form_as_shown() -> dict[str, str]:
        return form_of(mechanic.ask(page).text, "/records/enter")

    def counted(how: str, n: str, shown: dict[str, str]) -> int:
        form = {"pass_phrase": PHRASES[MECHANIC], f"n-{side}": n, f"item-{side}": "bucking bar"}
        form["does"] = f"{how}:{side}"
        return mechanic.ask(f"{page}/enter", {**shown, **form}).status

    assert counted("in", "2", form_as_shown()) == 302
    recorded = form_as_shown()
    assert counted("out", "1", recorded) == 302
    seq = store.last().seq
    assert counted("out", "1", recorded) == 409
    assert store.last().seq == seq
    assert counted("out", "1", form_as_shown()) == 302
