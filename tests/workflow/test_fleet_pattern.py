"""A change of a fleet's pattern: taken where a line left it alone, told where it did not, never where one signed."""

from __future__ import annotations

import shutil
import tomllib
from datetime import UTC, datetime

import pytest

from hatchwright.errors import JobError
from hatchwright.job.file import load_job
from hatchwright.job.other_side import other_side
from hatchwright.records.keys import new_key
from hatchwright.records.kinds import Kind
from hatchwright.records.people import Person, Role
from hatchwright.records.store import Store
from hatchwright.workflow.fleet_entries import (
    new_fleet_text,
    with_aircraft,
    with_hours,
    with_stated,
    with_stock,
)
from hatchwright.workflow.fleet_folder import FleetFolder
from hatchwright.workflow.fleet_hours import hours_by_step
from hatchwright.workflow.fleet_lines import begin_fleet, make_jobs
from hatchwright.workflow.fleet_pattern import give_pattern, pattern_changes
from hatchwright.workflow.job_folder import ChangedElsewhereError, JobFolder, version_of
from tests.conftest import EXAMPLES

AIRCRAFT = "Registration\tSerial\nN101HW\t0001\nN102HW\t0002\n"
LEFT, RIGHT, SECOND_LEFT, SECOND_RIGHT = (
    f"wing-{registration}-{side}.toml" for registration in ("n101hw", "n102hw") for side in ("left", "right")
)


class Shop:
    """A folder with a pattern, and a fleet of two aircraft made from it."""

    def __init__(self, folder) -> None:
        self.folder = folder
        shutil.copy(EXAMPLES / "alder.toml", folder)
        self.fleets, self.jobs = FleetFolder(folder), JobFolder(folder)
        self.name = begin_fleet(
            self.fleets, self.jobs, "Wing", new_fleet_text("Wing", "alder.toml", AIRCRAFT)
        )
        self.made = tuple(line.job for _, line in self.fleets.fleet(self.name).lines)

    def data(self, name: str):
        return tomllib.loads((self.folder / name).read_text())

    def retype(self, name: str, old: str, new: str) -> None:
        text = (self.folder / name).read_text()
        assert old in text
        (self.folder / name).write_text(text.replace(old, new, 1))

    def changes(self):
        return pattern_changes(self.fleets, self.jobs, self.name)

    def by_job(self):
        return {one.line.line.job: one for one in self.changes().lines}

    def enter(self, change) -> str:
        return self.fleets.enter(self.name, version_of(self.fleets.read(self.name)), change)


@pytest.fixture
def shop(tmp_path):
    return Shop(tmp_path)


def fields(some) -> list[str]:
    return [one.field for one in some]


def test_each_side_is_a_job_of_its_own_by_the_same_mandate(shop):
    assert shop.made == (LEFT, RIGHT, SECOND_LEFT, SECOND_RIGHT)
    pattern = load_job(shop.folder / "alder.toml")
    for name in shop.made:
        job = load_job(shop.folder / name)
        assert job.aircraft.registration.lower() in name
        assert job.aircraft.side in name
        assert job.mandate == pattern.mandate  # one directive, in one revision
        assert (job.skin.measured, job.site, job.as_made, job.looks) == (None, None, None, ())
        assert "aircraft.side" not in job.samples  # a person named it
        assert "frame.origin" in job.samples
        # The other side lies where the mirrored job of the screen lies.
        like = pattern if job.aircraft.side == pattern.aircraft.side else other_side(pattern)
        assert (job.frame.matrix, job.rows) == (like.frame.matrix, like.rows)
    assert shop.changes().asking == ()


def test_what_changes_what_stays_and_what_conflicts(shop):
    shop.retype("alder.toml", 'pitch = ".62"', 'pitch = ".60"')
    shop.retype("alder.toml", 'kit = "K-7"', 'kit = "K-9"')
    shop.retype("alder.toml", 'bar = ".75"', 'bar = ".80"')
    shop.retype(RIGHT, 'pitch = ".62"', 'pitch = ".64"')
    shop.retype(SECOND_LEFT, 'bulletin = "B-7"', 'bulletin = "B-8"')
    found = shop.by_job()
    assert fields(found[LEFT].changed) == ["mandate.kit", "rows.0.pitch"]
    assert fields(found[LEFT].beside) == ["bay.bar"]
    assert (fields(found[RIGHT].changed), fields(found[RIGHT].conflicts)) == (
        ["mandate.kit"],
        ["rows.0.pitch"],
    )
    assert fields(found[SECOND_LEFT].own) == ["mandate.bulletin"]
    assert give_pattern(shop.fleets, shop.jobs, shop.name, shop.changes()) == ()
    pitches = [shop.data(name)["rows"][0]["pitch"] for name in shop.made]
    assert pitches == [".60", ".64", ".60", ".60"]
    assert {shop.data(name)["mandate"]["kit"] for name in shop.made} == {"K-9"}
    assert {shop.data(name)["bay"]["bar"] for name in shop.made} == {".75"}
    assert shop.data(SECOND_LEFT)["mandate"]["bulletin"] == "B-8"
    # Told once: afterwards it is the line's own will, and undo takes the change back.
    assert fields(shop.by_job()[RIGHT].own) == ["rows.0.pitch"]
    text = shop.jobs.read(LEFT)
    assert 'pitch = ".60"' not in shop.jobs.undo(LEFT, version_of(text))


def test_a_conflict_is_taken_where_somebody_says_so(shop):
    shop.retype("alder.toml", 'pitch = ".62"', 'pitch = ".60"')
    shop.retype(RIGHT, 'pitch = ".62"', 'pitch = ".64"')
    give_pattern(shop.fleets, shop.jobs, shop.name, shop.changes(), taking=["N101HW-right"])
    assert shop.data(RIGHT)["rows"][0]["pitch"] == ".60"


def test_a_row_that_comes_or_goes_is_told_as_a_whole_and_laid_onto_no_other(shop):
    text = (shop.folder / "alder.toml").read_text()
    head, *rows = text.split("[[rows]]")
    _, sep, rest = rows[-1].partition("\n[")
    (shop.folder / "alder.toml").write_text("[[rows]]".join([head, *rows[:-1]]) + sep + rest)
    wanted = shop.data("alder.toml")["rows"]
    shop.retype(RIGHT, 'pitch = ".62"', 'pitch = ".64"')
    found = shop.by_job()
    assert "rows" in fields(found[LEFT].changed)
    assert "rows" in fields(found[RIGHT].conflicts)
    refused = give_pattern(shop.fleets, shop.jobs, shop.name, shop.changes())
    assert refused == ()
    assert [one["pitch"] for one in shop.data(LEFT)["rows"]] == [one["pitch"] for one in wanted]
    assert len(shop.data(RIGHT)["rows"]) == len(wanted) + 1


def test_a_signed_job_is_named_and_not_touched_and_a_sample_stays_one(shop):
    phrase = "rivet gauge hangar nine"
    locked = new_key(phrase)
    person, key, now = (
        Person("A. Inspector", Role.INSPECTOR, "", locked),
        locked.opened(phrase),
        datetime.now(UTC),
    )
    store = Store.opened(shop.folder)
    store.add(Kind.PERSON, "", person.as_body(), author=person.name, now=now, key=key)
    store.add(Kind.SIGNED, LEFT, {"verdict": "OK"}, author=person.name, now=now, key=key)
    store.close()
    shop.retype("alder.toml", 'pitch = ".62"', 'pitch = ".60"')
    shop.retype("alder.toml", 'units = "in"', 'units = "in"\nsamples = ["rows.0.pitch"]')
    before = (shop.folder / LEFT).read_bytes()
    found = shop.by_job()
    assert (found[LEFT].is_signed, fields(found[LEFT].changed)) == (True, ["rows.0.pitch"])
    give_pattern(shop.fleets, shop.jobs, shop.name, shop.changes())
    assert (shop.folder / LEFT).read_bytes() == before
    assert "rows.0.pitch" in shop.data(RIGHT)["samples"]
    (shop.folder / LEFT).unlink()
    with pytest.raises(JobError, match="was signed, and its file is gone"):
        make_jobs(shop.fleets, shop.jobs, shop.name, version_of(shop.fleets.read(shop.name)))
    assert not (shop.folder / LEFT).exists()


def test_nothing_is_entered_that_was_not_shown(shop):
    shop.retype("alder.toml", 'pitch = ".62"', 'pitch = ".60"')
    seen = shop.changes()
    shop.retype(LEFT, 'kit = "K-7"', 'kit = "K-8"')
    (refused,) = give_pattern(shop.fleets, shop.jobs, shop.name, seen)
    assert refused.line.line.job == LEFT
    assert shop.data(LEFT)["rows"][0]["pitch"] == ".62"
    shop.retype("alder.toml", 'pitch = ".60"', 'pitch = ".58"')
    with pytest.raises(JobError, match="changed since"):
        give_pattern(shop.fleets, shop.jobs, shop.name, seen)


def test_without_the_text_that_was_given_every_difference_is_a_conflict(shop):
    shop.retype("alder.toml", 'pitch = ".62"', 'pitch = ".60"')
    shutil.rmtree(shop.folder / ".earlier" / shop.name / "given")
    found = shop.by_job()[LEFT]
    assert (found.is_unknown, found.changed, fields(found.conflicts)) == (True, (), ["rows.0.pitch"])


def test_a_program_that_was_ended_while_it_made_jobs_goes_on_where_it_was(shop):
    (shop.folder / SECOND_RIGHT).unlink()
    before = (shop.folder / LEFT).read_bytes()
    base = version_of(shop.fleets.read(shop.name))
    assert make_jobs(shop.fleets, shop.jobs, shop.name, base) == (SECOND_RIGHT,)
    assert (shop.folder / LEFT).read_bytes() == before


def test_a_pattern_that_changes_while_jobs_are_made_is_told_as_a_change(shop):
    version = version_of(shop.enter(lambda text: with_aircraft(text, "N103HW\t0003\tleft\n")))

    def changing(share, doing):
        if 'pitch = ".60"' not in (shop.folder / "alder.toml").read_text():
            shop.retype("alder.toml", 'pitch = ".62"', 'pitch = ".60"')

    make_jobs(shop.fleets, shop.jobs, shop.name, version, progress=changing)
    assert fields(shop.by_job()["wing-n103hw-left.toml"].changed) == ["rows.0.pitch"]


def test_a_fleet_that_can_not_have_its_jobs_is_not_begun(tmp_path):
    shutil.copy(EXAMPLES / "alder.toml", tmp_path)
    fleets, jobs = FleetFolder(tmp_path), JobFolder(tmp_path)
    text = (tmp_path / "alder.toml").read_text()
    (tmp_path / "alder.toml").write_text(text.replace('side = "left"', 'side = "center"', 1))
    with pytest.raises(JobError, match="center"):
        begin_fleet(fleets, jobs, "Wing", new_fleet_text("Wing", "alder.toml", AIRCRAFT))
    (tmp_path / "alder.toml").write_text(text)
    (tmp_path / LEFT).write_text(text)  # of another aircraft
    with pytest.raises(JobError, match="already exists"):
        begin_fleet(fleets, jobs, "Wing", new_fleet_text("Wing", "alder.toml", AIRCRAFT))
    assert sorted(one.name for one in tmp_path.iterdir() if one.is_file()) == ["alder.toml", LEFT]


def test_aircraft_that_were_undone_and_added_again_keep_their_jobs(shop):
    assert not shop.fleets.can_undo(shop.name)
    more = "N103HW\t3\tleft\nN104HW\t4\tleft\n"
    text = shop.enter(lambda text: with_aircraft(text, more))
    third, fourth = make_jobs(shop.fleets, shop.jobs, shop.name, version_of(text))
    shop.fleets.undo(shop.name, version_of(shop.fleets.read(shop.name)))
    assert len(shop.fleets.fleet(shop.name).aircraft) == 2
    shop.retype(third, 'pitch = ".62"', 'pitch = ".64"')
    before = (shop.folder / third).read_bytes()
    text = shop.enter(lambda text: with_aircraft(text, more))
    assert make_jobs(shop.fleets, shop.jobs, shop.name, version_of(text)) == (third, fourth)
    assert (shop.folder / third).read_bytes() == before
    assert [shop.by_job()[name].is_unknown for name in (third, fourth)] == [True, False]


def test_nobody_overwrites_a_fleet_that_another_has_changed_and_undo_takes_a_step_back(shop):
    text = shop.fleets.read(shop.name)
    stated = {"N101HW-left": {"who": "A. Mechanic", "step": "cutting", "waiting_for": "rivets"}}
    shop.enter(lambda text: with_stated(text, stated))
    with pytest.raises(ChangedElsewhereError):
        shop.fleets.enter(shop.name, version_of(text), lambda text: with_aircraft(text, "N103HW 3"))
    line = shop.fleets.fleet(shop.name).aircraft[0].lines[0]
    assert (line.who, line.step, line.waiting_for) == ("A. Mechanic", "cutting", "rivets")
    now = shop.fleets.read(shop.name)
    assert shop.fleets.undo(shop.name, version_of(now)) == text


@pytest.mark.parametrize(
    ("pasted", "told"),
    [
        ("N1/../etc\t1", "no registration mark"),
        ("..\t1", "no registration mark"),
        ("N101HW\t9", "stands twice"),
        ("N103HW\t0002", "stands twice"),
        ("N103HW\t3\tmiddle", "does not take this word"),
        ("N103HW", "blank"),
    ],
)
def test_a_row_that_can_not_be_an_aircraft_is_refused_and_nothing_written(shop, pasted, told):
    before = shop.fleets.read(shop.name)
    with pytest.raises(JobError, match=told):
        shop.enter(lambda text: with_aircraft(text, pasted))
    assert shop.fleets.read(shop.name) == before


@pytest.mark.parametrize("name", ["../x.fleet", "x.toml", ".x.fleet", "a/b.fleet", "x.fleet\0"])
def test_no_file_outside_the_folder_is_a_fleet(shop, name):
    with pytest.raises(JobError):
        shop.fleets.read(name)


def test_hours_are_those_noted_and_the_next_is_expected_to_take_what_the_last_took(shop):
    for key, hours, day in (("N101HW-left", "3.5", "2026-03-02"), ("N102HW-left", "2.25", "2026-03-09"),
                            ("N102HW-left", ".5", "2026-03-10")):  # fmt: skip
        shop.enter(
            lambda text, k=key, h=hours, d=day: with_hours(text, k, step="cutting", hours=h, date=d, who="")
        )
    by_step = {one.step: one for one in hours_by_step(shop.fleets.fleet(shop.name))}
    cutting = by_step["cutting"]
    # By hand: 3.5 + 2.25 + .5; the last side took 2.25 + .5; two sides are left.
    assert [str(one) for one in (cutting.total, cutting.last, cutting.ahead)] == ["6.25", "2.75", "5.50"]
    assert (cutting.of, cutting.left) == ("N102HW LEFT", 2)
    assert by_step["riveting"].last is by_step["riveting"].ahead is None
    for hours in ("0", "-1", "x", "1:30"):
        with pytest.raises(JobError):
            shop.enter(
                lambda text, h=hours: with_hours(
                    text, "N101HW-left", step="cutting", hours=h, date="2026-03-11", who=""
                )
            )
    with pytest.raises(JobError):
        shop.enter(
            lambda text: with_hours(text, "N101HW-left", step="cutting", hours="1", date="2026-02-30", who="")
        )


def test_no_hours_are_ahead_for_a_step_that_a_side_has_behind_it(shop):
    shop.enter(
        lambda text: with_hours(text, "N101HW-left", step="cutting", hours="2", date="2026-03-01", who="")
    )
    shop.enter(lambda text: with_stated(text, {"N101HW-right": {"step": "riveting"}}))
    (cutting,) = (one for one in hours_by_step(shop.fleets.fleet(shop.name)) if one.step == "cutting")
    assert (cutting.left, str(cutting.ahead)) == (2, "4")  # of four sides one is noted and one is past it


def test_the_stock_is_counted_by_part_number_once(shop):
    shop.enter(lambda text: with_stock(text, "Part\tQty\nMS20470AD4-4\t500\n"))
    assert [(one.number, one.count) for one in shop.fleets.fleet(shop.name).stock] == [("MS20470AD4-4", 500)]
    for pasted in ("MS20470AD4-4\t-3", "MS20470AD4-4\tmany", "MS20470AD4-4\t1\nms20470ad4-4\t2"):
        with pytest.raises(JobError):
            shop.enter(lambda text, p=pasted: with_stock(text, p))
    shop.enter(lambda text: with_stock(text, ""))
    assert shop.fleets.fleet(shop.name).stock == ()
