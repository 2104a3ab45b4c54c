"""A remedy is told only if it was applied to the job and judged; the tests type it into the file and judge it anew."""

from __future__ import annotations

import json
from collections import Counter
from itertools import islice

import pytest
from click.testing import CliRunner
from studies.random_faults import round_hole

from hatchwright.cli.check import command
from hatchwright.errors import HatchwrightError
from hatchwright.job.changed_text import changed_text
from hatchwright.job.file import edited, read_job
from hatchwright.job.other_side import other_side
from hatchwright.job.retyped_job import retyped_job
from hatchwright.job.text_file import load_text
from hatchwright.layout.lay_out import lay_out
from hatchwright.register import entries
from hatchwright.remedy import ASK, Change, EntryChange, PartChange
from hatchwright.search import remedy as search
from hatchwright.search.candidate import concern_of
from hatchwright.search.changes import candidates
from hatchwright.search.trial import Trial
from hatchwright.words.findings import what_to_do
from hatchwright.words.tell import tell
from hatchwright.workflow.examine import examine
from job_text import job_text
from rules.cases import FLUSH, PASS, changed, job_of, rivets
from tests.conftest import EXAMPLES

JOBS = ("alder", "birch", "cypress", "dogwood", "elder")
GRAVITY = {"pass": 0, "caution": 1, "unknown": 2, "stop": 3}


def drawn(*, distance=".23", outer="7.5", unit="in", more=""):
    """A job that nothing of was made, its rivets too near the opening: 2D of a 1/8 rivet is .250 in."""
    sizes = {
        "skin": ".032",
        "doubler": ".040",
        "opening": "6",
        "outer": outer,
        "distance": distance,
        "pitch": ".6",
    }
    return round_hole(unit, **{name: f"{size} in" for name, size in sizes.items()}) + more


def check_json(folder, text, *options):
    """What the command answers to the text of a job."""
    path = folder / "job.toml"
    path.write_text(text, encoding="utf-8")
    return json.loads(CliRunner().invoke(command, [str(path), "--json", *options]).stdout)


def gravest(report):
    """The gravest answer of each code."""
    found = {}
    for finding in report["findings"]:
        found[finding["code"]] = max(found.get(finding["code"], 0), GRAVITY[finding["status"]])
    return found


def held_back(report):
    return Counter(line["status"] for line in report["verdict"]["lines"])


def tried(job):
    found = examine(job)
    return {finding.code: remedy for finding, remedy in found.remedies}, found


@pytest.mark.parametrize("name", JOBS)
def test_what_is_told_of_an_example_holds_when_it_is_typed_into_the_file(name, tmp_path):
    text = load_text(EXAMPLES / f"{name}.toml")
    before = check_json(tmp_path, text)
    sides = ((), ("--other-side",)) if name == "alder" else ((),)
    for told in before["remedies"]:
        entries = [EntryChange(**entry) for entry in told["entries"]]
        changed = changed_text(text, entries, [PartChange(**part) for part in told["parts"]])
        after = check_json(tmp_path, changed)
        of_cause = [
            finding["status"]
            for finding in after["findings"]
            if finding["code"] == told["code"] and _cause_stands_in(finding, told)
        ]
        assert set(of_cause) == {"pass"}, told["words"]
        for side in sides:
            was, now = (
                gravest(check_json(tmp_path, text, *side)),
                gravest(check_json(tmp_path, changed, *side)),
            )
            said_to = {"R903"} if "departs from the given" in told["words"] else set()
            assert all(now[code] <= was.get(code, 0) for code in now.keys() - said_to), told["words"]
        for status in ("stop", "unknown", "caution"):
            assert held_back(after)[status] <= held_back(before)[status], told["words"]


def _cause_stands_in(finding, told):
    """Edges name their cause in the subject; a cause without a name is the whole code."""
    return not told["cause"] or told["cause"] in finding["subject"]


def test_the_remedies_of_the_examples():
    """So many are found; a search that finds none any more would pass the test above."""
    found = {name: sorted(tried(read_job(load_text(EXAMPLES / f"{name}.toml")))[0]) for name in JOBS}
    assert found["alder"] == ["R101"]
    assert "R801" in found["dogwood"]


def test_what_brings_another_edge_too_near_under_the_same_caution_is_not_told():
    """Elder's screws .365 inside the cover's edge clear the rivets, and stand .500 - .365 = .135 from the opening's
    edge, 0.98D, where 1.59D from the cover's edge was the least before: R103 would stay a caution of eight holes."""
    elder = read_job(load_text(EXAMPLES / "elder.toml"))
    moved = examine(read_job(load_text(EXAMPLES / "elder.toml").replace('inset = ".22"', 'inset = ".365"')))
    least = min(finding.value for finding in moved.judged if finding.code == "R103")
    assert least == pytest.approx(0.135)
    assert "R212" not in tried(elder)[0]


def test_alder_is_never_told_to_enlarge_the_opening_or_to_move_what_is_drilled(alder):
    """Issue: hole 6 stands 1.94D from the opening's edge; moving that edge out leaves .233 of .243 and stops hole 4."""
    by_code, found = tried(alder)
    edges = [line for line in found.verdict.open_lines if line.codes == ("R101",)]
    assert {line.worst.cause for line in edges} == {"opening edge", "doubler outer edge"}
    for line in edges:
        if line.worst.cause == "opening edge":
            assert found.remedy(line.worst) is None
            assert what_to_do(line.worst, None)[-1] == ASK
    entry, departs = by_code["R101"].entries
    assert (entry.field, entry.old, entry.new) == ("doubler.outer.width", "7.00", "7.025")
    assert (departs.field, departs.old, departs.new) == ("departures.size", "none", "departs")
    told = tell(by_code["R101"].told)
    assert told.startswith("Doubler outer size, 7.000 x 6.000 to 7.025 x 6.000: tried on this job")


def test_a_row_too_near_the_opening_is_moved_by_what_is_missing():
    """2D of a 1/8 rivet is .250 (AC 43.13-1B par. 4-57): drawn at .230 it is .020 short."""
    by_code, found = tried(read_job(drawn()))
    (entry,) = by_code["R101"].entries
    assert (entry.field, entry.old, entry.new) == ("rows.0.distance", ".23 in", "0.25")
    line = next(line for line in found.verdict.open_lines if "R101" in line.codes)
    told = tell(what_to_do(line.worst, found.remedy(line.worst))[-1])
    assert told == (
        "Row ring, .230 to .250 from the opening edge: tried on this job, it passes and adds no other finding."
    )
    assert ASK not in what_to_do(line.worst, found.remedy(line.worst))


def test_a_hole_that_is_numbered_anew_is_the_same_hole():
    """Six rivets of .36 become five of .42, so that the one too near the doubler's edge has another number."""
    line = '[[rows]]\nname = "line"\nlay = "line"\nrivet = "MS20470AD4"\n'
    line += 'start = ["5", "-1"]\nend = ["5", "1"]\npitch = ".36"\n'
    near = '[[rows]]\nname = "near"\nlay = "points"\nrivet = "MS20470AD4"\npoints = [["5.8", "3.1"]]\n'
    by_code, found = tried(read_job(drawn(distance=".35", outer="13.2", more=line + near)))
    change = by_code["R201"].entries
    assert [(one.field, one.new) for one in change] == [("rows.1.pitch", "0.42")]
    new = retyped_job(found.job, {one.field: one.new for one in change})
    was, now = (lay_out(job).holes[-1] for job in (found.job, new))
    assert was.row == now.row == "near"
    assert was.number != now.number


def test_a_metric_job_is_told_in_millimeters():
    by_code, _ = tried(read_job(drawn(unit="mm")))
    (entry,) = by_code["R101"].entries
    assert entry.new == "6.4"  # .250 in is 6.35 mm: the next tenth up
    assert "5.842 to 6.40 mm from the opening edge" in tell(by_code["R101"].told, "mm")


def test_what_makes_another_edge_too_near_is_not_told():
    """A land of .480 has no room for 2D on both sides: .020 farther out the row stands .230 from the doubler's edge.
    With a land of .600 there is room."""
    by_code, found = tried(read_job(drawn(outer="6.96")))
    assert "R101" not in by_code
    line = next(line for line in found.verdict.open_lines if "R101" in line.codes)
    assert what_to_do(line.worst, found.remedy(line.worst))[-1] == ASK
    by_code, _ = tried(read_job(drawn(outer="7.2")))
    assert by_code["R101"].entries[0].field == "rows.0.distance"


def test_what_runs_onto_a_flange_is_not_told(tmp_path):
    """A row .240 from the doubler's edge wants it .010 wider all around; a flange that the doubler clears by .130, of
    the 1/8 that is kept to structure, would then be .120 away."""
    flange = '\n[[bay.flanges]]\nname = "frame flange"\nx_from = "{at} in"\n'
    for at, is_told in (("3.62", False), ("3.70", True)):
        text = drawn(distance=".25", outer="6.98", more=flange.format(at=at))
        before = check_json(tmp_path, text)
        assert next(f["status"] for f in before["findings"] if f["code"] == "R701") == "pass"
        told = [one for one in before["remedies"] if one["code"] == "R101"]
        assert [entry["new"] for one in told for entry in one["entries"]] == ["7"] * is_told
        wider = check_json(tmp_path, edited(text, {"doubler.outer.diameter": "7"}))
        assert (gravest(wider)["R701"] == GRAVITY["stop"]) is not is_told


def test_nothing_that_is_drilled_is_moved(alder):
    """Rows 1 to 18 of alder are drilled: no change of theirs is so much as tried, and none of an edge that is filed."""
    found = examine(alder)
    for line in found.verdict.open_lines:
        concern = concern_of(found.layout, line.findings)
        drilled = {hole.row for hole in found.layout.holes if hole.is_made}
        assert not {alder.rows[at].name for at in concern.rows} & drilled
        assert not list(candidates(Change.OPENING_SIZE, concern))


def test_an_opening_that_is_mandated_is_not_changed():
    mandate = '\n[mandate]\nkind = "directive"\nreference = "M-1"\n'
    for text, is_tried in ((drawn(), True), (drawn(more=mandate), False)):
        found = examine(read_job(text))
        concern = concern_of(found.layout, found.findings)
        assert bool(list(candidates(Change.OPENING_SIZE, concern))) is is_tried


def test_every_kind_of_change_reads_back_as_the_file_does():
    """A candidate is judged as the copy of a job, and told as text: both must be one job."""
    for name in JOBS:
        text = load_text(EXAMPLES / f"{name}.toml")
        job = read_job(text)
        found = examine(job)
        concern = concern_of(found.layout, found.findings)
        for change in Change:
            for candidate in islice(candidates(change, concern), 3):
                try:
                    in_file = read_job(changed_text(text, candidate.entries, candidate.parts))
                except HatchwrightError:
                    with pytest.raises(HatchwrightError):
                        candidate.on(job)
                    continue
                assert candidate.on(job) == in_file, (name, candidate)


def test_a_clad_doubler_of_another_alloy_stays_clad_in_words():
    """Alloy and temper are typed anew; the cladding is another entry, which nobody changes."""
    text = edited(load_text(EXAMPLES / "alder.toml"), {"doubler.alloy": "5052", "doubler.temper": "H32"})
    layout = lay_out(read_job(text))
    assert layout.job.doubler.clad
    (tried,) = candidates(Change.DOUBLER_SHEET, concern_of(layout, ()))
    assert tell(tried.what) == "doubler material, 5052-H32 clad to 2024-T3 clad"


def test_the_other_side_is_judged_too(alder):
    """Alder's right wing gets the mirrored opening: what would make it worse there is not told."""
    found = examine(alder)
    assert found.other is not None
    assert found.other.remedies == ()  # its own file is the left side's: nothing is told without that side
    (remedy,) = (told for finding, told in found.remedies if finding.code == "R101")
    there = examine(other_side(retyped_job(alder, {e.field: e.new for e in remedy.entries})))
    stops = [line for line in there.verdict.open_lines if line.worst.code != "R903"]
    assert max(line.status.rank for line in stops) <= found.other.verdict.status.rank


def test_a_job_with_loads_is_told_that_its_strength_was_not_tried():
    loads = (
        '\n[loads]\nbasis = "running loads"\nsource = "note 7"\n[[loads.cases]]\nname = "gust"\nq = "60"\n'
    )
    found = examine(read_job(drawn(more=loads)), with_strength=False)
    (remedy,) = (told for finding, told in found.remedies if finding.code == "R101")
    assert tell(remedy.told).endswith("Strength NOT SHOWN: run it again before you cut or drill.")


def test_the_same_change_is_told_once():
    """What settles two causes is told with the first, and the second points to it."""
    found = examine(read_job(drawn()))
    told = Counter(tell(remedy.told) for _, remedy in found.remedies)
    assert set(told.values()) == {1}
    ids = {finding.code: remedy.told.id for finding, remedy in found.remedies}
    assert ids == {"R101": "remedy.tried", "R104": "remedy.same"}
    assert len({remedy.entries for _, remedy in found.remedies}) == 1


def test_nothing_is_tried_for_what_shows_no_advice(monkeypatch, tmp_path):
    """The head of a job, and the redraw, never wait for it."""
    called = []
    monkeypatch.setattr("hatchwright.search.remedy.remedies", lambda *_: called.append(1) or ())
    path = tmp_path / "job.toml"
    path.write_text(drawn(), encoding="utf-8")
    CliRunner().invoke(command, [str(path)])
    assert not called
    CliRunner().invoke(command, [str(path), "--more"])
    assert called


def test_the_trials_of_one_job_are_bounded(monkeypatch, alder):
    counted = []
    real = Trial.passed
    monkeypatch.setattr(Trial, "passed", lambda self, *told: counted.append(1) or real(self, *told))
    monkeypatch.setattr(search, "MOST_OF_A_KIND", 1)
    assert examine(alder).remedies is not None
    kinds = max(len(entry.remedies) for entry in entries().values())
    lines = len(examine(alder).verdict.open_lines)
    assert 0 < len(counted) <= (kinds + 1) * lines  # one of each kind, and what another cause passed by
    counted.clear()
    monkeypatch.setattr(search, "MOST_OF_A_KIND", 10**6)
    assert examine(alder).remedies is not None
    assert len(counted) <= search.MOST_TRIALS


def test_few_changes_are_tried_of_a_job_with_thousands_of_near_holes(monkeypatch):
    """Three rings of 1/8 rivets that nearly touch: hundreds of holes, each with ten or more within 4.5 diameters."""
    counted = []
    real = Trial.passed
    monkeypatch.setattr(Trial, "passed", lambda self, *told: counted.append(1) or real(self, *told))
    begun, _, ring = drawn(outer="9").replace('pitch = ".6 in"', 'pitch = ".135 in"').partition("[[rows]]")
    rings = (
        "[[rows]]" + ring.replace('"ring"', f'"ring {far}"').replace('".23 in"', f'"{far} in"')
        for far in (".23", ".5", ".77")
    )
    one = examine(read_job(begun + "".join(rings)))
    holes = len(one.layout.holes)
    assert holes > 400
    assert isinstance(one.remedies, tuple)
    assert 0 < len(counted) <= 60_000 / (6 * holes)


def test_a_row_that_cannot_be_laid_is_no_remedy():
    """A doubler so small that rows fall off it leaves candidates that cannot be laid out: they are passed over."""
    job = read_job(drawn(outer="6.5"))
    assert lay_out(job)
    assert isinstance(examine(job).remedies, tuple)


DIMPLED = changed(FLUSH, {"cover.screws.size": "8-32", "cover.screws.nut_rivet": "MS20426AD3"})
"""Dimpled No. 8 screws on flat nutplates in a .040 doubler, which hold them off: R816 stops."""


def strap_of(job, **of):
    return changed(job, {"cover.screws.strap": {"alloy": "2024", "temper": "T3", **of}})


def test_a_strap_under_flat_nutplates_is_tried():
    """At least .064 [REPAIR-1940S] access doors, page 93: the next sheet of the series is .071. Four diameters wide,
    4 x .164 = .656, for 2D on each side of the screws; .005 is the next step."""
    text = job_text(DIMPLED)
    by_code, _ = tried(read_job(text))
    remedy = by_code["R816"]
    new = {entry.field.removeprefix("cover.screws.strap."): entry.new for entry in remedy.entries}
    assert new == {"alloy": "2024", "temper": "T3", "clad": "true", "thickness": "0.071 in", "width": "0.66"}
    assert {entry.old for entry in remedy.entries} == {""}
    assert tell(remedy.told).startswith(
        "Under the nutplates, a strap of 2024-T3 clad, .071 x .660 instead of none: tried on this job"
    )
    in_file = job_of(strap_of(DIMPLED, **{**new, "clad": True}))
    entries = {entry.field: entry.new for entry in remedy.entries}
    assert retyped_job(read_job(text), entries) == in_file
    assert {one.code: one.status for one in examine(in_file).judged if one.code in ("R816", "R818")} == {
        "R816": PASS,
        "R818": PASS,
    }


def test_a_strap_that_is_too_thin_or_too_narrow_is_tried_thicker_or_wider():
    thin, _ = tried(job_of(strap_of(DIMPLED, thickness=".050", width=".7")))
    (entry,) = thin["R816"].entries
    assert (entry.field, entry.old, entry.new) == ("cover.screws.strap.thickness", ".050", "0.071 in")
    narrow, _ = tried(job_of(strap_of(DIMPLED, thickness=".064", width=".5")))
    (entry,) = narrow["R818"].entries
    assert (entry.field, entry.old, entry.new) == ("cover.screws.strap.width", ".5", "0.66")


@pytest.mark.parametrize(
    "change",
    [
        {"cover.screws.nut": "100-degree two-lug nutplate"},
        {"cover.screws.nut_lugs": "outward"},
        {"as_made": {"uncertainty": ".005", "holes": [[101, "1.58875", "0"]]}},
    ],
)
def test_no_strap_is_tried_where_none_can_be_told(change):
    """Nutplates that nest in the dimples, lugs across a strap whose width only the screws give, screws drilled."""
    layout = lay_out(job_of(changed(DIMPLED, change)))
    assert not list(candidates(Change.NUTPLATE_STRAP, concern_of(layout, ())))


def test_a_strap_that_would_lie_on_rivets_is_not_told():
    """A rivet .45 from the screw line, less half of .66 and half a head of .25, would end under the strap."""
    rows = [*DIMPLED["rows"], rivets((2.0388, 0.0), name="near")]
    by_code, _ = tried(job_of(changed(DIMPLED, {"rows": rows})))
    assert "R816" not in by_code


def test_entries_of_a_section_that_no_job_knows_are_refused():
    job = job_of(DIMPLED)
    for field in ("cover.screws.shim.width", "cover.screws.strap.colour", "nothing.at.all"):
        with pytest.raises(HatchwrightError):
            retyped_job(job, {field: "1"})
