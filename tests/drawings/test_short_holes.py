"""What drawings say of short holes; the expected words follow from the findings by hand."""

from __future__ import annotations

from hatchwright.drawings.short_holes import remarks, short_holes
from hatchwright.finding import stated
from hatchwright.ground import Ground
from hatchwright.judged import Status
from hatchwright.workings import Grade, Source


def finding(code, status, holes, *, value=0.24, limit=0.25, unit="in", u=0.0):
    short = max(0.0, limit - value) if value is not None and limit is not None else 0.0
    return stated(
        code,
        status,
        "subject",
        Ground(Source("X"), Grade.PUBLISHED),
        value=value,
        limit=limit,
        unit=unit,
        holes=holes,
        shortfall=short,
        uncertainty=u,
    )


def test_the_worst_finding_of_each_hole_is_called_out_the_worst_hole_first():
    found = short_holes(
        (
            finding("R101", Status.UNKNOWN, (4,), value=0.248, u=0.005),
            finding("R101", Status.STOP, (15,), value=0.243),
            finding("R102", Status.STOP, (6,), value=0.249),
            finding("R101", Status.STOP, (6,), value=0.2429),
            finding("R103", Status.CAUTION, (101,)),
            finding("R101", Status.PASS, (5,), value=0.3),
        ),
        "in",
    )
    assert [(one.holes, one.words) for one in found] == [
        ((6,), ("6: SHORT .008",)),
        ((15,), ("15: SHORT .007",)),
        ((4,), ("4: SHORT .002", "WITHIN u .005")),
    ]


def test_pairs_ratios_and_values_over_a_limit_are_told_apart():
    found = short_holes(
        (
            finding("R201", Status.STOP, (4, 5), value=0.3, limit=0.375),
            finding("R501", Status.STOP, (7,), value=1.2, limit=1.3, unit="D"),
            finding("R601", Status.STOP, (1, 2, 3)),
            stated(
                "R802",
                Status.STOP,
                "hole size",
                Ground(Source("X"), Grade.PUBLISHED),
                value=0.14,
                limit=0.135,
                unit="in",
                holes=(9,),
                shortfall=0.005,
            ),
            finding("R901", Status.UNKNOWN, (8,), value=0.252, u=0.005),
        ),
        "in",
    )
    words = {one.holes: one.words for one in found}
    assert words == {
        (4, 5): ("4-5: SHORT .075",),
        (7,): ("7: SEE R501",),
        (8,): ("8: SEE R901", "WITHIN u .005"),
        (9,): ("9: OVER .005",),
    }


def test_the_table_names_cautions_by_their_rule_and_holes_of_long_lists_too():
    said = remarks(
        (
            finding("R101", Status.STOP, (6,), value=0.243),
            finding("R105", Status.CAUTION, (6,)),
            finding("R702", Status.CAUTION, (4, 5, 6, 7), value=None),
            finding("R101", Status.UNKNOWN, (4,), value=0.248, u=0.005),
            finding("R101", Status.PASS, (9,)),
        ),
        "in",
    )
    assert said == {
        4: "SHORT .002, u .005 R101; R702",
        5: "R702",
        6: "SHORT .007 R101; R105; R702",
        7: "R702",
    }


def test_millimeters_are_rounded_up_too():
    (one,) = short_holes((finding("R101", Status.STOP, (6,), value=0.243),), "mm")
    assert one.words == ("6: SHORT 0.18 mm",)
