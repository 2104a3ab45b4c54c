"""What was measured on single holes and parts, and what the rules say of it.

Sources: [AC43.13-1B] par. 4-57 (2D edge, 3D pitch), [MIL-HDBK-5H] sect. 8.1.2 (shop head at least 1.3D
across and .3D high), [TEACHING-TEXT] (.008 of land under a machine countersink), [TM-9-2320-363-34-2] table 3
(countersink of a 1/8 rivet .222 to .228), [MIL-STD-403C] (no cracked dimple). The rest is plane geometry.
"""

from __future__ import annotations

import math

import pytest

from hatchwright.errors import JobError
from hatchwright.job.file import read_job
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.survey import survey
from hatchwright.rules.check import check, check_some
from hatchwright.strength.site import site_of
from job_text import job_text
from rules.cases import CAUTION, FLUSH, PASS, PLAIN, RING, STOP, UNKNOWN, Case, cases, rivets


def made(**readings):
    """The readings of a job whose common u is .002."""
    return {"as_made": {"uncertainty": ".002", **readings}}


def looks(*cracks, resolved=None):
    """A look a year with its cracks; the u of a growth is .010 x root 2 = .0141. In the second one those may be
    resolved that were read in the first."""
    told = [
        {"date": f"{2027 + year}-03-09", "uncertainty": ".010", "cracks": found}
        for year, found in enumerate(cracks)
    ]
    if resolved:
        told[1]["resolved"] = [resolved]
    return {"looks": told}


SUNK = {"rows": [rivets((2.4, 0.0), rivet="MS20426AD4", preparation="countersink")], "skin.thickness": ".064"}
DATA = "engineering order 12, sheet 3"
FLUSH_RIVET = "MS20426AD4"
BY_CIRCULAR = {
    "choices": [{"rule": "R107", "reading": "circular, any head", "reason": "the circular, par. 4-57"}]
}
THINNER = {"doubler.measured": ".032"}

DONE = ["A", "RB", "drawing 12"]


def filed(**sizes):
    """The opening as filed: the drawn one, four inches wide about zero, but for what is named."""
    edges = {"x_from": "-2", "x_to": "2", "y_from": "-2", "y_to": "2", "radius": "1"}
    return made(opening={"shape": "edges", **edges, **sizes})


def two_rivets(*own):
    """Two measured rivets .381 apart, .006 over 3D, whose common u is .005."""
    holes = [[k + 1, "2.4", f"{0.381 * k}", "", u] for k, u in enumerate(own)]
    as_made = {"uncertainty": ".005", "holes": [hole if hole[-1] else hole[:3] for hole in holes]}
    return {"rows": [rivets((2.4, 0.0), (2.4, 0.381))], "as_made": as_made}


CASES = (
    # The rivet at 2.3, 0 lies beside the side at the highest X: its u counts, those of the other sides do not.
    Case("R101", PASS, PLAIN, filed(x_to="2.047"), value=0.253, limit=0.250),
    Case("R101", UNKNOWN, PLAIN, filed(x_to="2.047", x_to_u=".004")),
    Case("R101", PASS, PLAIN, filed(x_to="2.047", x_from_u=".004", y_to_u=".004", radius_1_u=".004")),
    Case("R101", UNKNOWN, PLAIN, filed(x_to="2.051")),
    Case("R101", STOP, PLAIN, filed(x_to="2.051", x_to_u=".0005")),
    # Corner 1 may be the sharper one although it was read larger; .25 is the least radius.
    Case("R301", CAUTION, PLAIN, filed(radius_1=".2549", radius_2=".2530")),
    Case("R301", UNKNOWN, PLAIN, filed(radius_1=".2549", radius_2=".2530", radius_1_u=".006"), value=0.2549),
    # Between the gauges .025 and .032, and .032 and .040, lie .0285 and .036.
    Case("R403", PASS, PLAIN, {"skin.measured": ".0290", "skin.measured_u": ".0004"}),
    Case("R403", UNKNOWN, PLAIN, {"skin.measured": ".0290", "skin.measured_u": ".0006"}),
    Case("R425", PASS, RING, {"doubler.measured": ".0370", "doubler.measured_u": ".0009"}),
    Case("R425", UNKNOWN, RING, {"doubler.measured": ".0370", "doubler.measured_u": ".0011"}),
    # The opening's edge lies at X = 2, the rivet at 2.3, 0; 2D of a .125 hole is .250, 3D .375.
    Case("R107", PASS, PLAIN, made(strays=[["2.252", "1", ".125"]]), value=0.252, limit=0.250),
    Case("R107", UNKNOWN, PLAIN, made(strays=[["2.251", "1", ".125"]])),
    Case("R107", STOP, PLAIN, made(strays=[["2.247", "1", ".125"]])),
    # Two u of .002 that are common count once, own ones have the root of squares .0028: .0026 over 2D, .006 over 3D.
    Case("R107", PASS, PLAIN, filed() | {"as_made.strays": [["2.2526", "1", ".125"]]}),
    Case("R107", UNKNOWN, PLAIN, filed() | {"as_made.strays": [["2.2526", "1", ".125", ".002"]]}),
    Case("R107", UNKNOWN, PLAIN, filed(x_to_u=".002") | {"as_made.strays": [["2.2526", "1", ".125"]]}),
    Case("R101", PASS, PLAIN, filed(x_to="2.0474") | {"as_made.holes": [[1, "2.3", "0"]]}),
    Case("R101", UNKNOWN, PLAIN, filed(x_to="2.0474") | {"as_made.holes": [[1, "2.3", "0", "", ".002"]]}),
    Case("R217", PASS, PLAIN, made(strays=[["2.6", "1", ".125"], ["2.6", "1.3776", ".125"]])),
    Case("R217", UNKNOWN, PLAIN, made(strays=[["2.6", "1", ".125", ".002"], ["2.6", "1.3776", ".125"]])),
    Case("R201", PASS, PLAIN, two_rivets("", "")),
    Case("R201", UNKNOWN, PLAIN, two_rivets(".005", ".005")),
    Case("R201", PASS, PLAIN, two_rivets(".004", ".004")),
    # A flush rivet in it is held as one of a row: 2.5D by the handbook, 2D by the circular.
    Case("R107", PASS, PLAIN, made(strays=[["2.3145", "1", ".130", "", FLUSH_RIVET]]), limit=0.3125),
    Case("R107", STOP, PLAIN, made(strays=[["2.290", "1", ".130", "", FLUSH_RIVET]]), limit=0.3125),
    Case(
        "R107", PASS, PLAIN, made(strays=[["2.290", "1", ".130", "", FLUSH_RIVET]]) | BY_CIRCULAR, limit=0.250
    ),
    Case("R217", PASS, PLAIN, made(strays=[["2.3", ".377", ".125"]]), value=0.377, limit=0.375),
    Case("R217", UNKNOWN, PLAIN, made(strays=[["2.3", ".376", ".125"]])),
    Case("R217", STOP, PLAIN, made(strays=[["2.3", ".372", ".125"]])),
    Case("R424", STOP, PLAIN, made(strays=[["2.6", "1", ".125"]]), said="design approval holder"),
    Case("R424", PASS, PLAIN, made(strays=[["2.6", "1", ".133", "", "MS20470AD4", "", DATA]]), said=DATA),
    Case(
        "R424", UNKNOWN, PLAIN, made(strays=[["2.6", "1", ".133", "", "MS20470AD4"]]), said="data reference"
    ),
    Case("R424", UNKNOWN, PLAIN, made(strays=[["2.6", "1", ".134", "", "MS20470AD4", "", DATA]])),
    Case("R424", STOP, PLAIN, made(strays=[["2.6", "1", ".138", "", "MS20470AD4", "", DATA]]), limit=0.135),
    Case("R424", STOP, PLAIN, made(strays=[["2.6", "1", ".133", "", "", "", DATA]])),
    Case("R424", PASS, PLAIN, made(strays=[["1.9", "0", ".125"]])),
    # In the doubler, whose outer edge lies at X = 3; the rivet at 2.3, 0 goes through both sheets.
    Case(
        "R107", PASS, RING, made(strays=[["2.748", "1", ".125", "", "", "doubler"]]), value=0.252, limit=0.250
    ),
    Case("R107", UNKNOWN, RING, made(strays=[["2.749", "1", ".125", "", "", "doubler"]])),
    Case("R107", STOP, RING, made(strays=[["2.753", "1", ".125", "", "", "doubler"]])),
    Case("R107", PASS, RING, made(strays=[["2.753", "1", ".125"]])),
    Case(
        "R217",
        PASS,
        RING,
        made(strays=[["2.3", ".377", ".125", "", "", "doubler"]]),
        value=0.377,
        limit=0.375,
    ),
    Case("R217", STOP, RING, made(strays=[["2.3", ".372", ".125", "", "", "doubler"]])),
    Case("R424", STOP, RING, made(strays=[["2.6", "1", ".125", "", "", "both"]]), said="skin and doubler"),
    Case(
        "R424", STOP, RING, made(strays=[["2.6", "1", ".125", "", "", "doubler"]]), said="open in the doubler"
    ),
    Case("R424", STOP, FLUSH, made(strays=[["0", "0", ".125", "", "", "cover"]]), said="open in the cover"),
    Case("R424", PASS, FLUSH, made(strays=[["2.6", "1", ".125", "", "", "cover"]])),
    Case("R421", PASS, PLAIN, made(heads=[[1, ".190", ".062"]])),
    Case("R421", PASS, PLAIN, made(heads=[[1, ".165", ".062"]])),
    Case("R421", UNKNOWN, PLAIN, made(heads=[[1, ".164", ".062"]]), limit=0.1625),
    Case("R421", STOP, PLAIN, made(heads=[[1, ".160", ".062"]]), limit=0.1625),
    Case("R422", PASS, PLAIN, {**SUNK, **made(countersinks=[[1, "", ".040"]])}),
    Case("R422", CAUTION, PLAIN, {**SUNK, **made(countersinks=[[1, "", ".054"]])}),
    Case("R422", UNKNOWN, PLAIN, {**SUNK, **made(countersinks=[[1, "", ".055"]])}, value=0.009, limit=0.008),
    Case("R422", STOP, PLAIN, {**SUNK, **made(countersinks=[[1, "", ".059"]])}, value=0.005, limit=0.008),
    Case(
        "R422",
        UNKNOWN,
        PLAIN,
        {**SUNK, "skin.measured": ".064", "skin.measured_u": ".002", **made(countersinks=[[1, "", ".0535"]])},
        value=0.0105,
        limit=0.008,
    ),
    Case("R423", STOP, FLUSH, made(cracked_dimples=[[101, ".01"]]), said="design approval holder"),
    Case("R427", STOP, PLAIN, made(fitted=[{"holes": [1], "rivet": "none"}]), said="left without a rivet"),
    Case("R427", PASS, PLAIN, made(fitted=[{"holes": [1], "rivet": "MS20470AD5"}])),
    Case("R426", PASS, PLAIN, looks([])),
    Case("R426", STOP, PLAIN, looks([["A", 1, ".06"]]), said="No further flight"),
    Case("R426", STOP, PLAIN, looks([["A", 1, ".06"]], [["A", 1, ".07"]]), said="is not shown"),
    Case("R426", STOP, PLAIN, looks([["A", 1, ".06"]], [["A", 1, ".08"]]), said="grown .020"),
    Case("R426", UNKNOWN, PLAIN, looks([["A", 1, ".06"]], [])),
    Case("R426", PASS, PLAIN, looks([["A", 1, ".06"]], [], resolved=DONE), said="by RB, data drawing 12"),
    Case("R426", PASS, PLAIN, looks([["A", 1, ".06"]], [], [], resolved=DONE), said="resolved on 2028-03-09"),
    Case(
        "R426",
        STOP,
        PLAIN,
        looks([["A", 1, ".06"]], [], [["A", 1, ".02"]], resolved=DONE),
        said="1: .020 long",
    ),
    Case("R425", PASS, RING, {"doubler.measured": ".0395"}),
    Case("R425", PASS, RING, {"doubler.measured": ".0365"}),
    Case("R425", STOP, RING, {"doubler.measured": ".0355"}),
    Case("R425", STOP, RING, THINNER),
)


@cases(*CASES)
def test_cases(case):
    case.holds()


@pytest.mark.parametrize(("u", "sure_in"), [("", 0.0346), (".0004", 0.0342), (".004", 0.0306)])
def test_strength_takes_a_sheet_no_thicker_than_it_is_sure_to_be(u, sure_in):
    """Read .0346, under the least that a .040 sheet is rolled to."""
    measured = {"measured": ".0346", **({"measured_u": u} if u else {})}
    layout = lay_out(read_job(job_text(RING | {"doubler": RING["doubler"] | measured})))
    site = site_of(layout)
    assert site.sheets["doubler"].thickness_in == pytest.approx(sure_in, abs=1e-9)


def test_the_u_of_no_thickness_is_refused():
    with pytest.raises(JobError) as caught:
        read_job(job_text(RING | {"doubler": RING["doubler"] | {"measured_u": ".001"}}))
    assert caught.value.faults[0].field == "doubler"


@pytest.fixture(scope="module")
def found(alder_text):
    """Findings of some rules on the example with further readings."""

    def judged(readings: str, *codes: str, change=lambda text: text):
        text = alder_text.replace('uncertainty = ".005"\n', f'uncertainty = ".005"\n{readings}\n', 1)
        return check_some(lay_out(read_job(change(text))), codes)

    return judged


def statuses(findings):
    return [finding.status for finding in findings]


@pytest.mark.parametrize(
    ("x", "edge"),
    [
        ("8.300", UNKNOWN),  # 8.300 - 8.012 = .288 = 2D + .028 of a .130 hole, u .05 given
        ("8.272", UNKNOWN),  # .260 = 2D exactly, measured
        ("8.190", STOP),
        ("8.012", STOP),  # on the edge itself
        ("8.400", PASS),
    ],
)
def test_a_stray_hole_to_the_opening_edge(found, x, edge):
    (one,) = found(f'strays = [["{x}", "4.20", ".130", ".05"]]', "R107")
    assert one.status is edge
    assert one.value == pytest.approx(float(x) - 8.012, abs=1e-12)
    assert one.limit == pytest.approx(2 * 0.130, abs=1e-12)
    # The hole names its own, the edge has the common .005: [JCGM 100] 5.1.2.
    assert one.judged.uncertainty == pytest.approx(math.hypot(0.05, 0.005), abs=1e-12)


def test_a_stray_hole_stops_until_it_is_filled_or_left_with_the_cutout(found):
    codes = "R107", "R217", "R424"
    open_, gone = found('strays = [["9.30", "4.20", ".128"], ["5.50", "4.50", ".128"]]', "R424")
    assert statuses((open_, gone)) == [STOP, PASS]
    assert open_.place == (9.30, 4.20)
    filled = found('strays = [["9.30", "4.20", ".128", ".001", "MS20470AD4"]]', *codes)
    assert statuses(filled) == [PASS, PASS, UNKNOWN]
    filled = found('strays = [["9.30", "4.20", ".128", ".001", "MS20470AD4", "", "EO 12"]]', *codes)
    assert statuses(filled) == [PASS] * 3
    (wide,) = found('strays = [["9.30", "4.20", ".140", ".001", "MS20470AD4"]]', "R424")
    assert (wide.status, wide.limit) == (STOP, 0.135)
    (straddling, *_) = found('strays = [["7.990", "4.20", ".128"]]', "R424")
    assert straddling.status is STOP


def test_a_stray_hole_beside_a_rivet_of_the_row(found):
    # Hole 5 was measured at 8.281, 4.502; 3D of the .128 hole is .384.
    (near,) = found('strays = [["8.281", "4.802", ".128"]]', "R217")
    assert near.status is STOP
    assert near.value == pytest.approx(0.300, abs=1e-9)
    assert near.limit == pytest.approx(0.384, abs=1e-9)
    two = found('strays = [["9.40", "4.00", ".128"], ["9.40", "4.30", ".128"]]', "R217")
    assert two[0].value == pytest.approx(0.300, abs=1e-9)


@pytest.mark.parametrize(
    ("head", "status", "limit"),
    [
        ('".190", ".062"', PASS, None),
        ('".150", ".062"', STOP, 1.3 * 0.125),
        ('".164", ".062"', UNKNOWN, 1.3 * 0.125),  # .0015 over by less than its u of .005
        ('".190", ".030"', STOP, 0.3 * 0.125),
        ('".230", ".062"', CAUTION, 0.21),  # wider than notes seen only restated allow
    ],
)
def test_shop_heads(found, head, status, limit):
    (one,) = found(f"heads = [[1, {head}]]", "R421")
    assert one.status is status
    assert one.holes == (1,)
    if limit is not None:
        assert one.limit == pytest.approx(limit, abs=1e-9)


def test_of_good_heads_the_least_sure_speaks(found):
    (one,) = found('heads = [[1, ".190", ".060"], [2, ".172", ".060"], [3, ".192", ".060"]]', "R421")
    assert (one.status, one.holes) == (PASS, (2,))


def flush_skin(text):
    """Alder with countersunk flush rivets in a thick enough skin along one row."""
    row = 'name = "outboard, inner"\nlay = "line"\nrivet = "MS20470AD4"'
    flush = 'name = "outboard, inner"\nlay = "line"\nrivet = "MS20426AD4"\npreparation = "countersink"'
    assert row in text
    return text.replace(row, flush).replace('thickness = ".032"\nmeasured = ".0315"', 'thickness = ".064"', 1)


# The diameter over a hole of .1285 is that of a 100 degree cone (.2243 - .1285) / 2.3835 = .0402 deep, u .002 / 2.3835.
@pytest.mark.parametrize(
    ("readings", "expected"),
    [
        ('[5, ".2243", ".0380", ".002"]', [UNKNOWN, PASS]),  # .0022 apart, u of both .00217
        ('[5, ".2243", ".0381", ".002"]', [PASS, PASS]),
        ('[5, ".300", ".040", ".002"]', [STOP, STOP]),  # by its diameter .0720 deep, through .064
        ('[5, ".225", ".040", ".002"]', [PASS, PASS]),
        ('[5, "", ".060", ".002"]', [STOP]),  # .004 of land under .008
        ('[5, "", ".0545", ".002"]', [UNKNOWN]),  # .0095 of land, known to .002
        ('[5, "", ".070", ".002"]', [STOP]),  # through
        ('[5, "", ".050", ".001"]', [CAUTION]),  # deeper than two thirds, a figure from memory
        ('[5, ".235", ".045", ".002"]', [CAUTION, STOP]),
        ('[5, ".215", ".036", ".002"]', [PASS, CAUTION]),
    ],
)
def test_countersinks(found, readings, expected):
    assert statuses(found(f"countersinks = [{readings}]", "R422", change=flush_skin)) == expected


def test_the_depth_by_the_diameter_at_the_surface(found):
    readings = 'sizes = [[21, ".130"]]\ncountersinks = [[21, ".200"]]'
    (one, *_) = found(readings, "R422")
    depth_in = (0.200 - 0.130) / 2 / math.tan(math.radians(50))
    assert one.value == pytest.approx(0.0315 - depth_in, abs=1e-9)  # the skin as measured


def test_every_cracked_dimple_stops_with_who_decides(found):
    cracks = found('cracked_dimples = [[101, ".06", ".02"], [102, ".01", ".02"]]', "R423")
    assert [(one.status, one.holes, one.judged.uncertainty) for one in cracks] == [
        (STOP, (101,), 0.02),
        (STOP, (102,), 0.02),
    ]
    assert all(any("disposition" in advice.id for advice in one.advice) for one in cracks)


@pytest.mark.parametrize(("measured", "status"), [(".0395", PASS), (".032", STOP), (".050", CAUTION)])
def test_measured_thickness_of_the_doubler(found, measured, status):
    def change(text):
        return text.replace('face = "inside"', f'face = "inside"\nmeasured = "{measured}"', 1)

    (one,) = found("", "R425", change=change)
    assert one.status is status


def test_a_stray_hole_in_a_sheet_that_is_not_there_is_refused():
    with pytest.raises(JobError) as caught:
        lay_out(read_job(job_text(PLAIN | made(strays=[["2.6", "1", ".125", "", "", "both"]]))))
    assert caught.value.faults[0].field == "as_made.strays.0.part"


@pytest.mark.parametrize("field", ["heads", "countersinks", "cracked_dimples"])
def test_a_reading_of_no_hole_is_named(found, field):
    with pytest.raises(JobError) as caught:
        found(f'{field} = [[999, ".190", ".062"]]', "R421")
    assert caught.value.faults[0].field == f"as_made.{field}"


def test_a_filed_edge_moved_by_010_moves_every_distance_to_it(alder_text):
    """Every rivet whose nearest edge is the filed one is nearer by what it was moved."""
    before, after = (
        survey(lay_out(read_job(text))).edges[0]
        for text in (alder_text, alder_text.replace('x_to = "8.012"', 'x_to = "8.022"'))
    )
    straight = [
        i for i, hole in enumerate(before.holes)
        if hole.row == "outboard, inner" and abs(before.foot_in[i, 0] - 8.012) < 1e-9 and 3.3 < hole.y_in < 5.7
    ]  # fmt: skip
    assert len(straight) == 3
    moved = before.distance_in[straight] - after.distance_in[straight]
    assert moved == pytest.approx([0.010] * len(straight), abs=1e-9)


def test_every_rule_still_answers_with_all_readings(alder_text):
    readings = (
        'heads = [[1, ".190", ".062"]]\ncountersinks = [[101, ".330", ".020"]]\n'
        'cracked_dimples = [[103, ".06"]]\nstrays = [["9.30", "4.20", ".128"]]'
    )
    text = alder_text.replace('uncertainty = ".005"\n', f'uncertainty = ".005"\n{readings}\n', 1)
    found = check(lay_out(read_job(text)))
    assert {"R107", "R217", "R421", "R422", "R423", "R424"} <= {one.code for one in found}


@pytest.mark.parametrize(
    ("hole_u", "edge_u", "status"), [("", "", UNKNOWN), (".0005", ".0005", STOP), (".0005", ".004", UNKNOWN)]
)
def test_the_u_of_each_reading_counts_in_its_judgement(alder_text, hole_u, edge_u, status):
    """Rivet 4 is .248 from the edge, .002 short of 2D: beyond doubt only where both places are known to less."""
    own = f', "", "{hole_u}"' if hole_u else ""
    text = alder_text.replace('[4, "8.260", "3.884"]', f'[4, "8.260", "3.884"{own}]')
    text += f'uncertainty = "{edge_u}"\n' if edge_u else ""
    found = check_some(lay_out(read_job(text)), ("R101",))
    assert next(one.status for one in found if one.holes == (4,)) is status
