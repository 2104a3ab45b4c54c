"""Reading a picture: its size from the head of the file before it is decoded, then one gray value a pixel.

Nothing is resampled: a picture that is to be turned is turned by whole quarters.
Method: docs/theory/scan.md, section 2.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import numpy.typing as npt
from msgspec import Struct

from hatchwright.errors import ScanError
from hatchwright.inspection.scan.picture_head import Head, head_of
from hatchwright.said import Amount

LARGEST_PX = 80_000_000
"""Pixels of the largest picture that is decoded: an A4 page at 900 dpi. Own choice, no source."""

LARGEST_DECODED = 256_000_000
"""Bytes that a picture may take once it is decoded: that page in color. Own choice, no source."""

LARGEST_BYTES = 256_000_000
"""Of the largest file that is read. Own choice, no source."""

GAMMA = 2.2
"""Exponent of the tone curve. Source: IEC 61966-2-1, whose curve it comes near to; scanners do not state theirs [-]."""

Grays = npt.NDArray[Any]
Lights = npt.NDArray[np.float32]


class Picture(Struct, frozen=True):
    """A picture as gray values.

    Args:
        grays: lines from the top, shape (lines, columns), 8 or 16 bit.
        dpi: as the file states it along columns and lines, None where it states none [1/in].
    """

    grays: Grays
    dpi: tuple[float, float] | None

    @property
    def light(self) -> Lights:
        """What light each gray value stands for, from 0 to 1, shape (256,) or (65536,) [-]."""
        levels = 256 if self.grays.dtype == np.uint8 else 65536
        return np.asarray((np.arange(levels) / (levels - 1.0)) ** GAMMA, dtype=np.float32)

    def turned(self, quarters: int) -> Picture:
        """The same turned counterclockwise by quarter turns, its pixels as they are."""
        dpi = self.dpi[::-1] if self.dpi and quarters % 2 else self.dpi
        return Picture(np.ascontiguousarray(np.rot90(self.grays, quarters)), dpi)


def read_picture(content: bytes) -> Picture:
    """Decode a PNG, TIFF or JPEG file.

    Raises:
        ScanError: not such a file, too large, of one bit a pixel, or partly transparent.
    """
    import cv2

    head = head_of(content)
    if head is None:
        raise ScanError.saying("scan.not_picture")
    _refuse_head(head)
    cv2.utils.logging.setLogLevel(
        cv2.utils.logging.LOG_LEVEL_SILENT
    )  # a spoilt file is told in our words alone
    try:
        decoded: Any = cv2.imdecode(np.frombuffer(content, np.uint8), cv2.IMREAD_UNCHANGED)
    except cv2.error:
        decoded = None
    if decoded is None or decoded.dtype not in (np.uint8, np.uint16):
        raise ScanError.saying("scan.not_picture")
    upright = _upright(_green(decoded), head.orientation)
    dpi = head.dpi[::-1] if head.dpi and head.orientation >= 5 else head.dpi
    return Picture(np.ascontiguousarray(upright), dpi)


def _refuse_head(head: Head) -> None:
    pixels = head.width * head.height
    if pixels > LARGEST_PX or pixels * head.channels * max(head.bits, 8) // 8 > LARGEST_DECODED:
        raise ScanError.saying(
            "scan.too_large",
            width=head.width,
            height=head.height,
            most=LARGEST_PX // 1_000_000,
            room=LARGEST_DECODED // 1_000_000,
        )
    if head.bits == 1:
        raise ScanError.saying("scan.one_bit")


def _green(decoded: Any) -> Any:
    """The green channel of a color scan: sensors that light in turn shift red and blue against it."""
    if decoded.ndim == 2:
        return decoded
    if decoded.shape[2] in (2, 4):
        opaque = np.iinfo(decoded.dtype).max
        share = float(np.mean(decoded[:, :, -1] != opaque))
        if share > 0.0:
            raise ScanError.saying("scan.transparent", share=Amount(100.0 * share, "%"))
    return decoded[:, :, 1] if decoded.shape[2] >= 3 else decoded[:, :, 0]


def _upright(grays: Any, orientation: int) -> Any:
    """Turned and mirrored as the file says. Source: EXIF 2.32, tag 274, Orientation."""
    if orientation in (2, 4, 5, 7):
        grays = grays[:, ::-1]
    quarters = {3: 2, 4: 2, 5: 1, 6: 3, 7: 3, 8: 1}.get(orientation, 0)
    return np.rot90(grays, quarters)
