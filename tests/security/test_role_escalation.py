"""Nobody does more than his role may: one door before every page, and the chain behind it."""

from __future__ import annotations

import itertools
import re

import pytest

from hatchwright.errors import RecordError
from hatchwright.records.people import Person, Role
from hatchwright.records.verify import verify
from hatchwright.workflow.people import Signer, give_role, name_person, new_pass_phrase, signer
from security.shop import INSPECTOR, MECHANIC, NOW, PHRASES, VIEWER

NEW = "another pass phrase"


def addresses() -> list[str]:
    """Of every page, with something in its named parts."""
    from hatchwright.web import urls

    found = []
    for pattern in urls.urlpatterns:
        path = str(pattern.pattern).replace("job/<str:name>", "job/alder.toml").replace("<int:number>", "1")
        found.append("/" + re.sub(r"<\w+:\w+>", "x", path))
    assert len(found) > 60
    return found


def files_of(shop) -> dict[str, bytes]:
    return {str(path): path.read_bytes() for path in shop.folder.rglob("*") if path.is_file()}


def test_a_viewer_sends_nothing_to_any_page(shop):
    """Every page that there is, also one that is added tomorrow: who sends something is stopped before its view."""
    viewer, before = shop.browser(VIEWER), files_of(shop)
    own = {"/leave", "/login", "/people/pass-phrase"}
    open_to_all = {path for path in addresses() if path.startswith("/static/")}
    for path in set(addresses()) - own - open_to_all:
        for how in ({}, {"hx_request": "true"}):
            answer = viewer.ask(path, {"title": "mine", "text": "mine"}, **how)
            assert answer.status == 403, path
            assert "viewer" in answer.text, path
    assert files_of(shop) == before


def test_only_an_inspector_sends_anything_to_the_list_of_people(shop):
    mechanic, seq = shop.browser(MECHANIC), len(shop.staff.people())
    form = {"name": "D. Friend", "role": "inspector", "pass_phrase": PHRASES[MECHANIC], **again(NEW)}
    for path in ("/people/name", "/people/role", "/people/key"):
        answer = shop.send(
            mechanic, path, {**form, "name": MECHANIC if path != "/people/name" else "D. Friend"}
        )
        assert answer.status == 403, path
        assert "mechanic" in answer.text
    assert len(shop.staff.people()) == seq
    assert shop.staff.people()[MECHANIC].role is Role.MECHANIC
    page = mechanic.ask("/people").text
    assert "/people/pass-phrase" in page
    assert "/people/name" not in page


def again(phrase: str) -> dict[str, str]:
    return {"new_pass_phrase": phrase, "new_pass_phrase_again": phrase}


def test_boxes_that_no_form_has_change_no_role(shop):
    mechanic = shop.browser(MECHANIC)
    more = {
        "name": INSPECTOR,
        "role": "inspector",
        "certificate": "IA 1",
        "by": INSPECTOR,
        "author": INSPECTOR,
    }
    form = {**more, "pass_phrase": PHRASES[MECHANIC], **again(NEW)}
    assert shop.send(mechanic, "/people/pass-phrase", form).status == 302
    people = shop.staff.people()
    assert (people[MECHANIC].role, people[MECHANIC].certificate) == (Role.MECHANIC, "")
    assert people[MECHANIC].key.opened(NEW)
    assert people[INSPECTOR].key.opened(PHRASES[INSPECTOR])


def test_an_inspector_signs_with_his_own_pass_phrase_and_no_other(shop):
    inspector = shop.browser(INSPECTOR)
    form = {"name": MECHANIC, "role": "inspector"}
    for phrase in ("", PHRASES[MECHANIC], "wrong wrong wrong"):
        assert shop.send(inspector, "/people/role", {**form, "pass_phrase": phrase}).status == 409
    assert shop.staff.people()[MECHANIC].role is Role.MECHANIC
    for role in ("owner", "INSPECTOR", "", "inspector\n"):
        typed = {**form, "role": role, "pass_phrase": PHRASES[INSPECTOR]}
        assert shop.send(inspector, "/people/role", typed).status == 409
    assert shop.send(inspector, "/people/role", {**form, "pass_phrase": PHRASES[INSPECTOR]}).status == 302
    assert shop.staff.people()[MECHANIC].role is Role.INSPECTOR


def test_the_last_inspector_stays(shop):
    inspector = shop.browser(INSPECTOR)
    for role in ("mechanic", "left"):
        form = {"name": INSPECTOR, "role": role, "pass_phrase": PHRASES[INSPECTOR]}
        assert "only inspector" in shop.send(inspector, "/people/role", form).text
    assert shop.staff.people()[INSPECTOR].role is Role.INSPECTOR


@pytest.mark.parametrize("who", [MECHANIC, VIEWER])
def test_past_every_page_the_chain_itself_refuses(shop, who):
    """Whoever calls the work itself with his own key, as another program could."""
    by = signer(shop.staff.people(), who, PHRASES[who])
    lied = Signer(Person(by.person.name, Role.INSPECTOR, "IA 1", by.person.key), by.key)
    posing = Signer(shop.staff.people()[INSPECTOR], by.key)
    for given in (by, lied, posing):
        for attack in (
            lambda by=given: name_person(
                shop.folder, by=by, name="D. Friend", role=Role.INSPECTOR, pass_phrase=NEW, now=NOW
            ),
            lambda by=given: give_role(shop.folder, by=by, name=who, role=Role.INSPECTOR, now=NOW),
            lambda by=given: give_role(shop.folder, by=by, name=VIEWER, role=None, now=NOW),
            lambda by=given: new_pass_phrase(shop.folder, by=by, name=INSPECTOR, pass_phrase=NEW, now=NOW),
        ):
            with pytest.raises(RecordError):
                attack()
    people = shop.staff.people()
    assert {name: one.role for name, one in people.items()} == dict(
        zip((INSPECTOR, MECHANIC, VIEWER), (Role.INSPECTOR, Role.MECHANIC, Role.VIEWER), strict=True)
    )


def test_each_role_may_what_those_before_it_may_and_who_left_nothing(shop):
    person = shop.staff.people()[VIEWER]
    order = (Role.VIEWER, Role.MECHANIC, Role.INSPECTOR)
    for (k, own), (n, least) in itertools.product(enumerate(order), enumerate(order)):
        assert Person(person.name, own, "", person.key).may(least) == (k >= n)
        assert not Person(person.name, None, "", person.key).may(least)


def test_what_was_named_here_stands_in_a_sound_chain(shop):
    from hatchwright.records.store import Store

    inspector = shop.browser(INSPECTOR)
    form = {
        "name": "D. Friend",
        "role": "mechanic",
        "certificate": "A&P 1",
        "pass_phrase": PHRASES[INSPECTOR],
    }
    assert shop.send(inspector, "/people/name", {**form, **again(NEW)}).status == 302
    store = Store.opened(shop.folder)
    assert verify(store).is_sound
    last = store.last()
    assert (last.author, last.said["name"], last.is_signed) == (INSPECTOR, "D. Friend", True)
    assert shop.log_in(shop.outside(), "D. Friend", NEW).status == 302
