"""What holds for any job: nothing worsens away from an edge, units and mirrors change nothing, nothing crashes."""

from __future__ import annotations

import copy
from collections import Counter
from decimal import Decimal, localcontext
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from pydantic import BaseModel

from hatchwright.errors import JobError
from hatchwright.finding import Finding
from hatchwright.job.file import load_job, read_job
from hatchwright.job.job import Job
from hatchwright.job.other_side import other_side
from hatchwright.layout.lay_out import lay_out
from hatchwright.rules.check import check
from hatchwright.units import Length
from job_text import job_text
from rules.cases import FLUSH, LAPPED, PLAIN, RING, along_y, changed, job_of, judged, rivets, typed
from rules.conftest import EXAMPLES, JOBS
from told import advice_of, subject_of

pytestmark = pytest.mark.property

some = settings(deadline=None, max_examples=25, suppress_health_check=[HealthCheck.too_slow])


def findings_of(job: Job) -> tuple[Finding, ...]:
    return check(lay_out(job))


# --- away from an edge

EDGE_RULES = {"R101": "MS20470AD4", "R102": "MS20426AD4", "R105": "MS20470AD4"}


@some
@given(
    code=st.sampled_from(sorted(EDGE_RULES)),
    along=st.floats(-0.99, 0.99),
    near=st.floats(-0.2, 1.0),
    farther=st.floats(0.0, 0.5),
    u=st.sampled_from([None, ".001", ".01"]),
)
def test_moving_a_hole_away_from_an_edge_never_worsens_its_edge_finding(code, along, near, farther, u):
    def worst(away: float) -> int:
        rows = [rivets((2.0 + away, along), rivet=EDGE_RULES[code])]
        made = {"uncertainty": u, "holes": [[1, typed(2.0 + away), typed(along)]]} if u else None
        changes = {"rows": rows, **({"as_made": made} if made else {})}
        return min(finding.status.severity for finding in judged(code, PLAIN, changes))

    assert worst(near + farther) >= worst(near)


@some
@given(angle=st.floats(0.0, 1.0), near=st.floats(0.0, 0.6), farther=st.floats(0.0, 0.3))
def test_the_same_off_a_corner_arc(angle, near, farther):
    # the corner's center is (1, 1), its radius 1
    way = complex(0, 1) ** angle

    def worst(away: float) -> int:
        place = complex(1, 1) + way * (1.0 + away)
        found = judged("R101", PLAIN, {"rows": [rivets((place.real, place.imag))]})
        return min(finding.status.severity for finding in found)

    assert worst(near + farther) >= worst(near)


# --- units

Told = tuple[Any, ...]


def told(findings: tuple[Finding, ...]) -> list[Told]:
    """What a finding says, its words left aside since they quote what was typed."""
    return [
        (f.code, f.status, f.value, f.limit, f.holes, f.place, f.judged.shortfall, f.judged.uncertainty)
        for f in findings
    ]


def in_mm(value: Any) -> Any:
    """Entered values with every length typed in millimeters, to the last digit."""
    if isinstance(value, Length):
        return exact(value.exact_in * Fraction(127, 5))
    if isinstance(value, BaseModel):
        if type(value).__name__ == "MadeHole":
            sizes = [value.x, value.y, *([value.diameter] if value.diameter else [])]
            return [value.number, *map(in_mm, sizes)]
        names = {name: field.alias or name for name, field in type(value).model_fields.items()}
        return {names[name]: in_mm(part) for name, part in value if part is not None}
    if isinstance(value, tuple | list):
        return [in_mm(part) for part in value]
    return value


def exact(number: Fraction) -> str:
    with localcontext() as context:
        context.prec = 60
        text = format(Decimal(number.numerator) / Decimal(number.denominator), "f")
    assert Fraction(text) == number, "a length that millimetres cannot write in full"
    return text


def typed_in_mm(job: Job) -> Job:
    data = {**in_mm(job), "units": "mm"}
    return read_job(job_text(data))


@pytest.mark.parametrize("name", JOBS)
def test_the_same_job_typed_in_millimeters_has_the_same_findings(name):
    job = load_job(EXAMPLES / f"{name}.toml")
    assert told(findings_of(typed_in_mm(job))) == told(findings_of(job))


@some
@given(
    x=st.decimals(1, 3, places=4), y=st.decimals(-3, 3, places=4), thickness=st.sampled_from([".020", ".063"])
)
def test_a_rivet_anywhere_is_judged_alike_in_millimeters(x, y, thickness):
    job = job_of(RING, rows=[rivets((float(x), float(y)))], doubler__thickness=thickness)
    assert told(findings_of(typed_in_mm(job))) == told(findings_of(job))


# --- mirrors

NAMES_THE_SIDE = ("R908", "R915")
"""Rules that say on which side to look."""


@pytest.mark.parametrize("name", ["alder", "birch", "elder", "heron"])
def test_the_job_of_the_other_side_has_the_same_findings_in_mirrored_places(name):
    across = other_side(load_job(EXAMPLES / f"{name}.toml"))
    here, there = lay_out(other_side(across)), lay_out(across)  # neither of them seen
    ours, theirs = check(here), check(there)
    assert told(ours) == told(theirs)
    for one, other in zip(ours, theirs, strict=True):
        assert subject_of(one) == subject_of(other)
        assert advice_of(one) == advice_of(other) or one.code in NAMES_THE_SIDE
        if one.place and other.place:
            x, y = here.frame.to_page(*one.place)
            assert there.frame.to_page(*other.place) == pytest.approx((-x, y))


def mirrored(job: dict[str, Any]) -> dict[str, Any]:
    """The mirror image of a job in its own frame: every X changes its sign."""
    job = copy.deepcopy(job)

    def flip(text: str) -> str:
        return text.removeprefix("-") if text.startswith("-") else f"-{text}"

    for row in job.get("rows", []):
        row["points"] = [[flip(x), y] for x, y in row["points"]]
    bay = job.get("bay", {})
    for region in [*bay.get("flanges", []), *bay.get("keep_outs", [])]:
        ends = region.pop("x_from", None), region.pop("x_to", None)
        region.update({key: flip(end) for key, end in zip(("x_to", "x_from"), ends, strict=True) if end})
    for row in bay.get("rows", []):
        if "x" in row:
            row["x"] = flip(row["x"])
    return job


places = st.lists(
    st.tuples(
        st.floats(2.1, 2.9).map(lambda v: round(v, 4)), st.floats(-1.9, 1.9).map(lambda v: round(v, 4))
    ),
    min_size=2,
    max_size=7,
    unique=True,
)


@some
@given(
    places=places, flange=st.floats(3.0, 4.0).map(lambda v: round(v, 4)), base=st.sampled_from([RING, FLUSH])
)
def test_the_mirror_image_of_a_job_has_the_same_findings(places, flange, base):
    bay = {
        "flanges": [{"name": "flange", "x_from": repr(flange)}],
        "rows": [{"name": "rib", "member": "rib", "x": repr(flange + 0.3), "diameter": "1/8"}],
        "keep_outs": [{"name": "cable", "x_from": "2.4", "x_to": "2.6", "depth": "1"}],
    }
    job = changed(base, {"rows": [rivets(*places)], "bay": bay})

    def said(findings: tuple[Finding, ...]) -> Counter[Told]:
        return Counter(
            (
                f.code,
                f.status,
                *(v if v is None else round(v, 6) for v in (f.value, f.limit, f.judged.shortfall)),
            )
            for f in findings
        )

    assert said(findings_of(job_of(mirrored(job)))) == said(findings_of(job_of(job)))


# --- anything that can be typed

NOT_LENGTHS = ["0", "-1", "400", "", "x", ".5 ft"]
NOT_RIVETS = ["MS20470AD4-4", "MS20470AD4-99", "X", ""]
SHEETS = st.sampled_from(
    [".001", ".016", ".0315", "1 mm", ".050", ".063", ".125", ".19", ".25"] * 3 + NOT_LENGTHS
)
LENGTHS = st.sampled_from([".010", ".1", "#40", "1/4", "0.8 mm", ".5", "1", "2", "4.5"] * 3 + NOT_LENGTHS)
RIVETS = st.sampled_from(
    ["MS20470AD2", "MS20470AD3", "MS20426AD8", "NAS1097DD6", "AN456A10", "MS20470M12"] * 3 + NOT_RIVETS
)
CHANGES = st.fixed_dictionaries(
    {},
    optional={
        "skin.thickness": SHEETS,
        "skin.measured": SHEETS,
        "skin.alloy": st.sampled_from(["2024"] * 5 + ["9999"]),
        "skin.stressed": st.booleans(),
        "opening.width": LENGTHS,
        "opening.radius": LENGTHS,
        "doubler.thickness": SHEETS,
        "doubler.outer.width": LENGTHS,
        "doubler.outer.radius": LENGTHS,
        "rows.0.rivet": RIVETS,
        "rows.0.preparation": st.sampled_from(["dimple", "countersink", "dimple over countersink"]),
        "rows.0.pilot": LENGTHS,
        "rows.0.final": LENGTHS,
        "rows.1": st.builds(
            lambda x, pitch, count, rivet: along_y(x, pitch=pitch, count=count, name="more", rivet=rivet),
            st.floats(-4.0, 4.0).map(lambda v: round(v, 3)),
            st.sampled_from([0.0, 0.1, 0.5, 2.0]),
            st.integers(1, 6),
            RIVETS,
        ),
        "cover.thickness": SHEETS,
        "cover.screws.size": st.sampled_from(["4-40", "6-32", "8-32", "1/4-28"] * 3 + ["M5", ""]),
        "cover.screws.length": LENGTHS,
        "cover.screws.inset": LENGTHS,
        "cover.screws.final": LENGTHS,
        "cover.screws.nut": st.sampled_from(
            ["two-lug nutplate", "one-lug nutplate", "miniature nutplate", "clip nut"]
        ),
        "cover.screws.nut_rivet": RIVETS,
        "cover.screws.nut_rivet_spacing": LENGTHS,
        "bay.flanges": st.lists(
            st.builds(lambda x: {"name": "flange", "x_from": x}, st.sampled_from(["-9", "0", "2.5", "9"])),
            max_size=3,
        ),
        "bay.existing": st.lists(
            st.builds(lambda x: {"at": [x, "0"], "diameter": "1/8"}, st.sampled_from(["0", "2.3", "9"])),
            max_size=2,
        ),
        "mount": st.fixed_dictionaries(
            {"kind": st.sampled_from(["antenna", "camera"]), "base": st.just(["3", "3"])},
            optional={"screw_size": st.sampled_from(["8-32", "what"]), "screw_pattern": st.just(["1", "2"])},
        ),
        "gate": st.dictionaries(st.sampled_from(["tank_wall", "maker_data", "member_cut"]), st.booleans()),
        "choices": st.lists(
            st.builds(
                lambda rule, reading: {"rule": rule, "reading": reading, "reason": "because"},
                st.sampled_from(["R101", "R204", "R401", "R501", "R601", "R999"]),
                st.sampled_from(
                    ["circular", "circular's figure", "next sixteenth", "table 4-10, note c", "none"]
                ),
            ),
            max_size=3,
        ),
        "as_made": st.builds(
            lambda u, size: {"uncertainty": u, "holes": [[1, "2.31", ".02", size]]}, LENGTHS, LENGTHS
        ),
    },
)


@settings(some, max_examples=120)
@given(base=st.sampled_from([PLAIN, RING, FLUSH, LAPPED]), changes=CHANGES)
def test_a_job_is_refused_with_its_faults_or_judged_and_nothing_else(base, changes):
    more = [changes.pop("rows.1")] if "rows.1" in changes and "rows" in base else []
    changes = {
        key: value for key, value in changes.items() if "." not in key or key.split(".")[0] in {*base, "bay"}
    }
    base = {**base, "rows": [*base["rows"], *more]} if more else base
    text = job_text(changed(base, changes))
    try:
        findings = findings_of(read_job(text))
    except JobError as error:
        assert error.faults
        return
    advised = {finding.code for finding in findings if advice_of(finding)}
    assert all(
        advice_of(finding) or finding.status == "pass" or finding.told_by in advised for finding in findings
    )
    assert [finding.code for finding in findings] == sorted(finding.code for finding in findings)
