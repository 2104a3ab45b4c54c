"""`hatchwright serve`: the first people are named at its terminal; it serves nobody before that."""

from __future__ import annotations

import pytest
from click.testing import CliRunner

from hatchwright.cli.main import hatchwright
from hatchwright.errors import EntryError, RecordError
from hatchwright.records.people import Role
from hatchwright.records.store import Store
from hatchwright.records.verify import verify
from hatchwright.web.shop_server import serve_shop
from hatchwright.workflow.people import people_of

FIRST, SECOND = "rivet gauge hangar nine", "doubler flange seven oak"


def named(folder, *options: str, typed: tuple[str, ...]):
    """The command with what is typed at its questions, each on its line."""
    lines = "".join(f"{line}\n" for line in typed)
    call = ["serve", str(folder), *options]
    return CliRunner().invoke(hatchwright, call, input=lines)


def test_the_first_is_an_inspector_and_names_the_next(tmp_path):
    first = named(tmp_path, "--add", "A. Inspector", "--certificate", "IA 1", typed=(FIRST, FIRST))
    assert (first.exit_code, first.stdout) == (0, "Named A. Inspector, inspector.\n")
    assert FIRST not in first.output
    second = named(tmp_path, "--add", "B. Mechanic", typed=("A. Inspector", FIRST, SECOND, SECOND))
    assert second.stdout == "Named B. Mechanic, mechanic.\n"
    people = people_of(tmp_path)
    assert {one.name: one.role for one in people.values()} == {
        "A. Inspector": Role.INSPECTOR,
        "B. Mechanic": Role.MECHANIC,
    }
    assert people["A. Inspector"].certificate == "IA 1"
    assert verify(Store.opened(tmp_path)).is_sound
    by_mechanic = named(tmp_path, "--add", "C. Friend", typed=("B. Mechanic", SECOND, SECOND, SECOND))
    assert isinstance(by_mechanic.exception, RecordError)
    wrong = named(tmp_path, "--add", "C. Friend", typed=("A. Inspector", SECOND, SECOND, SECOND))
    assert "don't go together" in str(wrong.exception)
    assert set(people_of(tmp_path)) == {"A. Inspector", "B. Mechanic"}


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (("--add", "A", "--role", "mechanic"), "first person named is an inspector"),
        (("--role", "mechanic"), "go with --add"),
        (("--certificate", "IA 1"), "go with --add"),
        (("--port", "99999"), "99999"),
        (("--add", "A", "--role", "owner"), "owner"),
    ],
)
def test_what_does_not_go_together_is_refused_and_makes_no_records(tmp_path, options, words):
    refused = named(tmp_path, *options, typed=(FIRST, FIRST))
    assert refused.exit_code == 2
    assert words in refused.output
    assert not Store.is_there(tmp_path)


def test_a_short_pass_phrase_names_nobody(tmp_path):
    assert "12" in str(named(tmp_path, "--add", "A", typed=("short", "short")).exception)
    assert people_of(tmp_path) == {}


def test_where_nobody_could_name_others_nothing_is_served(tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    (tmp_path / "jobs").mkdir()
    with pytest.raises(EntryError, match="no inspector"):
        serve_shop(tmp_path / "jobs", host="127.0.0.1", port=0)
    with pytest.raises(EntryError, match="no such folder"):
        serve_shop(tmp_path / "none", host="127.0.0.1", port=0)
