"""A small picture of the first page of a PDF file, so that a person knows the paper by its looks."""

from __future__ import annotations

import struct
import zlib

_SIGNATURE = b"\x89PNG\r\n\x1a\n"


def first_page(data: bytes, *, width_px: int) -> bytes:
    """Paint the first page of a PDF file, in grays, as PNG.

    Source: W3C, Portable Network Graphics (PNG) Specification, sections 5 and 11.
    """
    import pypdfium2

    with pypdfium2.PdfDocument(data) as document:
        page = document[0]
        painted = page.render(scale=width_px / page.get_width(), grayscale=True)
        rows = bytes(painted.buffer)
        width, height, stride = painted.width, painted.height, painted.stride
        painted.close()
    unfiltered = b"".join(b"\0" + rows[row * stride : row * stride + width] for row in range(height))
    head = struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0)
    parts = (b"IHDR", head), (b"IDAT", zlib.compress(unfiltered, 9)), (b"IEND", b"")
    return _SIGNATURE + b"".join(_chunk(name, content) for name, content in parts)


def _chunk(name: bytes, content: bytes) -> bytes:
    check = zlib.crc32(name + content)
    return struct.pack(">I", len(content)) + name + content + struct.pack(">I", check)
