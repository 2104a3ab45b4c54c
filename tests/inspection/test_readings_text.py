"""Files that are no table of readings: each named as what it is, by its first bytes, and never unpacked."""

from __future__ import annotations

import gzip
import io
import zipfile

import pytest

from hatchwright.errors import JobError
from hatchwright.inspection.readings_text import LARGEST_BYTES, readings_text, text_of


def packed(size):
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED) as box:
        box.writestr("xl/worksheets/sheet1.xml", b"0" * size)
    return held.getvalue()


@pytest.mark.parametrize(
    ("raw", "said"),
    [
        (b"\x89PNG\r\n\x1a\n" + bytes(40), "a picture"),
        (b"\xff\xd8\xff\xe0" + bytes(40), "a picture"),
        (b"%PDF-1.7\n", "a PDF document"),
        (packed(50_000_000), "a packed file or a spreadsheet"),
        (gzip.compress(b"0" * 50_000_000), "a packed file or a spreadsheet"),
        (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", "a workbook"),
        (b"1;2;3\n\0\0\0", "characters that no text has"),
    ],
)
def test_what_is_no_text_is_named(tmp_path, raw, said):
    path = tmp_path / "readings.csv"
    path.write_bytes(raw)
    with pytest.raises(JobError) as caught:
        readings_text(path)
    assert said in str(caught.value.faults[0])
    assert caught.value.where in ("readings.csv", "")


def test_text_of_another_alphabet_is_named_by_row_and_column():
    raw = "No;X;Y\n1;2;3\n2;3;4 Ø\n".encode("latin-1")
    with pytest.raises(JobError) as caught:
        text_of(raw)
    (fault,) = caught.value.faults
    assert fault.line == 3
    assert "character 7" in str(fault)
    assert "D8" in str(fault)


@pytest.mark.parametrize("form", ["utf-8", "utf-8-sig", "utf-16"])
def test_text_that_says_its_alphabet_is_read(form):
    assert text_of("No;Ø\n1;2\n".encode(form)) == "No;Ø\n1;2\n"


def test_letters_that_begin_like_a_picture_are_text():
    assert text_of(b"BMAT 1 2 3\n") == "BMAT 1 2 3\n"


@pytest.mark.parametrize("name", ["gone.csv", "."])
def test_what_is_not_there_is_named(tmp_path, name):
    with pytest.raises(JobError):
        readings_text(tmp_path / name)


def test_a_file_that_is_too_large_is_not_read(tmp_path):
    path = tmp_path / "large.csv"
    with path.open("wb") as out:
        out.truncate(LARGEST_BYTES + 1)
    with pytest.raises(JobError, match="16 MB"):
        readings_text(path)
