"""What is said stands at the end of the chain, on both databases; what verify would find at fault is never let in."""

from __future__ import annotations

import hashlib
import json
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta

import pytest

from hatchwright.errors import RecordError
from hatchwright.records.database import PLACE
from hatchwright.records.entry import FIRST_PREV
from hatchwright.records.kinds import Kind
from hatchwright.records.people import Role
from hatchwright.records.store import Store, sha256_of
from hatchwright.records.verify import verify
from tests.records.conftest import INSPECTOR, MECHANIC, NOW


def refused(call, *args, **more) -> str:
    """The id of the sentence that refuses it."""
    with pytest.raises(RecordError) as caught:
        call(*args, **more)
    assert str(caught.value)  # and it can be told
    return caught.value.what.id


def test_the_hashes_are_those_that_the_decision_describes(shop):
    """By hand from what docs/adr/0029 says: SHA-256 over the canonical text, the next over hash and signature."""
    first, second, third = (
        *shop.store.entries(),
        shop.says(Kind.SIGNED, "alder.toml", {"ring": "C", "bay": 3}),
    )
    assert (first.prev, third.body) == (FIRST_PREV, '{"bay":3,"ring":"C"}')
    assert second.prev == hashlib.sha256((first.hash + first.signature).encode()).hexdigest()
    fields = {
        name: getattr(third, name) for name in ("about", "at", "author", "body", "key", "kind", "prev", "seq")
    }
    text = json.dumps(fields, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    assert third.hash == hashlib.sha256(text.encode()).hexdigest()


def test_what_was_said_is_read_again_as_it_was_said(shop, folder):
    paper = b"%PDF-1.7 \x00\xff not text"
    body = {
        "papers": [{"name": "card.pdf", "sha256": sha256_of(paper)}],
        "said": 'ü "quoted"\n\x00 \U0001f529',
    }
    said = shop.says(Kind.SIGNED, "älder.toml", body, kept={sha256_of(paper): paper})
    again = Store.opened(folder)
    assert again.entry(said.seq) == said == again.last()
    assert list(again.entries(about="älder.toml", kind=Kind.SIGNED)) == [said]
    assert said.said == body
    assert again.kept(sha256_of(paper)) == paper
    assert again.newest() == {"": (2, 2), "älder.toml": (3, 3)}
    assert {name: person.role for name, person in again.people().items()} == {
        INSPECTOR: Role.INSPECTOR, MECHANIC: Role.MECHANIC
    }  # fmt: skip
    shop.says(Kind.REVISION, "älder.toml", {}, signs=False)
    assert (again.newest()["älder.toml"], again.newest_seq("älder.toml")) == ((4, 3), 4)
    assert refused(again.kept, "0" * 64) == "records.bytes_gone"
    assert verify(again, printed=said.head).printed_seq == 3


def test_who_may_not_say_it_is_refused_and_nothing_is_written(shop, keys):
    head = shop.store.head()
    assert refused(shop.says, Kind.SIGNED, "a.toml", {}, signs=False) == "records.unsigned"
    assert refused(shop.names, "C. Guest", Role.VIEWER, MECHANIC, MECHANIC) == "records.verify.key_of_another"
    assert refused(shop.names, MECHANIC, Role.INSPECTOR, MECHANIC) == "records.verify.may_not_name"
    assert (
        refused(shop.names, MECHANIC, Role.MECHANIC, MECHANIC, certificate="1 IA")
        == "records.verify.may_not_name"
    )
    assert refused(shop.names, INSPECTOR, None, MECHANIC) == "records.verify.may_not_name"
    keys_swapped = shop.keys | {MECHANIC: keys[INSPECTOR]}
    shop.keys = keys_swapped
    assert refused(shop.says, Kind.SIGNED, "a.toml", {}) == "records.verify.not_theirs"
    shop.keys = keys
    nobody = {"author": "D. Nobody", "now": shop.now, "key": keys[MECHANIC][1]}
    assert refused(shop.store.add, Kind.SIGNED, "a.toml", {}, **nobody) == "records.verify.not_theirs"
    assert shop.store.head() == head
    shop.names(MECHANIC, Role.VIEWER, INSPECTOR)
    assert refused(shop.says, Kind.SIGNED, "a.toml", {}) == "records.verify.may_not_sign"
    shop.names(MECHANIC, None, INSPECTOR)
    assert refused(shop.says, Kind.SIGNED, "a.toml", {}) == "records.verify.not_theirs"
    assert verify(shop.store).is_sound


def test_the_first_to_sign_names_himself_and_no_viewer(store, keys):
    from tests.records.conftest import Shop

    shop = Shop(store, keys)
    assert refused(shop.says, Kind.SIGNED, "a.toml", {}) == "records.verify.not_theirs"
    assert refused(shop.names, INSPECTOR, Role.INSPECTOR, MECHANIC) == "records.verify.not_theirs"
    assert refused(shop.names, MECHANIC, Role.VIEWER, MECHANIC) == "records.verify.may_not_name"
    shop.names(MECHANIC, Role.MECHANIC, MECHANIC)
    shop.names(INSPECTOR, Role.INSPECTOR, MECHANIC)  # a shop without an inspector, and from here on one with
    assert refused(shop.names, INSPECTOR, None, MECHANIC) == "records.verify.may_not_name"
    assert verify(store).is_sound


def test_a_name_that_no_database_holds_is_refused_by_both(shop):
    for name in ("a\x00.toml", "half \udcff.toml", "x" * 256, "two\nlines.toml"):
        assert refused(shop.says, Kind.REVISION, name, {}, signs=False) == "records.name_unfit"
    shop.says(Kind.REVISION, "é" * 127 + "x", {}, signs=False)


def test_bytes_that_are_not_there_are_not_spoken_of(shop):
    for kept in ({}, {sha256_of(b"x"): b"y"}):
        with pytest.raises(ValueError):
            shop.says(Kind.REVISION, "a.toml", {"file": {"sha256": sha256_of(b"x")}}, signs=False, kept=kept)
    assert verify(shop.store).entries == 2


def test_a_clock_that_was_set_back_is_told_and_nothing_is_lost(shop):
    head = shop.store.head()
    assert (
        refused(shop.store.add, Kind.REVISION, "a.toml", {}, author=MECHANIC, now=NOW) == "records.clock_back"
    )
    assert shop.store.head() == head
    shop.store.add(Kind.REVISION, "a.toml", {}, author=MECHANIC, now=shop.now + timedelta(seconds=1))
    assert verify(shop.store).is_sound


def test_a_time_in_the_future_is_put_right_by_a_signature_alone(shop):
    shop.now = NOW + timedelta(days=400)
    ahead = shop.says(Kind.REVISION, "a.toml", {}, signs=False)
    now, was = NOW + timedelta(days=1), {"clock_was": ahead.at}
    by, key = MECHANIC, shop.keys[MECHANIC][1]
    for kind, body, signer in (
        (Kind.STORE, was, None),
        (Kind.STORE, {"clock_was": "2026-03-09T14:05:00Z"}, key),
        (Kind.SIGNED, was, key),
    ):
        assert refused(shop.store.add, kind, "", body, author=by, now=now, key=signer) == "records.clock_back"
    shop.store.add(Kind.STORE, "", was, author=by, now=now, key=key)
    shop.now = now
    shop.says(Kind.SIGNED, "a.toml", {})
    assert refused(shop.store.add, Kind.REVISION, "a.toml", {}, author=by, now=now) == "records.clock_back"
    assert verify(shop.store).is_sound


def test_what_was_added_meanwhile_is_told_and_nothing_written_over_it(shop, folder):
    seen = shop.says(Kind.REVISION, "a.toml", {"by": "one"}, signs=False).seq
    other = Store.opened(folder)
    other.add(Kind.REVISION, "a.toml", {"by": "two"}, author=INSPECTOR, now=shop.now, after=seen)
    assert (
        refused(shop.says, Kind.REVISION, "a.toml", {}, signs=False, after=seen) == "records.added_meanwhile"
    )
    assert [entry.said for entry in other.entries(about="a.toml")] == [{"by": "one"}, {"by": "two"}]


def test_eight_who_open_a_new_store_at_once_and_write_make_one_chain(folder):
    def work(who: int) -> list[int]:
        store = Store.opened(folder)
        try:
            return [
                store.add(Kind.REVISION, f"{who}.toml", {"n": n}, author=MECHANIC, now=NOW).seq for n in range(12)
            ]  # fmt: skip
        finally:
            store.close()

    with ThreadPoolExecutor(8) as pool:
        numbers = [seq for seqs in pool.map(work, range(8)) for seq in seqs]
    found = verify(Store.opened(folder))
    assert (found.is_sound, found.entries, sorted(numbers)) == (True, 96, list(range(1, 97)))


def test_looking_makes_no_store(tmp_path):
    assert not Store.is_there(tmp_path)
    assert refused(Store.as_it_is, tmp_path) == "records.none_there"
    assert refused(Store.opened, tmp_path / "nowhere") == "records.no_folder"
    assert list(tmp_path.iterdir()) == []
    (tmp_path / PLACE).mkdir()
    assert refused(Store.as_it_is, tmp_path) == "records.none_there"


@pytest.mark.parametrize(
    "text", ["", "database = 3", 'database = "mysql://a/b"', 'database = "postgresql://host"', "not toml [", "\udcff"]
)  # fmt: skip
def test_a_setting_that_names_no_database_is_told(tmp_path, text):
    (tmp_path / PLACE).mkdir()
    (tmp_path / PLACE / "database.toml").write_bytes(text.encode("utf-8", "surrogateescape"))
    assert refused(Store.opened, tmp_path) == "records.setting_unread"


def test_a_computer_without_the_driver_of_a_server_is_told(tmp_path):
    (tmp_path / PLACE).mkdir()
    (tmp_path / PLACE / "database.toml").write_text('database = "postgresql://shop@nowhere.invalid/records"')
    script = (
        "import sys; sys.modules |= dict.fromkeys(('psycopg', 'psycopg2'))\n"
        "from pathlib import Path\nfrom hatchwright.errors import RecordError\n"
        "from hatchwright.records.store import Store\n"
        "try: Store.opened(Path(sys.argv[1]))\nexcept RecordError as error: print(error.what.id)"
    )
    done = subprocess.run(
        [sys.executable, "-c", script, str(tmp_path)], capture_output=True, text=True, check=False
    )
    assert (done.stdout, done.stderr) == ("records.no_driver\n", "")


def test_a_chain_is_taken_over_whole_or_not_at_all(shop, new_folder):
    paper = b"%PDF"
    shop.says(Kind.SIGNED, "a.toml", {"sha256": sha256_of(paper)}, kept={sha256_of(paper): paper})
    shop.says(Kind.REVISION, "a.toml", {}, signs=False)
    chain, kept = list(shop.store.entries()), list(shop.store.all_kept())
    target = Store.opened(new_folder())
    assert refused(target.fill, [*chain[:2], chain[3]], kept) == "records.not_sound"
    assert refused(target.fill, chain, []) == "records.bytes_gone"
    assert refused(target.fill, chain, [(kept[0][0], b"%PDG")]) == "records.bytes_gone"
    assert target.last() is None
    target.fill(chain, kept)
    assert (list(target.entries()), target.newest(), target.kept(kept[0][0])) == (
        chain,
        shop.store.newest(),
        paper,
    )
    assert verify(target, printed=shop.store.head()).is_sound
    assert refused(target.fill, chain, kept) == "records.not_empty"
