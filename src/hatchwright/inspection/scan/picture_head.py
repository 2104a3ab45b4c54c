"""The head of a picture file: its size, bits, resolution and which way up, read without decoding the picture.

Sources: PNG, ISO/IEC 15948 (chunks IHDR and pHYs); JPEG, ITU-T T.81 (frame header) with JFIF 1.02 (density) and
EXIF 2.32; TIFF 6.0 (tags 256, 257, 258, 274, 277, 282, 283, 296).
"""

from __future__ import annotations

import struct

from msgspec import Struct

from hatchwright.units import MM_PER_IN

_CM_PER_IN = MM_PER_IN / 10.0
_PNG_CHANNELS = {0: 1, 2: 3, 3: 3, 4: 2, 6: 4}
"""By color type; a palette is decoded to colors. Source: ISO/IEC 15948, 11.2.2."""

_TIFF_SIZES = {1: 1, 3: 2, 4: 4, 5: 8}
_FRAMES = frozenset(range(0xC0, 0xD0)) - {0xC4, 0xC8, 0xCC}


class Head(Struct, frozen=True):
    """What stands at the head of a picture file.

    Args:
        bits: of one channel.
        channels: once decoded.
        dpi: along columns and along lines, None where none is stated [1/in].
        orientation: as EXIF numbers it, 1 for upright.
    """

    width: int
    height: int
    bits: int
    channels: int
    dpi: tuple[float, float] | None
    orientation: int = 1


def head_of(content: bytes) -> Head | None:
    """The head of a PNG, JPEG or TIFF file; None for any other file, or a head that is not whole."""
    try:
        head = _head(content)
    except (struct.error, IndexError, KeyError, ValueError, ZeroDivisionError):
        return None
    return head if head and head.width > 0 and head.height > 0 else None


def _head(content: bytes) -> Head | None:
    if content.startswith(b"\x89PNG\r\n\x1a\n"):
        return _png(content)
    if content.startswith(b"\xff\xd8"):
        return _jpeg(content)
    return _of_tags(_tags(content)) if content[:4] in (b"II*\0", b"MM\0*") else None


def _png(content: bytes) -> Head:
    width, height, bits, colors = struct.unpack_from(">IIBB", content, 16)
    dpi, orientation, at = None, 1, 8
    while at + 8 <= len(content):
        length, name = struct.unpack_from(">I4s", content, at)
        if name == b"pHYs":
            across, down, per_meter = struct.unpack_from(">IIB", content, at + 8)
            dpi = (across * 0.01 * _CM_PER_IN, down * 0.01 * _CM_PER_IN) if per_meter == 1 else None
        if name == b"eXIf":
            orientation = int(_tags(content[at + 8 : at + 8 + length]).get(274, 1))
        if name == b"IDAT":
            break
        at += 12 + length
    return Head(width, height, bits, _PNG_CHANNELS[colors], _sound(dpi), orientation)


def _jpeg(content: bytes) -> Head | None:
    at, dpi, tags = 2, None, dict[int, float]()
    while at + 4 <= len(content):
        if content[at] != 0xFF:
            return None
        mark = content[at + 1]
        if mark == 0xFF:
            at += 1
            continue
        (length,) = struct.unpack_from(">H", content, at + 2)
        if content[at + 4 : at + 9] == b"JFIF\0":
            dpi = _density(*struct.unpack_from(">BHH", content, at + 11))
        if content[at + 4 : at + 10] == b"Exif\0\0":
            tags = _tags(content[at + 10 : at + 2 + length])
        if mark in _FRAMES:
            bits, height, width, channels = struct.unpack_from(">BHHB", content, at + 4)
            return Head(width, height, bits, channels, dpi or _tag_dpi(tags), int(tags.get(274, 1)))
        at += 2 + length
    return None


def _density(unit: int, across: int, down: int) -> tuple[float, float] | None:
    per_in = {1: 1.0, 2: _CM_PER_IN}.get(unit, 0.0)
    return _sound((across * per_in, down * per_in))


def _tags(content: bytes) -> dict[int, float]:
    """The first value of each number tag of the first directory of a TIFF or EXIF block."""
    order = "<" if content[:2] == b"II" else ">"
    (start,) = struct.unpack_from(order + "I", content, 4)
    (count,) = struct.unpack_from(order + "H", content, start)
    found: dict[int, float] = {}
    for number in range(count):
        at = start + 2 + 12 * number
        tag, kind, values = struct.unpack_from(order + "HHI", content, at)
        if kind not in _TIFF_SIZES:
            continue
        place = at + 8
        if _TIFF_SIZES[kind] * values > 4:
            (place,) = struct.unpack_from(order + "I", content, place)
        if kind == 5:
            above, below = struct.unpack_from(order + "II", content, place)
            found[tag] = above / below if below else 0.0
        else:
            (found[tag],) = struct.unpack_from(order + {1: "B", 3: "H", 4: "I"}[kind], content, place)
    return found


def _of_tags(tags: dict[int, float]) -> Head:
    width, height, bits = int(tags[256]), int(tags[257]), int(tags.get(258, 1))
    channels = int(tags.get(277, 1))
    return Head(width, height, bits, channels, _tag_dpi(tags), int(tags.get(274, 1)))


def _tag_dpi(tags: dict[int, float]) -> tuple[float, float] | None:
    per_in = {2: 1.0, 3: _CM_PER_IN}.get(int(tags.get(296, 2)), 0.0)
    return _sound((tags.get(282, 0.0) * per_in, tags.get(283, 0.0) * per_in))


def _sound(dpi: tuple[float, float] | None) -> tuple[float, float] | None:
    """None where the file states no resolution in earnest."""
    return dpi if dpi and min(dpi) > 0.0 else None
