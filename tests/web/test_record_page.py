"""The page of a job's records: looking makes none, what is refused writes nothing, and no pass phrase comes back."""

from __future__ import annotations

import re

import pytest

from hatchwright.records.store import Store
from hatchwright.records.verify import verify
from tests.signing import DRAWN, INSPECTOR, NAME, OTHER_PHRASE, crew

PAGE = f"/job/{NAME}/records"


@pytest.fixture
def drawn(folder):
    (folder / NAME).write_text(DRAWN, encoding="utf-8")
    return folder


def send(client, does: str, **boxes: str):
    """Press a button of the page as it is."""
    html = client.get(PAGE).content.decode()
    held = {box: re.search(rf'name="{box}" value="([^"]*)"', html)[1] for box in ("base", "seen")}
    return client.post(f"{PAGE}/enter", {**held, "does": does, **boxes})


def told(answer) -> str:
    return answer.content.decode()


def test_looking_makes_no_records(drawn, client):
    assert client.get(PAGE).status_code == 200
    assert client.get(f"{PAGE}/1").status_code == 404
    assert not (drawn / "records").exists()


def test_a_record_is_made_once_and_opened_again_as_it_was(drawn, client):
    for _ in range(2):
        assert send(client, "record", name=INSPECTOR).status_code == 302
    (drawn / NAME).write_text(DRAWN.replace('".62"', '".63"'), encoding="utf-8")
    assert "Changed since" in told(client.get(PAGE))
    shown = told(client.get(f"{PAGE}/1"))
    assert "readonly" in shown
    assert client.get(f"{PAGE}/1/job").content == DRAWN.encode()
    store = Store.opened(drawn)
    assert verify(store).entries == 1
    store.close()


@pytest.mark.parametrize(
    "address",
    [f"{PAGE}/2", f"{PAGE}/1/other.pdf", f"{PAGE}/1/..%2Falder.toml", "/job/dogwood.toml/records/1"],
)
def test_what_was_not_kept_of_this_job_is_not_handed_out(drawn, client, address):
    send(client, "record", name=INSPECTOR)
    assert client.get(address).status_code == 404


@pytest.mark.parametrize(
    ("does", "boxes"),
    [
        ("", {}),
        ("record", {"name": ""}),
        ("record", {"name": INSPECTOR, "base": "0" * 20}),
        ("sign:plan", {"name": INSPECTOR, "pass_phrase": "not the one at all"}),
        ("sign:work", {"name": INSPECTOR, "pass_phrase": OTHER_PHRASE}),
        ("sign:lunch", {"name": INSPECTOR, "pass_phrase": OTHER_PHRASE}),
        ("hold:left:data", {"name": INSPECTOR, "pass_phrase": OTHER_PHRASE, "initials": "BI"}),
        ("hold:right:data", {"name": INSPECTOR, "pass_phrase": OTHER_PHRASE, "initials": "BI"}),
        ("in:left", {"name": INSPECTOR, "pass_phrase": OTHER_PHRASE, "item-left": "bits", "n-left": "-1"}),
        ("in:left", {"name": INSPECTOR, "pass_phrase": OTHER_PHRASE, "item-left": "", "n-left": "3"}),
    ],
)
def test_what_is_refused_writes_nothing_and_says_no_pass_phrase(drawn, client, does, boxes):
    store, _, _ = crew(drawn)
    before = store.last()
    answer = send(client, does, **boxes)
    assert answer.status_code == 409
    assert "Nothing was recorded or signed" in told(answer)
    assert OTHER_PHRASE not in told(answer)
    assert "not the one at all" not in told(answer)
    assert store.last() == before
    store.close()


def test_the_first_who_signs_types_the_pass_phrase_twice(drawn, client):
    both = {"pass_phrase": OTHER_PHRASE, "pass_phrase_again": OTHER_PHRASE.upper()}
    answer = send(client, "in:left", name=INSPECTOR, **both, **{"item-left": "bits", "n-left": "3"})
    assert "two pass phrases differ" in told(answer)
    assert client.get(PAGE).content.count(b'name="pass_phrase_again"') == 1
    assert 'name="item-left" value="bits"' in told(answer)
    assert 'name="n-left" value="3"' in told(answer)
