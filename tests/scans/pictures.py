"""Pictures as files: what a scanner's program writes, and what else may come by its name."""

from __future__ import annotations

import io
from typing import Any

import numpy as np
from PIL import Image

from tests.scans.shapes import Values

ORIENTATION = 0x0112
"""The tag of a turned picture, Exif 2.3, table 4."""


def picture(levels: Values, dpi: float | None, *, kind: str = "PNG", **how: Any) -> bytes:
    """The bytes of a picture of gray levels 0 to 255, or of colors, with the resolution that it states."""
    return _written(Image.fromarray(np.asarray(levels).astype(np.uint8)), dpi, kind, **how)


def jpeg(levels: Values, dpi: float | None, quality: int, **how: Any) -> bytes:
    return picture(levels, dpi, kind="JPEG", quality=quality, subsampling=0, **how)


def sixteen_bit(levels: Values, dpi: float) -> bytes:
    """The same levels in 16 bits, 65535 for white."""
    return _written(Image.fromarray((np.asarray(levels) * 257.0).astype(np.uint16)), dpi, "PNG")


def one_bit(levels: Values, dpi: float) -> bytes:
    """Black and white only."""
    return _written(Image.fromarray(np.asarray(levels) > 150), dpi, "PNG")


def with_alpha(levels: Values, dpi: float, alpha: Values) -> bytes:
    """Colors with a fourth channel that says how far each pixel is to be seen."""
    shown = np.dstack([levels, levels, levels, np.broadcast_to(alpha, levels.shape)])
    return picture(shown, dpi)


def in_color(levels: Values, dpi: float, shift_px: float) -> bytes:
    """A color scan: red and blue are read a part of a line before and after green."""
    rows = np.arange(len(levels))
    red, blue = (_between_lines(levels, rows + off) for off in (-shift_px, shift_px))
    return picture(np.dstack([red, levels, blue]), dpi)


def turned_by_tag(levels: Values, dpi: float) -> bytes:
    """A picture kept on its side, with the tag that says how to turn it back: the first line is its right side."""
    exif = Image.Exif()
    exif[ORIENTATION] = 6
    return jpeg(np.rot90(levels), dpi, 95, exif=exif.tobytes())


def _between_lines(levels: Values, rows: Values) -> Values:
    below = np.clip(np.floor(rows).astype(int), 0, len(levels) - 2)
    share = np.clip(rows - below, 0.0, 1.0)[:, None]
    return (1.0 - share) * levels[below] + share * levels[below + 1]


def _written(image: Image.Image, dpi: float | None, kind: str, **how: Any) -> bytes:
    out = io.BytesIO()
    if dpi is not None:
        how["dpi"] = (dpi, dpi)
    if kind == "PNG":
        how["compress_level"] = 1  # noise packs no better for more work
    image.save(out, kind, **how)
    return out.getvalue()
