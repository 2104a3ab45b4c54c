"""Reading back: sound files pass, and a file in which one number was changed is refused, in each format."""

from __future__ import annotations

import io
import math
import random
import re
from functools import cache

import pypdf
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pypdf.generic import ContentStream, FloatObject, NameObject

from hatchwright.drawings.ink import Circle, Layer, Outline, Style, Text
from hatchwright.drawings.sheet import Sheet
from hatchwright.drawings.writers import Format, Paper, write
from hatchwright.drawings.writers.dxf import dxf_of
from hatchwright.drawings.writers.pdf import pdf_of
from hatchwright.drawings.writers.readback import verify_dxf, verify_pdf, verify_svg
from hatchwright.drawings.writers.svg import svg_of
from hatchwright.errors import ExportError
from writers.sheets import HOSTILE, bay, block, lettered, plate, rounded, slot

VERIFY = {
    Format.SVG: verify_svg,
    Format.DXF: verify_dxf,
    Format.PDF: lambda data, sheet: verify_pdf(data, sheet, Paper.LETTER),
}
NUDGE_IN = 0.002
SEEDS = range(25)


@pytest.mark.parametrize("unit", ["in", "mm"])
@pytest.mark.parametrize("sheet_of", [bay, plate])
@pytest.mark.parametrize("kind", list(Format))
def test_sound_files_pass(kind, sheet_of, unit):
    assert len(write(sheet_of(unit), kind)) > 1000


@pytest.mark.parametrize("kind", list(Format))
@pytest.mark.parametrize("words", HOSTILE, ids=range(len(HOSTILE)))
def test_no_text_makes_a_sound_file_unreadable(words, kind):
    assert write(lettered(words), kind)


@pytest.mark.parametrize("paper", list(Paper))
def test_pages_of_every_paper_pass(paper):
    assert write(bay(), Format.PDF, paper=paper).startswith(b"%PDF")


# one number changed ---------------------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def sheet():
    return bay()


@pytest.fixture(scope="module")
def svg(sheet):
    return svg_of(sheet)


@pytest.fixture(scope="module")
def dxf(sheet):
    return dxf_of(sheet)


@pytest.fixture(scope="module")
def pdf(sheet):
    return pdf_of(sheet)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_changed_number_in_svg_is_found(svg, sheet, seed):
    drawn = re.finditer(rb'(?: d| cx| cy| r| x| y)="([^"]*)"', svg)
    places = [
        (field.start(1) + number.start(), number.group())
        for field in drawn
        for number in re.finditer(rb"-?\d+\.\d+", field.group(1))
    ]
    start, number = random.Random(seed).choice(places)
    changed = f"{float(number) + NUDGE_IN:.7f}".encode()
    with pytest.raises(ExportError, match="did not read back"):
        verify_svg(svg[:start] + changed + svg[start + len(number) :], sheet)


def places_in_dxf(lines):
    """Line numbers of every coordinate and bulge that is drawn; the foot of a text has a copy that is not used."""
    kind = ""
    begin = lines.index("ENTITIES") + 1
    for k in range(begin, lines.index("ENDSEC", begin), 2):
        code, value = lines[k].strip(), lines[k + 1]
        kind = value if code == "0" else kind
        if code in {"10", "20", "11", "21", "12", "22", "42"} and kind != "TEXT":
            yield k + 1


@pytest.mark.parametrize("seed", SEEDS)
def test_a_changed_number_in_dxf_is_found(dxf, sheet, seed):
    lines = dxf.decode().split("\n")
    place = random.Random(seed).choice(list(places_in_dxf(lines)))
    lines[place] = repr(float(lines[place]) + NUDGE_IN)
    with pytest.raises(ExportError, match="did not read back"):
        verify_dxf("\n".join(lines).encode(), sheet)


@cache
def operations_of(data):
    """Operands and operator of every operation of each page: the library takes a third of a second to read them."""
    reader = pypdf.PdfReader(io.BytesIO(data))
    return [ContentStream(page.get_contents(), reader).operations for page in reader.pages]


def with_pages_changed(data, change):
    """The file with the operations of its pages changed by a function that is given all of them."""
    writer = pypdf.PdfWriter(clone_from=io.BytesIO(data))
    pages = [[(list(operands), operator) for operands, operator in page] for page in operations_of(data)]
    change([operation for page in pages for operation in page])
    for page, operations in zip(writer.pages, pages, strict=True):
        stream = ContentStream(None, writer)
        stream.operations = operations
        page[NameObject("/Contents")] = writer._add_object(stream)
    out = io.BytesIO()
    writer.write(out)
    return out.getvalue()


@pytest.mark.parametrize("seed", SEEDS)
def test_a_changed_number_in_pdf_is_found(pdf, sheet, seed):
    def nudge(operations):
        drawn = [operands for operands, operator in operations if operator in (b"m", b"l", b"c")]
        chance = random.Random(seed)
        operands = chance.choice(drawn)
        place = chance.randrange(len(operands))
        operands[place] = FloatObject(float(operands[place]) + NUDGE_IN * 72.0)

    with pytest.raises(ExportError, match="did not read back"):
        verify_pdf(with_pages_changed(pdf, nudge), sheet, Paper.LETTER)


def test_an_unchanged_pdf_passes_the_same_way(pdf, sheet):
    verify_pdf(with_pages_changed(pdf, lambda operations: None), sheet, Paper.LETTER)


@pytest.mark.parametrize("off_in", [0.1, -0.1, 90.0])
def test_a_window_of_another_size_is_found(pdf, sheet, off_in):
    """Left and top of the window are moved: it cuts off too much, or shows what belongs to the next page."""

    def widen(operations):
        clipped = next(k for k, (_, operator) in enumerate(operations) if operator in (b"W", b"W*"))
        first = max(k for k in range(clipped) if operations[k][1] in (b"m", b"re"))
        for operands, operator in operations[first:clipped]:
            if operator in (b"m", b"l", b"re"):
                operands[:2] = [
                    FloatObject(float(value) - 72.0 * off_in * (float(value) < 200.0))
                    for value in operands[:2]
                ]

    with pytest.raises(ExportError, match="through its window"):
        verify_pdf(with_pages_changed(pdf, widen), sheet, Paper.LETTER)


# other damage ---------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("old", "new"),
    [
        (b'width="', b'width="1'),
        (b'in" viewBox', b'mm" viewBox'),
        (b"<circle", b"<ellipse"),
        (b'class="layer-opening', b'class="layer-cover'),
        (b"4: SHORT .002", b"4: SHORT .001"),
        (b" Z", b" "),
        (b"</g>", b""),
        (b'class="layer-doubler line-hidden', b'transform="scale(2)" class="layer-doubler line-hidden'),
    ],
)
def test_damaged_svg_is_refused(svg, sheet, old, new):
    assert old in svg
    changed = svg.replace(old, new, 1)
    with pytest.raises(ExportError, match="did not read back"):
        verify_svg(changed, sheet)


def test_dxf_in_the_wrong_unit_is_refused():
    with pytest.raises(ExportError, match="unit"):
        verify_dxf(dxf_of(bay("mm")), bay("in"))


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("\nOPENING\n  6\n", "\nCOVER\n  6\n"),
        ("4: SHORT .002", "4: SHORT .001"),
        ("ENDSEC", "ENDS"),
        ("\nCIRCLE\n", "\nPOINT\n"),
    ],
)
def test_damaged_dxf_is_refused(dxf, sheet, old, new):
    text = dxf.decode()
    head, entities, rest = text.partition("\nENTITIES\n")
    assert old in rest
    with pytest.raises(ExportError, match="did not read back"):
        verify_dxf((head + entities + rest.replace(old, new, 1)).encode(), sheet)


def test_a_pdf_scaled_to_97_percent_is_refused(pdf, sheet):
    writer = pypdf.PdfWriter(clone_from=io.BytesIO(pdf))
    for page in writer.pages:
        page.add_transformation(pypdf.Transformation().scale(0.97))
    out = io.BytesIO()
    writer.write(out)
    with pytest.raises(ExportError, match="not where it was drawn"):
        verify_pdf(out.getvalue(), sheet, Paper.LETTER)


@pytest.mark.parametrize("damage", ["scaling", "page", "size", "unit", "bytes"])
def test_damaged_pdf_is_refused(pdf, sheet, damage):
    writer = pypdf.PdfWriter(clone_from=io.BytesIO(pdf))
    match damage:
        case "scaling":
            del writer.root_object["/ViewerPreferences"]
        case "page":
            writer.remove_page(1)
        case "size":
            writer.pages[1].mediabox.right += 1
        case "unit":
            writer.pages[1][NameObject("/UserUnit")] = FloatObject(2.0)
    out = io.BytesIO()
    writer.write(out)
    data = out.getvalue()[: 5000 if damage == "bytes" else None]
    with pytest.raises(ExportError, match="did not read back"):
        verify_pdf(data, sheet, Paper.LETTER)


@pytest.mark.parametrize("verify", VERIFY.values(), ids=VERIFY.keys())
@pytest.mark.parametrize("data", [b"", b"nothing of the kind", bytes(range(256)) * 40])
def test_what_is_no_drawing_at_all_is_refused(verify, data):
    with pytest.raises(ExportError):
        verify(data, plate())


@pytest.mark.parametrize("kind", list(Format))
def test_the_file_of_another_sheet_is_refused(kind):
    """A hole .003 away, or an edge .003 larger, is another sheet."""
    mine = plate()
    outline, first, second = mine.entities
    other_hole = Sheet(
        mine.title, mine.title_block, (outline, first, Circle((2.503, 0.7), 0.25, Layer.DRILL_PILOT))
    )
    other_edge = Outline(rounded(0.0, 0.0, 3.003, 3.0, 0.5), Layer.TEMPLATE)
    other_kind = Outline(slot(0.5, 0.0, 2.0, 1.5), Layer.TEMPLATE)
    others = [other_hole] + [
        Sheet(mine.title, mine.title_block, (e, first, second)) for e in (other_edge, other_kind)
    ]
    for other in others:
        data = write(other, kind)
        with pytest.raises(ExportError, match="did not read back"):
            VERIFY[kind](data, mine)


# any drawing ----------------------------------------------------------------------------------------------------------


@st.composite
def drawings(draw, reach=9.0):
    """Rounded rectangles and slots in any direction and in any place so far off, and holes, each on a layer of its own
    or shared."""
    lengths, offs = st.floats(0.2, reach), st.floats(-reach, reach)
    entities = []
    for layer in draw(
        st.lists(st.sampled_from([layer for layer in Layer if layer.is_cut]), min_size=1, max_size=5)
    ):
        width, height, turn = draw(lengths), draw(lengths), math.radians(draw(st.floats(0, 360)))
        radius = draw(st.floats(0.01, 0.49)) * min(width, height)
        loop = draw(st.sampled_from([rounded(0, 0, width, height, radius), slot(0, 0, width, radius)]))
        matrix = [[math.cos(turn), -math.sin(turn)], [math.sin(turn), math.cos(turn)]]
        loop = loop.transformed(matrix, (draw(offs), draw(offs)))
        entities.append(
            Outline(draw(st.sampled_from([loop, loop.reversed()])), layer, draw(st.sampled_from(Style)))
        )
        place = (draw(offs), draw(offs))
        entities.append(Circle(place, draw(st.floats(0.01, 3.0)), layer, hole=draw(st.integers(0, 999))))
        entities.append(
            Text(place, draw(st.text(max_size=40)), angle_deg=draw(st.sampled_from([0.0, 90.0, 30.0])))
        )
    return Sheet("LAYOUT", block(), tuple(entities), unit=draw(st.sampled_from(["in", "mm"])))


@pytest.mark.property
@settings(deadline=None, max_examples=60)
@given(drawings(), st.sampled_from([Format.SVG, Format.DXF]))
def test_any_drawing_reads_back(drawing, kind):
    assert write(drawing, kind)


@pytest.mark.parametrize("words", ["3\u0591", "12\u20dd 7", "e\u0301", ""])
def test_letters_with_marks_that_the_font_lacks_read_back_from_paper(words):
    lettered = Sheet("LAYOUT", block(), (Text((0.0, 0.0), words),))
    assert write(lettered, Format.PDF, paper=Paper.LETTER)


@pytest.mark.property
@settings(deadline=None, max_examples=15)
@given(drawings(reach=5.0), st.sampled_from(Paper))
def test_any_drawing_reads_back_from_paper(drawing, paper):
    assert write(drawing, Format.PDF, paper=paper)
