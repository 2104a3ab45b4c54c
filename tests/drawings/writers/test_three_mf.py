"""3MF: read with nothing but the standard library, and measured; spoilt files are refused.

Names and name spaces are those of the 3MF core specification (from memory, unverified); the area is that of the
scenario ALDER, worked by hand.
"""

from __future__ import annotations

import io
import math
import re
import zipfile
from datetime import UTC, datetime
from xml.etree import ElementTree

import numpy as np
import pytest

from hatchwright.drawings.writers import Paper
from hatchwright.drawings.writers.readback import verify_three_mf
from hatchwright.drawings.writers.three_mf import three_mf_of
from hatchwright.errors import ExportError
from hatchwright.shapes.outlines import rounded_rectangle
from hatchwright.shapes.profile import Profile
from hatchwright.shapes.solid import plate_solid
from hatchwright.workflow.template_files import template_files

STAMP = datetime(2026, 3, 1, tzinfo=UTC)
CORE = "{http://schemas.microsoft.com/3dmanufacturing/core/2015/02}"


def body_of(data):
    """Vertices, triangles and unit of the one body of a file."""
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        assert set(archive.namelist()) == {"[Content_Types].xml", "_rels/.rels", "3D/3dmodel.model"}
        (link,) = ElementTree.fromstring(archive.read("_rels/.rels"))
        model = ElementTree.fromstring(archive.read(link.get("Target").lstrip("/")))
    assert model.tag == f"{CORE}model"
    (item,) = model.find(f"{CORE}build")
    (body,) = [one for one in model.find(f"{CORE}resources") if one.get("id") == item.get("objectid")]
    vertices = np.array([[float(v.get(a)) for a in "xyz"] for v in body.iter(f"{CORE}vertex")])
    triangles = np.array([[int(t.get(f"v{k}")) for k in (1, 2, 3)] for t in body.iter(f"{CORE}triangle")])
    return vertices, triangles, model.get("unit")


@pytest.fixture(scope="module")
def files(alder_drawn, made_once):
    """Made with all other files of the template, which `tests/workflow/test_round_trip.py` reads."""
    made = made_once(
        template_files,
        alder_drawn,
        stamp=STAMP,
        stem="alder",
        paper=Paper.ELEVEN_BY_SEVENTEEN,
        printable=True,
    )
    return {name: data for name, data in made.items() if name.endswith(".3mf")}


def test_each_side_has_its_file(files):
    assert sorted(files) == ["alder_TEMPLATE_LEFT_IN.3mf", "alder_TEMPLATE_RIGHT_IN.3mf"]


def test_what_stops_stands_in_title_and_description(files):
    """The job as drawn stops on neither side but that nobody has seen the bay of the right one (R915)."""
    for side, stops in (("LEFT", False), ("RIGHT", True)):
        with zipfile.ZipFile(io.BytesIO(files[f"alder_TEMPLATE_{side}_IN.3mf"])) as archive:
            model = ElementTree.fromstring(archive.read("3D/3dmodel.model"))
        said = {one.get("name"): one.text for one in model.findall(f"{CORE}metadata")}
        assert said["Title"].startswith("STOP: ") == stops
        assert "not approved data" in said["Title"]
        assert said["Description"].startswith("DO NOT CUT, DRILL OR RIVET:") == stops
        assert re.search(r"Answers [0-9A-F]{8}", said["Description"])
        if stops:
            assert "R915" in said["Description"]


def test_a_file_that_does_not_say_what_stops_is_refused(solid):
    told = three_mf_of(solid, title="A", description="DO NOT <CUT>")
    verify_three_mf(told, solid, description="DO NOT <CUT>")
    for data, wanted in ((three_mf_of(solid, title="A"), "DO NOT <CUT>"), (told, ""), (told, "DO NOT")):
        with pytest.raises(ExportError, match="description"):
            verify_three_mf(data, solid, description=wanted)


def test_the_body_is_closed_in_inches_and_of_the_exact_volume(files):
    """Plate 8.277 x 7.277 less a corner 1 x .5, window 5.277 x 4.277 R .8885, and 64 holes .098; .125 thick."""
    window = 5.277 * 4.277 - (4.0 - math.pi) * 0.8885**2
    exact = 0.125 * (8.277 * 7.277 - 0.25 - window - 64 * math.pi / 4 * 0.098**2)
    arcs = 2.0 * math.pi * 0.8885 + 64 * math.pi * 0.098
    for data in files.values():
        vertices, triangles, unit = body_of(data)
        assert unit == "inch"
        edges = [tuple(edge) for t in triangles for edge in ((t[0], t[1]), (t[1], t[2]), (t[2], t[0]))]
        assert len(set(edges)) == len(edges)
        assert {(b, a) for a, b in edges} == set(edges)
        a, b, c = (vertices[triangles[:, k]] for k in range(3))
        volume = np.einsum("ij,ij->i", a, np.cross(b, c)).sum() / 6.0
        assert abs(volume - exact) < 1e-4 * arcs * 0.125
        assert vertices.min(axis=0) == pytest.approx((0.0, 0.0, 0.0))
        assert vertices.max(axis=0) == pytest.approx((8.277, 7.277, 0.125))


def test_a_metric_job_has_it_in_millimeters_and_of_the_same_size(solid):
    """1 in = 25.4 mm, exact [NIST SP 811] appendix B.8: a plate 2 x 1 x .125 in is 50.8 x 25.4 x 3.175 mm."""
    vertices, triangles, unit = body_of(three_mf_of(solid, title="A", unit="mm"))
    assert unit == "millimeter"
    assert np.ptp(vertices, axis=0) == pytest.approx((50.8, 25.4, 3.175))
    in_inches, same, _ = body_of(three_mf_of(solid, title="A"))
    assert np.abs(vertices / 25.4 - in_inches).max() < 1e-12
    assert (triangles == same).all()
    verify_three_mf(three_mf_of(solid, title="A", unit="mm"), solid, unit="mm")
    with pytest.raises(ExportError, match="unit is another"):
        verify_three_mf(three_mf_of(solid, title="A", unit="mm"), solid)


def test_arcs_keep_to_their_chord_error(files):
    """The middle of every chord of a window corner lies within 1e-4 of the arc, its ends on it."""
    vertices, _, _ = body_of(files["alder_TEMPLATE_LEFT_IN.3mf"])
    hub = np.array((1.5 + 0.8885, 1.5 + 0.8885))
    flat = vertices[vertices[:, 2] == 0.0][:, :2]
    corner = flat[(flat < hub + 1e-9).all(axis=1) & (np.abs(np.hypot(*(flat - hub).T) - 0.8885) < 1e-6)]
    corner = corner[np.argsort(corner[:, 0])]
    middles = 0.5 * (corner[1:] + corner[:-1])
    assert len(corner) > 25
    assert np.abs(np.hypot(*(middles - hub).T) - 0.8885).max() <= 1e-4


def test_left_and_right_are_mirror_images(files):
    left, right = (body_of(files[f"alder_TEMPLATE_{side}_IN.3mf"])[0] for side in ("LEFT", "RIGHT"))
    mirrored = np.column_stack([8.277 - right[:, 0], right[:, 1:]])
    assert {tuple(v) for v in left.round(5)} == {tuple(v) for v in mirrored.round(5)}


# spoilt files ---------------------------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def solid():
    plate = rounded_rectangle(width_in=2.0, height_in=1.0, radius_in=0.25)
    return plate_solid(Profile((plate,)), thickness_in=0.125, chord_error_in=1e-3)


def respelt(data, old, new):
    """The same archive with the body's text changed once."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as archive, zipfile.ZipFile(out, "w") as changed:
        for name in archive.namelist():
            text = archive.read(name).decode("utf-8")
            if name.endswith(".model"):
                assert old in text
                text = text.replace(old, new, 1)
            changed.writestr(name, text)
    return out.getvalue()


def test_a_sound_file_passes_and_is_the_same_each_time(solid):
    data = three_mf_of(solid, title="A <plate> & more\x07")
    verify_three_mf(data, solid)
    assert data == three_mf_of(solid, title="A <plate> & more\x07")


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('unit="inch"', 'unit="millimeter"'),
        ('z="0.125"', 'z="0.126"'),
        ('v1="0"', 'v1="1"'),
        ("<triangle ", "<!-- --><notriangle "),
        ('<item objectid="1"/>', ""),
        ("</model>", ""),
        ("<vertex ", "<vertex y='0' "),
    ],
)
def test_a_changed_file_is_refused(solid, old, new):
    with pytest.raises(ExportError, match="did not read back"):
        verify_three_mf(respelt(three_mf_of(solid, title="A"), old, new), solid)


@pytest.mark.parametrize(
    "spoil", [lambda data: data[:-30], lambda data: b"", lambda data: b"PK" + data[2:200]]
)
def test_what_is_no_archive_is_refused(solid, spoil):
    with pytest.raises(ExportError, match="did not read back"):
        verify_three_mf(spoil(three_mf_of(solid, title="A")), solid)
