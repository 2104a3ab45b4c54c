"""R203, R206 to R208, R211: the pattern of rows.

Limits: 8 D, [NAVEDTRA-14018] ch. 13; 10 D and overlap 6.5 D, seen only restated ([FAA-H-8083-31] ch. 4, [FAA-KT]);
flush 3.5 and 4.5 D, [FAA-H-8083-31] fig. 4-79, from memory; a quarter of the pitch for stagger, common practice, no
source.
"""

from __future__ import annotations

from rules.cases import CAUTION, PASS, PLAIN, RING, UNKNOWN, Case, along_y, cases, judged, rivets, typed


def pair(apart: float, rivet: str = "MS20470AD4") -> dict:
    return {"rows": [rivets((2.3, 0.0), (2.3, apart), rivet=rivet)]}


def rows(*, pitch: float = 0.5, offset: float = 0.25, rivet: str = "MS20470AD4") -> dict:
    first = along_y(2.25, pitch=pitch, name="inner", rivet=rivet)
    second = along_y(2.5625, pitch=pitch, start=-0.8 + offset, name="outer", rivet=rivet)
    return {"rows": [first, second]}


def triple(pitch: float) -> dict:
    """Three flush rows side by side."""
    return {
        "rows": [along_y(2.25 + 0.33 * k, pitch=pitch, name=f"row {k}", rivet="MS20426AD4") for k in range(3)]
    }


def measured_ring(**opening):
    """Opening and doubler as measured, .8185 apart at the highest X, with a common u of .005."""
    edges = {"shape": "edges", "x_from": "-2", "x_to": "2", "y_from": "-2", "y_to": "2", "radius": "1"}
    outer = {**edges, "x_from": "-3", "x_to": "2.8185", "y_from": "-3", "y_to": "3"}
    return {"as_made": {"uncertainty": ".005", "opening": {**edges, **opening}, "doubler_outer": outer}}


CASES = (
    # 8 D = 1.000, 10 D = 1.250
    Case("R203", PASS, PLAIN, pair(1.0), limit=1.0),
    Case("R203", CAUTION, PLAIN, pair(1.001), said="8.01D of 8D, .001 over."),
    Case("R207", PASS, PLAIN, pair(1.25), limit=1.25),
    Case("R207", UNKNOWN, PLAIN, pair(1.251)),
    # single 3.5 D = .4375, double 4.5 D = .5625
    Case("R206", PASS, PLAIN, pair(0.4375, "MS20426AD4"), limit=0.4375),
    Case("R206", CAUTION, PLAIN, pair(0.437, "MS20426AD4"), said="from memory. Confirm it"),
    Case("R206", PASS, RING, rows(pitch=0.5625, rivet="MS20426AD4"), limit=0.5625),
    Case("R206", CAUTION, RING, rows(pitch=0.562, rivet="MS20426AD4")),
    Case("R206", PASS, RING, triple(0.4375), limit=0.4375),
    Case("R206", CAUTION, RING, triple(0.437)),
    # 6.5 D = .8125 between the edges at X = 2 and half the doubler's width
    Case("R208", PASS, RING, {**rows(), "doubler.outer.width": "5.625"}, limit=0.8125),
    Case("R208", UNKNOWN, RING, {**rows(), "doubler.outer.width": "5.624"}),
    # Both edges as measured to .005: an own u of one makes it the root of squares, .0071, of .006 over.
    Case("R208", PASS, RING, {**rows(), **measured_ring()}),
    Case("R208", UNKNOWN, RING, {**rows(), **measured_ring(x_to_u=".005")}),
    Case("R211", PASS, RING, rows(offset=0.125), value=0.25),
    Case("R211", CAUTION, RING, rows(offset=0.1245), value=0.249, said="face each other"),
)


def beside(job: dict, *, number: int, x: float, y: float) -> dict:
    """A job with one hole measured, the others drawn."""
    return {
        **job,
        "as_made": {"uncertainty": ".005", "holes": [[number, typed(x), typed(y)]]},
    }


def three(pitch: float, rivet: str = "MS20470AD4") -> dict:
    return {"rows": [along_y(2.3, pitch=pitch, count=3, start=0.0, rivet=rivet)]}


CASES += (
    # a drawn neighbor at its limit does not hide a measured one that lies within its u of .005
    Case("R203", PASS, PLAIN, beside(three(1.0), number=1, x=2.3, y=0.005)),
    Case("R203", CAUTION, PLAIN, beside(three(1.0), number=1, x=2.3, y=0.004), value=0.996),
    Case("R207", PASS, PLAIN, beside(three(1.25), number=1, x=2.3, y=0.005)),
    Case("R207", UNKNOWN, PLAIN, beside(three(1.25), number=1, x=2.3, y=0.004), said="can't be shown"),
    Case("R206", PASS, PLAIN, beside(three(0.4375, "MS20426AD4"), number=1, x=2.3, y=-0.005)),
    Case("R206", CAUTION, PLAIN, beside(three(0.4375, "MS20426AD4"), number=1, x=2.3, y=-0.004)),
    Case("R208", PASS, RING, beside({**rows(), "doubler.outer.width": "5.635"}, number=1, x=2.25, y=-0.8)),
    Case("R208", UNKNOWN, RING, beside({**rows(), "doubler.outer.width": "5.634"}, number=1, x=2.25, y=-0.8)),
)


@cases(*CASES)
def test_row_pattern(case):
    case.holds()


def test_one_row_needs_no_overlap_for_two():
    assert judged("R208", RING) == []


def test_protruding_heads_have_no_flush_pitch():
    assert judged("R206", PLAIN, pair(0.3)) == []
