"""What an SVG drawing shows, against svgpathtools, an outside reader; and what is refused, each by its name."""

from __future__ import annotations

import math
import re

import numpy as np
import pytest
import shapely
import svgpathtools
from shapely import LineString

from hatchwright.errors import EntryError
from hatchwright.inspection.trace.svg_runs import svg_runs

SAG = 0.0002
HEAD = '<svg xmlns="http://www.w3.org/2000/svg" xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape"'
PATHS = [
    "M 1 1 h 3 v 2.5 l -1 .5 H 1 Z",
    "m1,1c2,-1 3,1 2,2s-2 1-3,0z",
    "M1 1Q 3 0 4 2T 2 3z",
    "M1 2a1.5 1 20 1 0 2 1A 2 2 0 0 1 1 2",
    "M1,1a.2.3 0 011.5,2 L 3-1.5e-1 z",
]
MOVES = [
    "",
    "translate(2,1)",
    "matrix(.8 .1 -.2 1.1 3 4)",
    "translate(1) rotate(30, 2, 1) scale(1.5 .5)",
    "skewX(20),skewY(-5) rotate(-40)",
]


def runs_of(body, size='width="10in" height="10in" viewBox="0 0 10 10"', **how):
    how = {"layer": "", "unit": None, "sag_in": SAG, "name": "ring.svg", **how}
    return svg_runs(f"{HEAD} {size}>{body}</svg>", **how)


def matrix_of(move):
    """What a transform attribute says, multiplied here as chapter 7 of SVG 1.1 has it."""
    found = np.eye(3)
    for name, text in re.findall(r"(\w+)\(([^)]*)\)", move):
        v = [float(one) for one in text.replace(",", " ").split()]
        cos, sin, tan = (one(math.radians(v[0])) for one in (math.cos, math.sin, math.tan))
        match name:
            case "matrix":
                one = np.array([[v[0], v[2], v[4]], [v[1], v[3], v[5]], [0, 0, 1]])
            case "translate":
                one = shift(v[0], v[1] if len(v) > 1 else 0.0)
            case "scale":
                one = np.diag([v[0], v[-1], 1.0])
            case "rotate":
                one = np.array([[cos, -sin, 0], [sin, cos, 0], [0, 0, 1]])
                one = shift(*v[1:]) @ one @ shift(-v[1], -v[2]) if len(v) > 1 else one
            case "skewX":
                one = np.array([[1, tan, 0], [0, 1, 0], [0, 0, 1]])
            case "skewY":
                one = np.array([[1, 0, 0], [tan, 1, 0], [0, 0, 1]])
        found = found @ one
    return found


def shift(x, y):
    return np.array([[1, 0, x], [0, 1, y], [0, 0, 1.0]])


@pytest.mark.parametrize("path", PATHS)
@pytest.mark.parametrize("move", MOVES)
def test_a_path_lies_where_an_outside_reader_has_it(path, move):
    (run,) = runs_of(f'<g transform="{move}"><path d="{path}"/></g>')
    z = np.array([piece.point(t) for piece in svgpathtools.parse_path(path) for t in np.linspace(0, 1, 60)])
    x, y, _ = matrix_of(move) @ np.array([z.real, z.imag, np.ones(len(z))])
    ours = LineString(np.column_stack([run.real, -run.imag]))  # Y runs down there
    assert shapely.distance(ours, shapely.points(x, y)).max() < 1.5 * SAG
    theirs = LineString(np.column_stack([x, y]))
    assert shapely.distance(theirs, shapely.points(run.real, -run.imag)).max() < 0.003


@pytest.mark.parametrize(
    ("size", "unit", "inches"),
    [
        ('width="100mm" height="50mm" viewBox="0 0 200 100"', None, 0.5 / 25.4),
        ('width="10cm" viewBox="0 0 100 50"', None, 1 / 25.4),
        ('width="5in" height="5in"', None, 1 / 96),
        ('width="72pt" height="72pt" viewBox="-3 -3 1 1"', None, 1.0),
        ('width="800" height="600"', "mm", 1 / 25.4),
        ('viewBox="0 0 8 6"', "in", 1.0),
        ('width="100%" height="100%"', "in", 1.0),
        ('width="8in" height="6in" viewBox="0 0 8 6"', "in", 1.0),
    ],
)
def test_a_unit_of_the_drawing_is_that_of_its_size(size, unit, inches):
    (run,) = runs_of('<line x1="0" y1="0" x2="3" y2="4"/>', size, unit=unit)
    assert abs(run[-1] - run[0]) == pytest.approx(5 * inches)


def test_plain_shapes_are_what_they_are():
    rect, rounded, circle, ellipse = runs_of(
        '<rect x="1" y="1" width="4" height="3"/><rect width="4" height="3" rx=".5"/>'
        '<circle cx="2" cy="2" r="1"/><ellipse rx="2" ry="1"/>'
    )
    areas = [
        abs(np.sum((run.conj() * np.roll(run, -1)).imag)) / 2 for run in (rect, rounded, circle, ellipse)
    ]
    expected = [12, 12 - (4 - np.pi) / 4, np.pi, 2 * np.pi]
    assert areas == pytest.approx(expected, abs=2e-3)


def test_what_is_hidden_or_of_another_layer_is_no_edge():
    body = (
        '<g inkscape:label="ring"><circle r="1"/></g><g id="notes"><circle r="2"/></g>'
        '<g style="opacity:1;display:none"><circle r="3"/></g><circle r="4" visibility="hidden"/>'
        '<defs><circle r="5"/></defs><text>R 5</text><inkscape:grid><circle r="6"/></inkscape:grid>'
    )
    assert len(runs_of(body)) == 2
    (run,) = runs_of(body, layer="ring")
    assert np.abs(run).max() == pytest.approx(1.0)


BOMB = (
    '<!DOCTYPE svg [<!ENTITY a "0 0 1 1 ">' + "".join(
        f'<!ENTITY {chr(98 + k)} "{f"&{chr(97 + k)};" * 10}">' for k in range(9)
    ) + "]>" + HEAD + '><path d="M&j;"/></svg>'
)  # fmt: skip


@pytest.mark.parametrize(
    ("text", "refusal"),
    [
        (BOMB, "trace.svg_entity"),
        (f'<!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/passwd">]>{HEAD}>&x;</svg>', "trace.svg_entity"),
        (f'{HEAD} width="1in"><g></svg>', "trace.svg_unread"),
        ("<html></html>", "trace.svg_unread"),
        (f'{HEAD} width="800px" height="600"><circle r="1"/></svg>', "trace.svg_unit"),
        (f'{HEAD} width="8in" height="9in" viewBox="0 0 8 6"/>', "trace.svg_stretched"),
    ],
)
def test_a_drawing_that_says_too_little_or_too_much_is_refused(text, refusal):
    with pytest.raises(EntryError) as refused:
        svg_runs(text, layer="", unit=None, sag_in=SAG, name="ring.svg")
    assert refused.value.what.id == refusal
    assert "ring.svg" in str(refused.value)


@pytest.mark.parametrize(
    ("body", "refusal"),
    [
        ('<use href="#a"/>', "trace.svg_kind"),
        ("<svg/>", "trace.svg_kind"),
        ('<g style="transform:rotate(3deg)"/>', "trace.svg_style"),
        ('<g transform="rotate3d(1,1,1,3)"/>', "trace.svg_transform"),
        ('<g transform="rotate(3) hello"/>', "trace.svg_transform"),
        ('<path d="M 0 0 L nan 4"/>', "trace.svg_path"),
        ('<path d="M 0 0 L 1e999 4"/>', "trace.svg_path"),
        ('<path d="M 0 0 C 1 1"/>', "trace.svg_path"),
        ('<circle r="1e400"/>', "trace.svg_path"),
        ('<circle r="5mm"/>', "trace.svg_length"),
        ("<g>" * 101 + "</g>" * 101, "trace.many"),
        ("<g/>" * 20_001, "trace.many"),
    ],
    ids=lambda one: one[:24],
)
def test_what_can_not_be_told_is_refused_by_its_name(body, refusal):
    with pytest.raises(EntryError) as refused:
        runs_of(body)
    assert refused.value.what.id == refusal


def test_a_unit_that_contradicts_the_page_is_refused():
    with pytest.raises(EntryError) as refused:
        runs_of("<g/>", 'width="8in" height="6in" viewBox="0 0 8 6"', unit="mm")
    assert refused.value.what.id == "trace.svg_other_unit"
