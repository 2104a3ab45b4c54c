"""A stolen cookie is worth nothing once its person logged out, was idle, ended a shift, left or got a new key."""

from __future__ import annotations

import copy

import pytest

from hatchwright.records.people import Role
from hatchwright.web.who import IDLE_S, SHIFT_S
from hatchwright.workflow.people import give_role, new_pass_phrase, signer
from security.shop import INSPECTOR, MECHANIC, NOW, PHRASES


def stolen_from(shop, browser):
    thief = shop.outside("203.0.113.9")
    thief.cookies = copy.deepcopy(browser.cookies)
    return thief


@pytest.fixture
def owner(shop):
    return shop.browser(MECHANIC)


@pytest.fixture
def thief(shop, owner):
    taken = stolen_from(shop, owner)
    assert taken.ask("/").status == 200
    return taken


def test_after_the_log_out(shop, owner, thief):
    assert shop.send(owner, "/leave", {}).status == 302
    assert thief.ask("/").status == 302
    assert thief.ask("/people").status == 302


def test_after_half_an_hour_without_a_request(shop, thief):
    shop.clock.now_s += IDLE_S
    assert thief.ask("/").status == 200
    shop.clock.now_s += IDLE_S + 1
    assert thief.ask("/").status == 302


def test_after_a_shift_however_busy(shop, thief):
    left_s = SHIFT_S
    while left_s > 0:
        shop.clock.now_s += IDLE_S / 2
        left_s -= IDLE_S / 2
        assert thief.ask("/").status == 200
    shop.clock.now_s += 1
    assert thief.ask("/").status == 302


def test_after_the_person_has_left_or_got_another_key_though_another_program_wrote_it(shop, thief):
    by = signer(shop.staff.people(), INSPECTOR, PHRASES[INSPECTOR])
    give_role(shop.folder, by=by, name=MECHANIC, role=Role.VIEWER, now=NOW)
    assert thief.ask("/").status == 200  # a viewer from now on, which the door knows
    assert "viewer" in thief.ask("/").text
    new_pass_phrase(shop.folder, by=by, name=MECHANIC, pass_phrase="another one for him", now=NOW)
    assert thief.ask("/").status == 302


def test_after_the_person_has_left(shop, thief):
    by = signer(shop.staff.people(), INSPECTOR, PHRASES[INSPECTOR])
    give_role(shop.folder, by=by, name=MECHANIC, role=None, now=NOW)
    assert thief.ask("/").status == 302
    assert shop.log_in(shop.outside(), MECHANIC).status == 403


def test_a_new_pass_phrase_ends_every_session_but_the_one_it_was_typed_in(shop, owner, thief):
    new = "spar web station forty"
    form = {"pass_phrase": PHRASES[MECHANIC], "new_pass_phrase": new, "new_pass_phrase_again": new}
    assert shop.send(owner, "/people/pass-phrase", form).status == 302
    assert owner.ask("/").status == 200
    assert thief.ask("/").status == 302
    assert shop.log_in(shop.outside(), MECHANIC).status == 403
    assert shop.log_in(shop.outside(), MECHANIC, new).status == 302


def test_a_cookie_signs_nothing(shop, thief):
    """What is signed asks for the pass phrase again."""
    new = {"new_pass_phrase": "mine from now on", "new_pass_phrase_again": "mine from now on"}
    assert shop.send(thief, "/people/pass-phrase", new).status == 409
    assert shop.staff.people()[MECHANIC].key.opened(PHRASES[MECHANIC])


def test_the_session_is_gone_with_the_program(shop, owner):
    again = type(shop)(shop.folder)
    assert again.browser(INSPECTOR).ask("/").status == 200
    assert "hatchwright_session" in str(owner.cookies)
