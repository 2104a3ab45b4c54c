"""A form of another page changes nothing on a shop server, and logs nobody in."""

from __future__ import annotations

import pytest

from hatchwright.records.people import Role
from security.browsing import HOST, form_of
from security.shop import INSPECTOR, MECHANIC, PHRASES, VIEWER

ROLE = {"name": VIEWER, "role": "inspector", "pass_phrase": PHRASES[INSPECTOR]}
FOREIGN = [
    {"origin": "https://evil.example"},
    {"origin": f"http://{HOST}"},  # the same host without TLS is another origin
    {"origin": f"https://{HOST}:9443"},
    {"origin": "null"},
    {"origin": f"https://{HOST}.evil.example"},
]


@pytest.mark.parametrize("heads", FOREIGN, ids=lambda heads: heads["origin"])
def test_not_even_with_cookie_and_token(shop, heads):
    inspector = shop.browser(INSPECTOR)
    token = form_of(inspector.ask("/people").text, "/people/role")
    assert inspector.ask("/people/role", {**token, **ROLE}, **heads).status == 403
    assert shop.staff.people()[VIEWER].role is Role.VIEWER


def test_without_a_token_or_with_one_of_another_session_nothing(shop):
    inspector, other = shop.browser(INSPECTOR), shop.browser(MECHANIC)
    token = form_of(other.ask("/people").text, "/people/pass-phrase")
    for sent in ({}, token, {"csrfmiddlewaretoken": ""}, {"csrfmiddlewaretoken": "a" * 64}):
        assert inspector.ask("/people/role", {**sent, **ROLE}).status == 403
    assert shop.staff.people()[VIEWER].role is Role.VIEWER


def test_nobody_is_logged_in_as_somebody_else_by_a_form_from_elsewhere(shop):
    """Or he would enter and sign in a session that the attacker chose."""
    victim = shop.outside()
    own = {"name": VIEWER, "pass_phrase": PHRASES[VIEWER]}
    assert victim.ask("/login", own).status == 403
    token = form_of(victim.ask("/login").text, "/login")
    assert victim.ask("/login", {**token, **own}, origin="https://evil.example").status == 403
    assert victim.ask("/").status == 302


def test_asking_changes_nothing(shop):
    inspector = shop.browser(INSPECTOR)
    for path in ("/people/name", "/people/role", "/people/key", "/people/pass-phrase", "/leave"):
        assert inspector.ask(f"{path}?name={VIEWER.replace(' ', '+')}&role=inspector").status == 405
    assert inspector.ask("/").status == 200
