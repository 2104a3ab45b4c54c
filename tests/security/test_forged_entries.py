"""Entries of the chain are made by the program alone: nothing sent becomes one, and a forged row lets nobody in."""

from __future__ import annotations

import json

import pytest

from hatchwright.records.entry import hash_of
from hatchwright.records.keys import new_key
from hatchwright.records.people import Person, Role
from hatchwright.records.store import Store
from hatchwright.records.verify import verify
from security.browsing import form_of
from security.shop import INSPECTOR, MECHANIC, PHRASES

FORGED = "E. Forger"
PHRASE = "nobody named me here"


def row_of(store: Store, author: str, public: str, person: Person, signature: str) -> dict[str, object]:
    """What somebody with the database alone can write at the end of the chain: every hash is right."""
    from hatchwright.records.canonical import canonical

    last = store.last()
    held = {
        "seq": last.seq + 1, "prev": last.link, "kind": "person", "about": "", "body": canonical(person.as_body()),
        "author": author, "at": last.at, "key": public,
    }  # fmt: skip
    return {**held, "hash": hash_of(**held), "signature": signature}


@pytest.fixture(scope="module")
def forged_key():
    return new_key(PHRASE)


@pytest.mark.parametrize("how", ["unsigned", "signed by himself", "in the inspector's name"])
def test_a_row_written_into_the_database_lets_nobody_in_and_is_found(shop, forged_key, how):
    store = Store.opened(shop.folder)
    signing, person = forged_key.opened(PHRASE), Person(FORGED, Role.INSPECTOR, "", forged_key)
    inspector = shop.staff.people()[INSPECTOR]
    author = INSPECTOR if how == "in the inspector's name" else FORGED
    public = {"unsigned": "", "in the inspector's name": inspector.key.public}.get(how, forged_key.public)
    row = row_of(store, author, public, person, "")
    if how != "unsigned":
        row["signature"] = signing.sign(str(row["hash"]))
    with store.connection.cursor() as cursor:
        columns = ", ".join(f'"{name}"' for name in row)
        marks = ", ".join("%s" for _ in row)
        cursor.execute(f"INSERT INTO records_entry ({columns}) VALUES ({marks})", list(row.values()))
        cursor.execute("UPDATE records_newest SET seq = %s WHERE about = ''", [row["seq"]])
    assert FORGED not in shop.staff.people()
    assert shop.log_in(shop.outside(), FORGED, PHRASE).status == 403
    assert shop.log_in(shop.outside(), INSPECTOR).status == 302  # and nobody is locked out
    assert not verify(store).is_sound


def test_what_is_sent_becomes_no_entry(shop):
    """Fields of an entry among those of a form."""
    store = Store.opened(shop.folder)
    before = store.last()
    mechanic = shop.browser(MECHANIC)
    entry = {
        "seq": "99",
        "prev": before.link,
        "kind": "person",
        "hash": "0" * 64,
        "key": "0" * 64,
        "signature": "0" * 128,
    }
    entry |= {
        "body": json.dumps({"name": FORGED, "role": "inspector"}),
        "author": INSPECTOR,
        "at": "2020-01-01T00:00:00Z",
    }
    phrase = {"pass_phrase": PHRASES[MECHANIC], "new_pass_phrase": PHRASE, "new_pass_phrase_again": PHRASE}
    assert shop.send(mechanic, "/people/pass-phrase", {**entry, **phrase}).status == 302
    last = store.last()
    assert (last.seq, last.author, last.said["name"]) == (before.seq + 1, MECHANIC, MECHANIC)
    assert last.at > before.at
    assert verify(store).is_sound


def test_who_changed_a_job_is_who_is_logged_in_whatever_the_form_says(shop):
    mechanic, inspector = shop.browser(MECHANIC), shop.browser(INSPECTOR)
    page = "/job/alder.toml/text"
    ours, theirs = form_of(mechanic.ask(page).text, "/text"), form_of(inspector.ask(page).text, "/text")
    text = (
        (shop.folder / "alder.toml").read_text(encoding="utf-8").replace("Inspection opening", "By mechanic")
    )
    lied = {"by": INSPECTOR, "author": INSPECTOR, "name": INSPECTOR}
    assert mechanic.ask(page, {**ours, **lied, "text": text}).status == 302
    refused = inspector.ask(page, {**theirs, "text": text.replace("By mechanic", "By inspector")})
    assert refused.status == 409
    assert f"{MECHANIC} has saved a change" in refused.text
    assert "By mechanic" in (shop.folder / "alder.toml").read_text(encoding="utf-8")
