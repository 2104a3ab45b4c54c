"""A body or an entry that is too large is refused before anybody works on it, from outside and from inside."""

from __future__ import annotations

import pytest

from hatchwright.records import keys
from hatchwright.web.handler import LARGEST_BODY_BYTES
from security.shop import MECHANIC, PHRASES


def test_a_login_that_is_too_large_is_refused_unread(shop, monkeypatch):
    monkeypatch.setattr(keys, "Argon2id", None)  # nobody gets as far as a key
    answer = shop.outside().ask("/login", {"pass_phrase": "x" * LARGEST_BODY_BYTES})
    assert answer.status == 413


def test_what_only_a_picture_may_weigh_is_not_taken_in_from_who_is_not_in(shop):
    """It stays on the disk where it came: taken apart, it took several times its size of memory."""
    outside, form = shop.outside(), {"t": "x" * (LARGEST_BODY_BYTES + 1)}
    answer = outside.ask("/job/alder.toml/scan", form)
    assert answer.status == 403
    assert len(answer.body) < 10_000
    assert "You are logged out" in answer.text
    for path in ("/static/x/scan", "/login/scan", "/scan"):
        assert outside.ask(path, form).status == 413


def test_an_endless_name_or_pass_phrase_is_answered_like_any_other_and_not_shown_again(shop):
    shown = shop.outside()
    answer = shop.log_in(shown, "n" * 500_000, "p" * 500_000)
    assert answer.status == 403
    assert len(answer.body) < 10_000


@pytest.mark.parametrize("length", [None, "-1", "x", "9" * 400])
def test_a_length_that_is_none_is_refused(shop, length):
    sent = {"content_length": length} if length else {"transfer_encoding": "chunked"}
    assert shop.outside().ask("/login", {"name": MECHANIC}, **sent).status in (411, 413)


def test_a_new_pass_phrase_is_neither_too_short_nor_endless(shop):
    mechanic = shop.browser(MECHANIC)
    for new in ("short", " " * 40, "x" * 1001):
        form = {"pass_phrase": PHRASES[MECHANIC], "new_pass_phrase": new, "new_pass_phrase_again": new}
        assert shop.send(mechanic, "/people/pass-phrase", form).status == 409
    assert shop.staff.people()[MECHANIC].key.opened(PHRASES[MECHANIC])
