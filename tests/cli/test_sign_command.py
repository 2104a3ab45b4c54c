"""The commands `record` and `sign`: what they say, how they end, and that a kept revision comes out as it went in."""

from __future__ import annotations

import json
from datetime import UTC, datetime, timedelta

import pytest
from click.testing import CliRunner

from hatchwright.cli.record import command as record
from hatchwright.cli.sign import command as sign
from hatchwright.errors import RecordError
from hatchwright.records.kinds import Kind
from hatchwright.records.store import Store
from hatchwright.records.verify import verify
from hatchwright.words.tell import tell
from tests.signing import AS_FILED, DRAWN, MECHANIC, NAME, PHRASE, job_of


@pytest.fixture
def call(tmp_path):
    job_of(tmp_path)

    def called(command, *options, typed=""):
        return CliRunner().invoke(command, [str(tmp_path / NAME), *options], input=typed)

    called.folder = tmp_path
    return called


def test_from_the_first_record_to_the_files_of_a_signed_plan(call):
    assert "nothing was recorded" in call(record, "--history").stderr.lower()
    assert not (call.folder / "records").exists()
    first = call(record, "--name", MECHANIC, "--note", "before the shift")
    assert first.exit_code == 0
    told = call(sign, "--for", "plan", "--name", MECHANIC, typed=f"{PHRASE}\n{PHRASE}\n")
    assert told.exit_code == 0
    assert "before anything is cut" in told.stdout
    assert call(sign, "--hold", "data", "--initials", "AM", typed=f"{PHRASE}\n").exit_code == 0
    assert call(sign, "--count-in", "drill bits", "6", typed=f"{PHRASE}\n").exit_code == 0
    (call.folder / NAME).write_text(AS_FILED)
    values = json.loads(call(record, "--history", "--json").stdout)
    assert [(one["signed_for"], one["signature_holds"]) for one in values] == [("plan", True), ("", False)]
    out = call.folder / "out"
    assert call(record, "--number", str(values[0]["number"]), "--out", str(out)).exit_code == 0
    assert (out / NAME).read_text() == DRAWN
    assert sorted(one.name for one in out.iterdir()) == sorted(
        [NAME, *(one["name"] for one in values[0]["files"])]
    )


def test_finished_work_with_open_holds_is_refused_and_nothing_is_named(call, capsys):
    with pytest.raises(SystemExit) as ended:
        sign.main([str(call.folder / NAME), "--for", "work", "--name", MECHANIC], standalone_mode=False)
    assert ended.value.code == 2
    told = capsys.readouterr().err
    assert "Final inspection: not initialed." in told
    assert "The plan was not signed." in told
    assert not (call.folder / "records").exists()


@pytest.mark.parametrize(
    ("command", "options"), [(record, ()), (sign, ("--for", "plan")), (sign, ("--hold", "data"))]
)
def test_without_a_name_it_is_told_which_option_takes_it_and_no_records_are_made(call, command, options):
    refused = call(command, *options)
    assert refused.exit_code != 0
    assert "Give your name with --name." in tell(refused.exception.as_fault("").remedy)
    assert not (call.folder / "records").exists()


def test_files_are_written_of_one_revision_only_and_nothing_is_recorded_instead(call):
    refused = call(record, "--name", MECHANIC, "--out", str(call.folder / "kept"))
    assert (refused.exit_code, "name it with --number" in refused.output) == (2, True)
    assert not (call.folder / "records").exists()


def test_one_thing_is_signed_at_a_time(call):
    assert call(sign, "--for", "plan", "--hold", "data").exit_code == 2


def test_a_time_that_has_not_come_yet_is_put_right_by_who_signs_for_it(call):
    assert call(sign, "--for", "plan", "--name", MECHANIC, typed=f"{PHRASE}\n{PHRASE}\n").exit_code == 0
    store, ahead = Store.opened(call.folder), datetime.now(UTC) + timedelta(days=400)
    with pytest.raises(RecordError, match="nothing has to be put right"):
        sign.main([str(call.folder / NAME), "--clock"], standalone_mode=False)
    store.add(Kind.REVISION, "other.toml", {}, author=MECHANIC, now=ahead)
    (call.folder / NAME).write_text(AS_FILED)
    refused = call(record, "--name", MECHANIC)
    assert "--clock" in str(refused.exception)
    told = call(sign, "--clock", typed=f"{PHRASE}\n")
    assert (told.exit_code, f"{ahead:%Y-%m-%d}" in told.stdout) == (0, True)
    assert call(record, "--name", MECHANIC).exit_code == 0
    assert verify(store).is_sound
