"""What a sweep varies: ranges, lists, stock gauges, and what is refused."""

from __future__ import annotations

import pytest

from hatchwright.errors import EntryError
from hatchwright.job.file import read_job
from hatchwright.search.variation import (
    Variation,
    changes_of,
    parse_variation,
    refuse_unknown,
    variants_of,
)
from tests.strength.jobs import SQUARE


def test_a_range_of_thicknesses_takes_the_stock_gauges_between() -> None:
    """Stock from .025 to .050: .025, .032, .040, .050."""
    found = parse_variation("doubler.thickness=.025:.050")
    assert found == Variation("doubler.thickness", ("0.025 in", "0.032 in", "0.040 in", "0.050 in"))


def test_a_range_of_a_metric_job_takes_the_same_gauges_in_its_unit() -> None:
    """Stock of .025, .032, .040 and .050 times 25.4; refused in millimeters too."""
    found = parse_variation("doubler.thickness=0.6:1.3", unit="mm")
    assert found.values == ("0.635 mm", "0.8128 mm", "1.016 mm", "1.27 mm")
    with pytest.raises(EntryError, match=r"doubler\.thickness=0\.6:1\.3"):
        parse_variation("doubler.thickness=.025:.050", unit="mm")


@pytest.mark.parametrize(
    ("text", "values"),
    [
        ("rows.pitch=.5:.8:.1", ("0.5", "0.6", "0.7", "0.8")),
        ("rows.pitch=.5:.75:.1", ("0.5", "0.6", "0.7")),
        ("rows.0.pitch = 12:12:1", ("12",)),
        ("rows.rivet=MS20470AD3, MS20470AD4", ("MS20470AD3", "MS20470AD4")),
        ("doubler.thickness=.04", (".04",)),
    ],
)
def test_ranges_and_lists(text: str, values: tuple[str, ...]) -> None:
    assert parse_variation(text).values == values


@pytest.mark.parametrize(
    "text",
    [
        "rows.pitch",
        "=.5",
        "rows.pitch=",
        "rows.pitch=.5:.8",
        "rows.pitch=.8:.5:.1",
        "rows.pitch=.5:.8:0",
        "rows.pitch=.5:.8:1e-9",
        "rows.pitch=a:b:c",
        "rows.pitch=.5,,.6",
        "rows.pitch=.5,.5",
        "doubler.thickness=.0001:.0002",
        "rows pitch=1",
        "rows.pitch=0:100:.000001",
    ],
)
def test_what_cannot_be_read_is_refused_with_an_example(text: str) -> None:
    with pytest.raises(EntryError) as caught:
        parse_variation(text)
    assert "doubler.thickness=.025:.050" in str(caught.value)


def test_every_combination_the_last_field_fastest() -> None:
    found = variants_of([Variation("a.b", ("1", "2")), Variation("c.d", ("x", "y"))])
    assert [tuple(value for _, value in variant) for variant in found] == [
        ("1", "x"),
        ("1", "y"),
        ("2", "x"),
        ("2", "y"),
    ]


def test_a_field_twice_or_too_many_variants_are_refused() -> None:
    with pytest.raises(EntryError, match="twice"):
        variants_of([Variation("a", ("1",)), Variation("a", ("2",))])
    with pytest.raises(EntryError, match="10000 variants"):
        variants_of([Variation(name, tuple(map(str, range(100)))) for name in "ab"])


def test_a_list_without_a_number_means_all_of_it() -> None:
    assert dict(changes_of(SQUARE, (("rows.pitch", ".6"),))) == {"rows.0.pitch": ".6", "rows.1.pitch": ".6"}
    assert dict(changes_of(SQUARE, (("rows.1.pitch", ".6"),))) == {"rows.1.pitch": ".6"}
    with pytest.raises(EntryError, match="no section 'window'"):
        changes_of(SQUARE, (("window.size", "1"),))


def test_one_field_by_two_names_is_refused() -> None:
    with pytest.raises(EntryError, match=r"rows.1.pitch is varied twice"):
        changes_of(SQUARE, (("rows.pitch", ".6"), ("rows.1.pitch", ".7")))


@pytest.mark.parametrize(
    ("field", "said"),
    [
        ("rows.0.ptch", "rows.0 has no 'ptch'. Did you mean pitch?"),
        ("doubler.outer.raduis", "doubler.outer has no 'raduis'. Did you mean radius?"),
        ("skin.colour", "skin has no 'colour'. It has: alloy, temper"),
        ("rows.7.pitch", "rows has no '7'. It has 2, counted from 0"),
        ("cover.thickness", "cover is not in the job. Add it there first"),
        ("skin.thickness.max", "skin.thickness has no 'max': it is a single value"),
        ("doubler", "doubler is a whole section. Vary one of its entries: alloy"),
        ("rows", "rows is a list. Vary a part of it, such as rows.0"),
    ],
)
def test_a_key_that_no_job_has_is_refused_with_the_near_one(field: str, said: str) -> None:
    with pytest.raises(EntryError) as caught:
        refuse_unknown(read_job(SQUARE), field)
    assert said in str(caught.value)


@pytest.mark.parametrize(
    "field",
    ["rows.1.pitch", "rows.0.first_number", "frame.origin", "opening.center.1", "doubler.outer.radius"],
)
def test_keys_that_a_job_may_have_are_taken_whether_written_or_not(field: str) -> None:
    refuse_unknown(read_job(SQUARE), field)
