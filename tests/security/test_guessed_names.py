"""Nobody learns from a login which names there are: not by words, status, headers or the work that is done."""

from __future__ import annotations

import re

import pytest

from hatchwright.records import keys
from hatchwright.records.people import Role
from hatchwright.web.throttle import FREE_TRIES
from hatchwright.workflow.people import give_role, signer
from security.shop import INSPECTOR, MECHANIC, NOW, PHRASES, VIEWER

WRONG = "wrong wrong wrong wrong"


def answer_to(shop, name: str, address: str) -> tuple:
    answer = shop.log_in(shop.outside(address), name, WRONG)
    text = re.sub(r'name="csrfmiddlewaretoken" value="\w+"', "", answer.text).replace(name, "NAME")
    heads = {key: value for key, value in answer.headers if key not in ("set-cookie", "content-length")}
    return answer.status, text, heads, tuple(answer.cookies)


def test_a_name_that_nobody_has_is_answered_like_a_wrong_pass_phrase(shop):
    by = signer(shop.staff.people(), INSPECTOR, PHRASES[INSPECTOR])
    give_role(shop.folder, by=by, name=VIEWER, role=None, now=NOW)
    known = answer_to(shop, MECHANIC, "192.0.2.1")
    assert known[0] == 403
    assert answer_to(shop, "X. Nobody", "192.0.2.2") == known
    assert answer_to(shop, VIEWER, "192.0.2.3") == known  # who has left


def test_each_is_as_much_work(shop, monkeypatch):
    """The work is that of [RFC9106]; how often it is done and with how much memory is counted, not timed."""
    done = []
    before = keys.Argon2id

    def counted(**how):
        done.append((how["length"], how["iterations"], how["lanes"], how["memory_cost"]))
        return before(**how)

    monkeypatch.setattr(keys, "Argon2id", counted)
    for k, name in enumerate((MECHANIC, "X. Nobody", "", "y" * 5000)):
        answer_to(shop, name, f"192.0.2.{k}")
    assert len(done) == 4
    assert len(set(done)) == 1


def test_guesses_at_a_name_that_nobody_has_wait_alike(shop):
    for name in (MECHANIC, "X. Nobody"):
        statuses = [
            shop.log_in(shop.outside(f"192.0.2.{len(name) * 10 + k}"), name, WRONG).status
            for k in range(FREE_TRIES + 1)
        ]
        assert statuses == [403] * FREE_TRIES + [429]


@pytest.mark.parametrize(
    "path", ["/", "/people", "/job/alder.toml/", "/job/none.toml/", "/nowhere", "/enter/x"]
)
def test_who_is_outside_learns_neither_names_nor_jobs(shop, path):
    answer = shop.outside().ask(path)
    assert answer.status == 302
    assert answer.body == b""
    page = shop.outside().ask("/login").text
    assert not [name for name in (*PHRASES, *Role, "alder") if name in page]
