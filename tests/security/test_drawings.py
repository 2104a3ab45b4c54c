"""A drawing that cannot be read is refused in words, whatever is wrong in it.

The files are written with a general-purpose DXF library and spoilt by hand, after the DXF reference: group codes and
values on lines of their own.
"""

from __future__ import annotations

import math
import re

import ezdxf
import ezdxf.filemanagement
import pytest

from hatchwright.errors import EntryError, GeometryError
from hatchwright.job.dxf_loop import MOST_OBJECTS, MOST_PIECES, read_closed, read_loop
from tests.told import remedy_of

INCH = 1


@pytest.fixture(scope="module")
def square(tmp_path_factory):
    """The text of a sound drawing: a closed square of 2 in as a polyline."""
    document = ezdxf.new("R2010")
    document.header["$INSUNITS"] = INCH
    document.modelspace().add_lwpolyline([(0, 0), (2, 0), (2, 2), (0, 2)], close=True)
    path = tmp_path_factory.mktemp("square") / "square.dxf"
    document.saveas(path)
    return path.read_text(encoding="utf-8")


def refused(folder, text, kind=EntryError):
    """What is said of a drawing."""
    path = folder / "opening.dxf"
    path.write_bytes(text if isinstance(text, bytes) else text.encode("utf-8"))
    with pytest.raises(kind) as caught:
        read_loop(path)
    assert remedy_of(caught.value)
    return str(caught.value)


@pytest.mark.parametrize(
    "error",
    [StopIteration, OverflowError, KeyError, IndexError, TypeError, AttributeError, ZeroDivisionError, RecursionError,
     MemoryError, AssertionError, UnicodeError, LookupError, RuntimeError, PermissionError],
)  # fmt: skip
def test_whatever_the_library_stumbles_over_is_a_drawing_that_cannot_be_read(
    monkeypatch, tmp_path, square, error
):
    def stumbles(path):
        raise error

    monkeypatch.setattr(ezdxf.filemanagement, "readfile", stumbles)
    assert "opening.dxf is not a DXF file that can be read" in refused(tmp_path, square)
    with pytest.raises(EntryError):
        read_closed(tmp_path / "opening.dxf", layer="0")


@pytest.mark.parametrize(
    "spoil",
    [
        pytest.param(lambda text: text[: text.index("$INSUNITS")], id="ends in its header"),
        pytest.param(lambda text: text[: text.index("ENTITIES") - 20], id="ends before its pieces"),
        pytest.param(lambda text: text.replace("$ACADVER\n  1\n", "$ACADVER\n 10\n"), id="a point for a version"),
        pytest.param(lambda text: text.replace("$INSUNITS\n 70\n", "$INSUNITS\n"), id="a line is missing"),
        pytest.param(lambda text: text.replace("LWPOLYLINE\n", "LWPOLYLINE\n999999999999\n"), id="no such code"),
        pytest.param(lambda text: text.replace("\n 10\n2.0\n", "\n 10\ntwo\n"), id="a word for a number"),
        pytest.param(lambda text: "\0" + text, id="binary"),
        pytest.param(lambda text: "\0" * 400, id="nothing but zeros"),
        pytest.param(lambda text: "", id="empty"),
    ],
)  # fmt: skip
def test_a_spoilt_drawing_is_refused_in_words(tmp_path, square, spoil):
    spoilt = spoil(square)
    assert spoilt != square
    refused(tmp_path, spoilt)


@pytest.mark.parametrize("x", ["nan", "inf", "1e400", "1e9", "-1001", "2e3"])
def test_a_point_off_any_aircraft_is_refused(tmp_path, square, x):
    assert "farther from its origin" in refused(
        tmp_path, re.sub(r"\n *10\n2\.0\n", f"\n 10\n{x}\n", square, count=1)
    )


def test_a_piece_without_length_is_refused(tmp_path):
    document = ezdxf.new("R2010")
    document.header["$INSUNITS"] = INCH
    document.modelspace().add_lwpolyline([(0, 0), (2, 0), (2, 0), (2, 2), (0, 2)], close=True)
    document.saveas(tmp_path / "twice.dxf")
    refused(tmp_path, (tmp_path / "twice.dxf").read_bytes(), GeometryError)


def test_more_pieces_than_any_opening_are_refused_before_they_are_put_in_order(tmp_path):
    document = ezdxf.new("R2010")
    document.header["$INSUNITS"] = INCH
    count = MOST_PIECES + 1
    points = [
        (3 * math.cos(2 * math.pi * k / count), 3 * math.sin(2 * math.pi * k / count)) for k in range(count)
    ]
    for start, end in zip(points, points[1:] + points[:1], strict=True):
        document.modelspace().add_line(start, end)
    document.saveas(tmp_path / "many.dxf")
    with pytest.raises(EntryError, match="more than 1000 lines and arcs"):
        read_loop(tmp_path / "many.dxf")


def test_a_drawing_of_nothing_but_beginnings_is_refused_before_the_library_reads_it(
    monkeypatch, tmp_path, square
):
    """1.2 MB of empty objects took the library nine seconds and 370 MB."""
    monkeypatch.setattr(ezdxf.filemanagement, "readfile", lambda path: pytest.fail("it was read"))
    refused(tmp_path, square.replace("ENTITIES\n", "ENTITIES\n" + "0\nA\n" * (MOST_OBJECTS + 1)))


def test_what_a_drawing_holds_is_told_without_what_a_terminal_obeys(tmp_path, square):
    told = refused(tmp_path, square.replace("LWPOLYLINE\n", "\x1b[2JX" + "Y" * 500 + "\n"))
    assert told.isprintable()
    assert len(told) < 400
