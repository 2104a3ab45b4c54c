"""SVG: true size, read by a library that knows nothing of ours (svgpathtools) and by the XML reader."""

from __future__ import annotations

import io
import math
import re
from xml.etree import ElementTree

import pytest
import svgpathtools

from hatchwright.drawings.lettering import literal
from hatchwright.drawings.writers.svg import screen_svg_of, svg_of
from writers.sheets import HOLES, HOSTILE, bay, lettered, plate

SPACE = "{http://www.w3.org/2000/svg}"


def group(root, css):
    return next(g for g in root.iter(f"{SPACE}g") if g.get("class", "").split()[0] == css)


def paths_of(data, css):
    return [svgpathtools.parse_path(path.get("d")) for path in group(ElementTree.fromstring(data), css)]


def area_of(path):
    """Area by the shoelace of the ends and the segment that each arc, as the other library reads it, adds."""
    ends = [piece.end for piece in path]
    chords = sum((a.conjugate() * b).imag for a, b in zip(ends, [*ends[1:], ends[0]], strict=True)) / 2.0
    turns = [(math.radians(p.delta), p.radius.real) for p in path if isinstance(p, svgpathtools.Arc)]
    return abs(chords + sum(radius**2 / 2.0 * (turn - math.sin(turn)) for turn, radius in turns))


@pytest.mark.parametrize(("unit", "per_in"), [("in", 1.0), ("mm", 25.4)])
def test_an_opening_has_its_true_size_for_another_reader(unit, per_in):
    (opening,) = paths_of(svg_of(bay(unit)), "layer-opening")
    x_min, x_max, y_min, y_max = opening.bbox()
    assert (x_min, x_max) == pytest.approx((3.0 * per_in, 8.0 * per_in), abs=1e-5)
    assert (y_min, y_max) == pytest.approx((-6.5 * per_in, -2.5 * per_in), abs=1e-5)
    # closed forms of a 5 x 4 rectangle with R .75
    assert opening.length() == pytest.approx((2 * (3.5 + 2.5) + 2 * math.pi * 0.75) * per_in, rel=1e-6)
    assert area_of(opening) == pytest.approx((20.0 - (4 - math.pi) * 0.75**2) * per_in**2, rel=1e-6)
    assert opening.isclosed()


def test_arcs_stay_arcs_and_half_circles_keep_their_center():
    (slot,) = paths_of(svg_of(bay()), "layer-template")
    arcs = [piece for piece in slot if isinstance(piece, svgpathtools.Arc)]
    assert len(arcs) == 4
    assert {round(arc.radius.real, 6) for arc in arcs} == {0.125}
    centers = sorted({(round(arc.center.real, 5), round(arc.center.imag, 5)) for arc in arcs})
    assert centers == [(4.0, -0.325), (5.0, -0.325)]


@pytest.mark.parametrize("unit", ["in", "mm"])
def test_one_user_unit_is_one_unit_on_paper(unit):
    root = ElementTree.fromstring(svg_of(plate(unit)))
    view = [float(word) for word in root.get("viewBox").split()]
    assert root.get("width") == f"{view[2]:.7f}".rstrip("0").rstrip(".") + unit
    assert root.get("height") == f"{view[3]:.7f}".rstrip("0").rstrip(".") + unit


def test_holes_carry_their_numbers():
    root = ElementTree.fromstring(svg_of(bay()))
    circles = {int(c.get("data-hole")): c for c in root.iter(f"{SPACE}circle") if c.get("data-hole")}
    assert {n: (float(c.get("cx")), -float(c.get("cy"))) for n, c in circles.items()} == HOLES
    assert all(float(c.get("r")) == 0.049 for c in circles.values())


def test_a_note_can_be_found_and_marked_by_a_page():
    root = ElementTree.fromstring(screen_svg_of(bay()))
    (note,) = [text for text in root.iter(f"{SPACE}text") if text.get("data-note") == "R101-4"]
    assert note.text == "4: SHORT .002"
    assert note.get("class") == "short"


@pytest.mark.parametrize("written", [svg_of(bay()).decode(), screen_svg_of(bay())], ids=["paper", "screen"])
def test_a_strict_content_policy_has_nothing_to_refuse(written):
    root = ElementTree.fromstring(written)
    names = {name for element in root.iter() for name in element.keys()}  # noqa: SIM118
    assert not names & {"style", "href", "src", "{http://www.w3.org/1999/xlink}href"}
    assert not any(name.startswith("on") for name in names)
    assert {element.tag.removeprefix(SPACE) for element in root.iter()} <= {
        "svg", "title", "desc", "g", "path", "circle", "text", "rect",
    }  # fmt: skip
    assert "url(" not in written


def test_black_on_white_only():
    root = ElementTree.fromstring(screen_svg_of(bay()))
    inks = {e.get(name) for e in root.iter() for name in ("fill", "stroke") if e.get(name)}
    assert inks == {"#000", "#fff", "none"}


def test_line_styles_differ_without_colour():
    root = ElementTree.fromstring(svg_of(bay()))
    kinds = {}
    for g in root.iter(f"{SPACE}g"):
        style = g.get("class").split()[1]
        if style.startswith("line-"):
            kinds[style] = (g.get("stroke-width"), g.get("stroke-dasharray"))
    assert (
        len(
            {
                kinds[s]
                for s in ("line-finished", "line-dimension", "line-hidden", "line-center", "line-phantom")
            }
        )
        == 5
    )
    thick, thin = float(kinds["line-finished"][0]), float(kinds["line-dimension"][0])
    assert thick == pytest.approx(0.6 / 25.4, rel=1e-4)
    assert thick == pytest.approx(2.0 * thin, rel=1e-4)


def test_the_screen_drawing_fills_what_it_is_given():
    root = ElementTree.fromstring(screen_svg_of(bay()))
    assert root.get("width") is None
    assert root.get("height") is None
    assert root.get("viewBox")
    assert root.get("role") == "img"


def test_the_close_look_holds_every_hole_and_lies_within_the_drawing():
    root = ElementTree.fromstring(screen_svg_of(bay()))
    whole, close = ([float(word) for word in root.get(name).split()] for name in ("data-whole", "data-close"))
    first = [float(word) for word in root.get("viewBox").split()]
    assert first[0] <= close[0] < close[0] + close[2] <= first[0] + first[2]
    assert whole[0] <= close[0] < close[0] + close[2] <= whole[0] + whole[2]
    assert whole[1] <= close[1] < close[1] + close[3] <= whole[1] + whole[3]
    for x, y in HOLES.values():
        assert close[0] + 0.1 < x < close[0] + close[2] - 0.1
        assert close[1] + 0.1 < -y < close[1] + close[3] - 0.1


@pytest.mark.parametrize("words", HOSTILE, ids=range(len(HOSTILE)))
def test_hostile_text_stays_text(words):
    for written in (svg_of(lettered(words)), screen_svg_of(lettered(words)).encode()):
        root = ElementTree.parse(io.BytesIO(written)).getroot()
        assert not list(root.iter(f"{SPACE}script"))
        shown = [text.text or "" for text in root.iter(f"{SPACE}text")]
        assert shown.count(literal(words)) >= (1 if words.strip() else 0)


def test_the_same_sheet_gives_the_same_bytes():
    assert svg_of(bay()) == svg_of(bay())


def test_no_number_is_written_with_an_exponent():
    numbers = re.findall(r'd="([^"]*)"', svg_of(bay()).decode())
    assert not any("e" in path for path in numbers)
