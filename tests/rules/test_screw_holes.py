"""R815: screw holes as drilled.

No. 10 screws: .190 across, [ASME-B1.1]; close fit drill No. 5 = .2055, loose fit drill B = .238, [ASME-B18.2.8], seen
only restated; drill sizes: [ASME-B94.11M].
"""

from __future__ import annotations

from hatchwright.layout.lay_out import lay_out
from rules.cases import CAUTION, FLUSH, PASS, STOP, UNKNOWN, Case, cases, job_of, judged, typed

SCREWS = [hole for hole in lay_out(job_of(FLUSH)).holes if hole.kind == "screw"]


def drilled(*sizes: str) -> dict:
    """Screw holes where they are drawn, with the sizes that were measured."""
    holes = [
        [hole.number, typed(hole.x_in), typed(hole.y_in), size]
        for hole, size in zip(SCREWS, sizes, strict=False)
    ]
    return {"as_made": {"uncertainty": ".0001", "holes": holes}}


CASES = (
    Case("R815", PASS, FLUSH, drilled(".2054"), limit=0.2055),
    Case("R815", CAUTION, FLUSH, drilled(".2055"), said="your u is .001, so it can't be shown to pass"),
    Case("R815", CAUTION, FLUSH, drilled(".2379"), limit=0.2055, said="Loose fit"),
    Case("R815", UNKNOWN, FLUSH, drilled(".238"), limit=0.238),
    Case("R815", STOP, FLUSH, drilled(".2382"), limit=0.238, said="too large for any 10-32 fit"),
    Case("R815", PASS, FLUSH, drilled(".1901")),
    Case("R815", CAUTION, FLUSH, drilled(".1899"), limit=0.19, said="Open the hole with the final drill"),
    Case(
        "R815",
        UNKNOWN,
        FLUSH,
        {**drilled(".12"), "cover.screws.size": "4-40"},
        said="No clearance drills are listed",
    ),
)


@cases(*CASES)
def test_screw_hole_size(case):
    case.holds()


def test_each_bad_hole_speaks_for_itself_and_the_largest_good_one_for_all_others():
    found = judged("R815", FLUSH, drilled(".250", ".195", ".200", ".260"))
    numbers = [hole.number for hole in SCREWS]
    assert [(f.status, f.holes) for f in found] == [
        (STOP, (numbers[0],)),
        (STOP, (numbers[3],)),
        (PASS, (numbers[2],)),
    ]


def test_screw_holes_that_were_not_measured_are_not_judged():
    assert judged("R815", FLUSH) == []
