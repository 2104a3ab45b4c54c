"""Pictures of the strength analysis: sizes, what they show without gray, and lines where the values are."""

from __future__ import annotations

import re
from datetime import UTC, datetime
from xml.etree import ElementTree

import numpy as np
import pytest
from shapely.geometry import LineString, Point

from hatchwright.drawings.picture import Picture, isolines, round_step, thinned
from hatchwright.fem.buckling import State
from hatchwright.search.strength_answer import StrengthAnswer
from hatchwright.strength.fields import edge_curve, stress_field
from hatchwright.workflow.strength import strength_of
from hatchwright.workflow.strength_papers import strength_papers
from tests.made_once import by_name
from tests.strength.jobs import ANSWERED, SYMMETRIC, layout_of, running

SVG = "{http://www.w3.org/2000/svg}"
STAMP = datetime(2026, 3, 1, 10, 0, tzinfo=UTC)


@pytest.fixture(scope="module")
def answer() -> StrengthAnswer:
    job = layout_of(ANSWERED, running({"nx": 100.0, "q": -60.0}), base=SYMMETRIC).job
    return strength_of(job)


@pytest.fixture(scope="module")
def files(answer: StrengthAnswer) -> dict[str, bytes]:
    return by_name(strength_papers(answer, stamp=STAMP, stem="square"))


def words(svg: bytes) -> str:
    return " ".join(text.text or "" for text in ElementTree.fromstring(svg).iter(f"{SVG}text"))


def of(files: dict[str, bytes], name: str) -> bytes:
    return next(made for file, made in files.items() if file.endswith(f"{name}.svg"))


@pytest.mark.parametrize("name", ["STRESS", "FREE_BODY", "EDGE", "BUCKLING"])
def test_each_picture_is_small_whole_and_says_what_it_is(files: dict[str, bytes], name: str) -> None:
    svg = of(files, name)
    assert len(svg) < 32_000
    assert "case 1" in words(svg)
    assert "NOT APPROVED DATA" in words(svg)
    assert not re.search(rb"<script|style=|href=|NaN|nan", svg)


def test_the_free_body_is_in_balance(answer: StrengthAnswer, files: dict[str, bytes]) -> None:
    """What is handed on across the middle is what the doubler carries there, found by its displacements."""
    analysis = answer.report.analysis
    assert analysis is not None
    found = analysis.cases[0]
    told = words(of(files, "FREE_BODY"))
    sums = [float(one.replace(",", "")) for one in re.findall(r"sum [XY] (-?[\d,.]+) lbf", told)]
    assert sums[0] == pytest.approx(found.pick_up_lbf[0], rel=0.01)
    assert "Nx 100 lbf/in" in told
    assert "q -60 lbf/in" in told


def test_bands_are_told_by_lines_and_numbers_too(files: dict[str, bytes]) -> None:
    root = ElementTree.fromstring(of(files, "STRESS"))
    filled = [
        path
        for path in root.iter(f"{SVG}path")
        if path.get("fill") not in (None, "none", "#000000", "#ffffff")
    ]
    assert len(filled) > 8
    assert all(path.get("stroke") == "#000" for path in filled if path.get("clip-path"))
    assert "ksi" in words(of(files, "STRESS"))
    assert "lbf on the doubler" in words(of(files, "STRESS"))


def test_the_key_reaches_the_greatest_stress_that_shows(
    answer: StrengthAnswer, files: dict[str, bytes]
) -> None:
    assert answer.report.analysis is not None
    found = answer.report.analysis.cases[0]
    field = stress_field(found)
    tops = [float(top) for top in re.findall(r"to ([\d.]+) ksi", words(of(files, "STRESS")))]
    edge = np.abs(edge_curve(found).after_psi).max()
    assert max(tops) * 1000 >= 0.97 * edge
    assert field.stress_psi.max() == pytest.approx(edge, rel=0.05)


def test_the_edge_curve_holds_both_peaks(answer: StrengthAnswer, files: dict[str, bytes]) -> None:
    analysis = answer.report.analysis
    assert analysis is not None
    found = analysis.cases[0]
    curve = edge_curve(found)
    assert np.abs(curve.after_psi).max() == pytest.approx(abs(found.after.stress_psi))
    assert np.abs(curve.before_psi).max() == pytest.approx(abs(found.before.stress_psi), rel=0.01)
    window = np.abs(found.response.edge("doubler").stress_psi).max()
    assert np.abs(curve.window_psi).max() == pytest.approx(window)
    assert f"doubler inner edge: {window / 1000:.1f}" in words(of(files, "EDGE")).replace("-", "")
    assert curve.way_in[0] == 0.0
    assert np.all(np.diff(curve.way_in) > 0)
    assert curve.places_in[0] == pytest.approx(
        (2.0, 0.0), abs=0.2
    )  # the middle of the side at the greatest X
    # 4 x 4 with corners of radius 1: four sides of 2 and a whole circle
    assert curve.way_in[-1] == pytest.approx(8 + 2 * np.pi, rel=1e-3)


def test_the_mode_and_its_picture_say_what_the_margin_says(
    answer: StrengthAnswer, files: dict[str, bytes]
) -> None:
    """The margin rests on the factor less the last step of the grid, 1 - (coarse - fine) / fine of it."""
    analysis = answer.report.analysis
    assert analysis is not None
    margin = next(margin for margin in answer.report.margins if margin.code == "S803")
    apart = analysis.cases[0].buckling[State.SHEETS_APART]
    assert margin.allowable is not None
    assert 0.95 * apart.lowered == pytest.approx(margin.allowable.value)
    assert apart.lowered < apart.factor
    assert apart.mode is not None
    assert np.abs(apart.mode.deflection).max() == pytest.approx(1.0)
    said = re.search(r"buckles at ([\d.]+)", words(of(files, "BUCKLING")))
    assert said is not None
    # three figures, never rounded up
    assert float(said[1]) == pytest.approx(np.floor(1000.0 * margin.allowable.value) / 1000.0)


def test_isolines_of_a_cone_are_circles() -> None:
    """Height 1 - r over a fan of triangles: the line of level .5 lies at r .5, closed, to the flatness of the
    triangles.
    """
    rings, spokes = 12, 60
    r, a = np.meshgrid(np.linspace(0.05, 1.0, rings), np.arange(spokes) * 2 * np.pi / spokes, indexing="ij")
    points = np.column_stack([(r * np.cos(a)).ravel(), (r * np.sin(a)).ravel()])
    at = np.arange(rings * spokes).reshape(rings, spokes)
    near, far = at[:-1], at[1:]
    near_on, far_on = np.roll(near, -1, axis=1), np.roll(far, -1, axis=1)
    triangles = np.concatenate(
        [
            np.stack([near, far, far_on], axis=-1).reshape(-1, 3),
            np.stack([near, far_on, near_on], axis=-1).reshape(-1, 3),
        ]
    )
    lines = isolines(points, triangles, 1.0 - np.hypot(*points.T), 0.5)
    assert len(lines) == 1
    assert np.hypot(*lines[0].T) == pytest.approx(np.full(len(lines[0]), 0.5), abs=0.003)
    assert lines[0][0] == pytest.approx(lines[0][-1])


@pytest.mark.parametrize(("most", "step"), [(83.0, 10.0), (8.0, 1.0), (160.0, 20.0), (0.9, 0.1), (19.0, 2.5)])
def test_round_steps(most: float, step: float) -> None:
    assert round_step(most) == pytest.approx(step)


def test_words_of_a_picture_have_no_meaning() -> None:
    picture = Picture(100, 100, "<b>&")
    picture.words((1, 1), "</text><script>alert(1)</script>\n")
    root = ElementTree.fromstring(picture.svg())
    assert [child.tag for child in root.iter(f"{SVG}script")] == []


def test_the_same_time_makes_the_same_bytes(answer: StrengthAnswer, files: dict[str, bytes]) -> None:
    assert by_name(strength_papers(answer, stamp=STAMP, stem="square")) == files


@pytest.mark.parametrize("stray", [0.05, 0.5, 5.0])
def test_a_thinned_line_strays_no_further_than_allowed(stray: float) -> None:
    """Against shapely's distance from every point to the line that is kept."""
    angle = np.linspace(0.0, 2 * np.pi, 400)
    points = np.column_stack([(40 + 6 * np.sin(7 * angle)) * np.cos(angle), 40 * np.sin(angle)])
    kept = thinned(points, stray)
    line = LineString(kept)
    assert max(line.distance(Point(*point)) for point in points) <= stray + 1e-9
    assert kept[0] == pytest.approx(points[0])
    assert kept[-1] == pytest.approx(points[-1])
    assert len(kept) < 200


def test_a_straight_line_keeps_its_ends_only() -> None:
    assert len(thinned(np.column_stack([np.linspace(0, 9, 50), np.linspace(0, 3, 50)]), 0.01)) == 2


def test_arrows_point_the_way_of_the_force() -> None:
    picture = Picture(100, 100, "arrow")
    picture.arrows(
        [(np.array([10.0, 10.0]), np.array([60.0, 10.0])), (np.zeros(2), np.array([0.3, 0.0]))], head=9
    )
    shaft, head = re.findall(r'd="([^"]+)"', picture.svg().decode())
    assert shaft == "M10 90l41 0"
    assert head == "M60 90l-9-3 0 6z"
