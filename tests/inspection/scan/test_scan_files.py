"""One scan in every kind of file that may come, and files that only look like one.

What is in the picture is the same each time, so the sizes are; PNG, JPEG, TIFF and Exif are written by Pillow, an
outside library.
"""

from __future__ import annotations

import struct
import zlib
from functools import cache

import numpy as np
import pytest

from hatchwright.errors import ScanError
from hatchwright.inspection.scan.scan import measure_scan
from tests.scans.asking import Sheet, square_levels
from tests.scans.pictures import in_color, jpeg, picture, sixteen_bit, turned_by_tag, with_alpha
from tests.scans.truths import off_beyond_stated


def sizes(content: bytes) -> np.ndarray:
    """Width, height and mean corner of the square, then the diameters of its holes by their places [in]."""
    scan = measure_scan(content, Sheet().asked())
    shape = scan.outline.shape
    holes = sorted((round(h.y.value_in, 1), h.x.value_in, h.diameter.value_in) for h in scan.holes)
    return np.array(
        [shape.width.value_in, shape.height.value_in, shape.radius.value_in, *(h[2] for h in holes)]
    )


@cache
def plain() -> np.ndarray:
    found = sizes(picture(square_levels(), 300))
    assert len(found) == 9
    return found


@pytest.mark.parametrize(
    ("write", "within"),
    [
        (lambda levels: picture(levels, 300, kind="TIFF", compression="tiff_lzw"), 1e-6),
        (lambda levels: sixteen_bit(levels, 300), 2e-5),
        (lambda levels: in_color(levels, 300, 0.33), 2e-5),
        (lambda levels: with_alpha(levels, 300, np.uint8(255)), 2e-5),
        (lambda levels: jpeg(levels, 300, 95), 1e-4),
        (lambda levels: turned_by_tag(levels, 300), 1e-4),
    ],
    ids=["packed TIFF", "16 bits", "color", "opaque alpha", "JPEG", "turned by tag"],
)
def test_a_kind_of_file_changes_no_size(write, within):
    """A JPEG of quality 95 is off by some tenths of a gray level an edge point; the mean of all by far less."""
    assert np.abs(sizes(write(square_levels())) - plain()).max() <= within


@pytest.mark.parametrize("quarters", [1, 2, 3])
def test_a_turned_picture_is_turned_back(quarters):
    assert np.abs(sizes(picture(np.rot90(square_levels(), quarters), 300)) - plain()).max() <= 1e-5


def test_a_badly_packed_jpeg_is_measured_within_what_is_stated():
    sheet = Sheet()
    scan = measure_scan(jpeg(square_levels(), 300, 10), sheet.asked())
    assert off_beyond_stated(scan.outline.shape, sheet.part.outline) == []


def chunk(name: bytes, data: bytes) -> bytes:
    """One chunk of a PNG: length, name, data, check sum (PNG specification, section 5.3)."""
    return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))


def png_that_says(width: int, height: int, bits: int = 8, color: int = 0) -> bytes:
    """A PNG whose header is sound and whose pixels are not there: who decodes it before he looks, finds that out."""
    header = struct.pack(">IIBBBBB", width, height, bits, color, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n"
        + chunk(b"IHDR", header)
        + chunk(b"IDAT", zlib.compress(bytes(64)))
        + chunk(b"IEND", b"")
    )


def jpeg_that_says(width: int, height: int) -> bytes:
    """A small JPEG with other numbers of lines and samples in its frame header (ITU-T T.81, B.2.2)."""
    content = jpeg(np.full((32, 32), 200.0), 300, 90)
    at = content.index(b"\xff\xc0") + 5
    return content[:at] + struct.pack(">HH", height, width) + content[at + 4 :]


def tiff_that_says(width: int, height: int) -> bytes:
    """A small TIFF with other numbers in tags 256 and 257 (TIFF 6.0, section 8)."""
    content = bytearray(picture(np.full((32, 32), 200.0), 300, kind="TIFF"))
    (at,) = struct.unpack_from("<I", content, 4)
    for entry in range(at + 2, at + 2 + 12 * struct.unpack_from("<H", content, at)[0], 12):
        tag = struct.unpack_from("<H", content, entry)[0]
        if tag in (256, 257):
            struct.pack_into("<HII", content, entry + 2, 4, 1, width if tag == 256 else height)
    return bytes(content)


def reason(content: bytes) -> str:
    with pytest.raises(ScanError) as refused:
        measure_scan(content, Sheet().asked())
    return refused.value.what.id


@pytest.mark.parametrize("write", [png_that_says, jpeg_that_says, tiff_that_says])
@pytest.mark.parametrize("size", [(9000, 9000), (60000, 60000)])
def test_a_picture_too_large_is_refused_by_its_header(write, size):
    assert reason(write(*size)) == "scan.too_large"


def test_a_picture_whose_pixels_are_too_deep_is_refused_by_its_header():
    """79 million pixels of 16 bits in four channels unpack to 630 MB; 600 MB are to be enough."""
    assert reason(png_that_says(8900, 8900, bits=16, color=6)) == "scan.too_large"


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"\x89PNG\r\n\x1a\n",
        b"hole,x,y\n1,.500,1.250\n2,.750,1.250\n",
        b"%PDF-1.7\n1 0 obj\n<< >>\nendobj\n",
        b"<svg xmlns='http://www.w3.org/2000/svg' width='300' height='300'/>",
        bytes(range(256)) * 64,
        png_that_says(0, 300),
        png_that_says(300, 300),
    ],
    ids=["empty", "only a signature", "CSV", "PDF", "SVG", "any bytes", "no width", "no pixels"],
)
def test_a_file_that_is_no_picture_is_refused(content):
    assert reason(content) == "scan.not_picture"


@pytest.mark.parametrize("write", [lambda levels: picture(levels, 300), lambda levels: jpeg(levels, 300, 90)])
def test_half_a_file_is_refused(write):
    content = write(square_levels())
    assert reason(content[: len(content) // 2])


def test_a_picture_that_is_seen_through_is_refused():
    alpha = np.full(square_levels().shape, 255.0)
    alpha[700:900, 700:900] = 128.0
    assert reason(with_alpha(square_levels(), 300, alpha)) == "scan.transparent"
