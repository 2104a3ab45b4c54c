"""A session is begun by the login and by nothing before it."""

from __future__ import annotations

import copy

from security.browsing import form_of
from security.shop import MECHANIC, VIEWER

SESSION, TOKEN = "__Host-hatchwright_session", "__Host-hatchwright_csrf"


def test_a_cookie_that_somebody_planted_is_not_taken_over(shop):
    planted = shop.browser(VIEWER)  # the attacker's own session
    victim = shop.outside()
    victim.cookies = copy.deepcopy(planted.cookies)
    shop.send(victim, "/leave", {}, page="/")
    victim.cookies = copy.deepcopy(planted.cookies)  # planted again, dead or alive
    assert shop.log_in(victim, MECHANIC).status == 302
    assert victim.cookies[SESSION].value != planted.cookies[SESSION].value
    assert planted.ask("/").status == 302
    assert MECHANIC in victim.ask("/").text


def test_a_live_session_is_not_turned_into_another_persons(shop):
    planted = shop.browser(VIEWER)
    victim = shop.outside()
    form = victim.ask("/login")  # opened before the cookie was planted
    assert form.status == 200
    token = form_of(form.text, "/login")
    victim.cookies[SESSION] = copy.deepcopy(planted.cookies[SESSION])
    typed = {"name": MECHANIC, "pass_phrase": "doubler flange seven oak"}
    assert victim.ask("/login", {**token, **typed}).status == 302
    assert victim.cookies[SESSION].value != planted.cookies[SESSION].value
    assert MECHANIC not in planted.ask("/").text


def test_nothing_is_kept_for_who_only_looks_at_the_login(shop):
    answer = shop.outside().ask("/login")
    assert set(answer.cookies) == {TOKEN}


def test_a_form_of_before_the_login_can_be_sent_after_it_and_one_that_was_planted_can_not(shop):
    """Its cookie has a name that only this host may set, over TLS. Source: RFC 6265bis, 4.1.3.2, from memory."""
    shown = shop.outside()
    assert TOKEN.startswith("__Host-")
    before = form_of(shown.ask("/login").text, "/login")["csrfmiddlewaretoken"]
    planted = form_of(shop.outside().ask("/login").text, "/login")["csrfmiddlewaretoken"]
    shop.log_in(shown, MECHANIC)
    assert shown.ask("/leave", {"csrfmiddlewaretoken": planted}).status == 403
    assert shown.ask("/leave", {"csrfmiddlewaretoken": before}).status == 302


def test_a_name_that_was_made_up_is_no_session(shop):
    made_up = shop.browser(MECHANIC)
    made_up.cookies[SESSION].set(SESSION, "a" * 32, "a" * 32)
    assert made_up.ask("/").status == 302
    shop.log_in(made_up, MECHANIC)
    assert made_up.cookies[SESSION].value != "a" * 32
