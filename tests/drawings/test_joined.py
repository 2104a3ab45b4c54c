"""The print file: every sheet as it was, told to be printed as it is (ISO 32000-1, table 150); and a paper's picture.

Read back by pypdf, and the picture by Pillow, which decodes PNG by the W3C specification.
"""

from __future__ import annotations

import io
from datetime import UTC, datetime
from itertools import accumulate

import pypdf
import pypdfium2
import pytest
from PIL import Image

from hatchwright.drawings.writers import joined as joining
from hatchwright.drawings.writers.joined import joined
from hatchwright.drawings.writers.readback.first_page import first_page
from hatchwright.errors import ExportError
from hatchwright.workflow.papers import papers

STAMP = datetime(2026, 3, 1, 10, 0, tzinfo=UTC)


@pytest.fixture(scope="module")
def parts(made_once, dogwood):
    files = made_once(papers, dogwood, stamp=STAMP, stem="dogwood")
    return {name[8:14]: files[name] for name in sorted(files, reverse=True) if name.endswith(".pdf")}


def test_every_sheet_is_as_it_was_in_order_and_asks_to_be_printed_at_its_size_on_one_side(parts):
    made = joined(parts, made_at=STAMP)
    assert made == joined(parts, made_at=STAMP)
    whole, alone = (
        pypdf.PdfReader(io.BytesIO(made)),
        [pypdf.PdfReader(io.BytesIO(one)) for one in parts.values()],
    )
    sheets = [page for one in alone for page in one.pages]
    assert len(whole.pages) == len(sheets) > 10
    for page, was in zip(whole.pages, sheets, strict=True):
        assert page.mediabox == was.mediabox
        assert page.get_contents().get_data() == was.get_contents().get_data()
    wish = whole.trailer["/Root"]["/ViewerPreferences"]
    assert (wish["/PrintScaling"], wish["/Duplex"]) == ("/None", "/Simplex")
    titles = {one.title: whole.get_destination_page_number(one) for one in whole.outline}
    before = accumulate((len(one.pages) for one in alone), initial=0)
    assert titles == dict(zip(parts, before, strict=False))


def test_a_sheet_that_is_not_what_it_was_is_refused(parts, monkeypatch):
    shrunk = {name: [(8.5, 11.0)] for name in parts.values()}
    monkeypatch.setattr(joining, "page_sizes_in", lambda data: shrunk.get(data, [(8.4, 11.0)] * 2))
    with pytest.raises(ExportError, match="a sheet is not what it was"):
        joined(parts, made_at=STAMP)


def test_the_picture_of_a_paper_is_its_first_page_in_grays(parts):
    data = parts["LAYOUT"]
    picture = Image.open(io.BytesIO(first_page(data, width_px=120)))
    with pypdfium2.PdfDocument(data) as document:
        page = document[0]
        painted = page.render(scale=120 / page.get_width(), grayscale=True).to_pil()
    assert picture.mode == "L"
    assert picture.size == painted.size
    assert picture.tobytes() == painted.tobytes()
    assert picture.getextrema()[0] < 100  # there is ink on it
