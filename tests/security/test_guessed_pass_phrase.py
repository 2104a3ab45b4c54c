"""Guessing a pass phrase is slow from one address and from many, and locks out nobody who came in before."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor

import pytest

from hatchwright.errors import RecordError
from hatchwright.web.throttle import FREE_TRIES, MOST_WAIT_S, Throttle, network_of
from security.shop import INSPECTOR, MECHANIC, PHRASES, Clock

GUESS = "guess after guess after guess"


def test_after_a_few_guesses_even_the_right_pass_phrase_is_not_looked_at_until_its_time(shop):
    guesser = shop.outside()
    assert [shop.log_in(guesser, MECHANIC, GUESS).status for _ in range(FREE_TRIES)] == [403] * FREE_TRIES
    refused = shop.log_in(guesser, MECHANIC)
    assert refused.status == 429
    assert guesser.ask("/").status == 302
    shop.clock.now_s += MOST_WAIT_S
    assert shop.log_in(guesser, MECHANIC).status == 302


def test_who_came_in_before_is_not_locked_out_by_guesses_at_his_name(shop):
    shop.browser(MECHANIC, "192.0.2.10")
    for k in range(40):
        shop.log_in(shop.outside(f"192.0.2.{100 + k}"), MECHANIC, GUESS)
    assert shop.log_in(shop.outside("192.0.2.200"), MECHANIC).status == 429  # from anywhere else he waits
    assert shop.log_in(shop.outside("192.0.2.10"), MECHANIC).status == 302


def test_guesses_from_one_address_lock_out_nobody_elsewhere_and_none_who_came_in_there(shop):
    shared = "192.0.2.10"
    shop.browser(INSPECTOR, shared)
    for k in range(FREE_TRIES + 3):
        shop.log_in(shop.outside(shared), f"nobody {k}", GUESS)
    assert shop.log_in(shop.outside(shared), MECHANIC).status == 429
    assert shop.log_in(shop.outside(shared), INSPECTOR).status == 302
    assert shop.log_in(shop.outside("192.0.2.11"), MECHANIC).status == 302


def test_what_a_request_says_of_its_address_counts_for_nothing(shop):
    for k in range(FREE_TRIES):
        told = {"x_forwarded_for": f"198.51.100.{k}", "forwarded": f"for=198.51.100.{k}"}
        shop.log_in(shop.outside(), f"nobody {k}", GUESS, **told)
    assert shop.log_in(shop.outside(), MECHANIC, x_forwarded_for="198.51.100.99").status == 429


def test_a_stolen_session_guesses_no_faster(shop):
    thief = shop.browser(MECHANIC)
    new = {"new_pass_phrase": GUESS, "new_pass_phrase_again": GUESS}
    tries = [
        shop.send(thief, "/people/pass-phrase", {**new, "pass_phrase": f"{GUESS} {k}"}).status
        for k in range(FREE_TRIES + 2)
    ]
    assert tries == [409] * FREE_TRIES + [429] * 2
    assert shop.staff.people()[MECHANIC].key.opened(PHRASES[MECHANIC])


def test_a_burst_is_counted_before_its_first_answer():
    """However many come at once, so many are looked at as if they had come one by one."""
    throttle = Throttle(Clock())
    with ThreadPoolExecutor(8) as threads:
        waits = list(threads.map(lambda _: throttle.wait_s("A", "192.0.2.1"), range(200)))
    assert waits.count(0.0) == FREE_TRIES


def test_in_a_day_hardly_more_than_a_guess_a_minute_and_never_a_longer_wait():
    clock = Clock()
    throttle, looked_at, longest = Throttle(clock), 0, 0.0
    end_s = clock.now_s + 24 * 3600
    while clock.now_s < end_s:
        wait_s = throttle.wait_s("A", f"192.0.2.{looked_at % 250}")  # each time from elsewhere
        looked_at += wait_s == 0
        longest = max(longest, wait_s)
        clock.now_s += wait_s or 0.001
    assert looked_at <= 24 * 60 + 2 * FREE_TRIES
    assert longest <= MOST_WAIT_S


def test_names_that_nobody_has_fill_no_memory_and_push_out_no_count():
    throttle = Throttle(Clock())
    for k in range(FREE_TRIES):
        throttle.wait_s("A", f"192.0.2.{k}")
    for k in range(9_000):
        throttle.wait_s(f"x{k}", "198.51.100.1")
    assert throttle.wait_s("A", "203.0.113.1") > 0


@pytest.mark.parametrize(
    ("address", "network"),
    [
        ("192.0.2.7", "192.0.2.7"),
        ("::ffff:192.0.2.7", "192.0.2.7"),
        ("2001:db8:1:2:3:4:5:6", "2001:db8:1:2::"),  # RFC 4291, 2.5.4: 64 bits of network, 64 of interface
        ("fe80::1%eth0", "fe80::"),
    ],
)
def test_whoever_has_one_address_of_a_network_has_them_all(address, network):
    assert network_of(address) == network


def test_an_empty_or_endless_pass_phrase_opens_nothing(shop):
    for phrase in ("", " ", "x" * 200_000):
        with pytest.raises(RecordError):
            shop.staff.signer(MECHANIC, phrase, "192.0.2.1")
