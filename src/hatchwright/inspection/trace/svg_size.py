"""How large an SVG drawing is: what takes its unit to inches, and what moves its parts.

Source: [SVG 1.1], sections 7.6 to 7.10: width and height over the viewBox; 96 of its own units are an inch where a
physical size stands without a viewBox.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from typing import TYPE_CHECKING

from hatchwright.errors import EntryError
from hatchwright.said import inch
from hatchwright.units import MM_PER_IN, Unit

if TYPE_CHECKING:
    from fontTools.misc.transform import Transform

PIXELS_PER_IN = 96.0
"""Own units of a drawing in an inch of a physical size. Source: [SVG 1.1], section 7.10, as CSS has it [1/in]."""

_PHYSICAL = {
    "in": 1.0, "mm": 1.0 / MM_PER_IN, "cm": 10.0 / MM_PER_IN, "q": 0.25 / MM_PER_IN, "pt": 1.0 / 72.0, "pc": 1.0 / 6.0,
}  # fmt: skip
_NUMBER = r"[-+]?(?:\d+\.?\d*|\.\d+)(?:e[-+]?\d+)?"
_SIZE = re.compile(rf"\s*({_NUMBER})\s*([a-z%]*)\s*", re.IGNORECASE)
_FUNCTION = re.compile(r"\s*(\w+)\s*\(([^()]*)\)[\s,]*")
_SAME_RATIO = 1e-3
"""By how much width and height may stretch a drawing differently: editors round them to some decimals [-]."""


def numbers_in(text: str) -> list[float]:
    """The numbers of a list with commas or blanks between them."""
    return [float(one) for one in re.findall(_NUMBER, text, re.IGNORECASE)]


def inches_of(attributes: Mapping[str, str], *, unit: Unit | None, name: str) -> Transform:
    """What takes a drawing's unit to inches, Y up.

    Args:
        attributes: of its outermost element.
        unit: what one of its units is, as a person says; None where nobody did.
    Raises:
        EntryError: it has no physical size and nobody said what its unit is, one that contradicts what was said, or
            one that stretches it.
    """

    box = numbers_in(attributes.get("viewBox", ""))
    sides = [_physical_in(attributes.get(side, "")) for side in ("width", "height")]
    has_box = len(box) == 4 and min(box[2:]) > 0.0
    if not any(sides):
        if unit is None:
            raise EntryError.saying("trace.svg_unit", where=name)
        return _up(*[1.0 if unit == "in" else 1.0 / MM_PER_IN] * 2)
    if not has_box:
        scales = [1.0 / PIXELS_PER_IN]
    else:
        scales = [side / size for side, size in zip(sides, box[2:], strict=True) if side]
    if abs(scales[0] / scales[-1] - 1.0) > _SAME_RATIO:
        raise EntryError.saying("trace.svg_stretched", where=name)
    said_in = {"in": 1.0, "mm": 1.0 / MM_PER_IN}.get(unit or "")
    if said_in and abs(scales[0] / said_in - 1.0) > _SAME_RATIO:
        raise EntryError.saying(
            "trace.svg_other_unit", where=name, one=inch(scales[0], fine=True), told=unit or ""
        )
    return (
        _up(scales[0], scales[-1])
        if "none" in attributes.get("preserveAspectRatio", "")
        else _up(*scales[:1] * 2)
    )


def _up(x_in: float, y_in: float) -> Transform:
    from fontTools.misc.transform import Transform

    return Transform(x_in, 0.0, 0.0, -y_in, 0.0, 0.0)


def _physical_in(text: str) -> float:
    """A size in a physical unit [in]; 0 where it is none."""
    found = _SIZE.fullmatch(text)
    return float(found[1]) * _PHYSICAL.get(found[2].lower(), 0.0) if found else 0.0


def own_length(text: str) -> float | None:
    """A length in the drawing's own unit; None where it is in another."""
    found = _SIZE.fullmatch(text)
    return float(found[1]) if found and found[2].lower() in ("", "px") else None


def moved(matrix: Transform, text: str) -> Transform | None:
    """A matrix with what a transform attribute adds to it within; None where that can't be read."""
    if _FUNCTION.sub("", text).strip():
        return None
    for found in _FUNCTION.finditer(text):
        one = _function(found[1], numbers_in(found[2]))
        if one is None:
            return None
        matrix = matrix.transform(one)
    return matrix


def _function(name: str, values: list[float]) -> Transform | None:
    from fontTools.misc.transform import Identity, Transform

    turn = math.radians(values[0]) if values else 0.0
    match name, values:
        case "matrix", [a, b, c, d, e, f]:
            return Transform(a, b, c, d, e, f)
        case "translate", [x, *rest] if len(rest) < 2:
            return Identity.translate(x, rest[0] if rest else 0.0)
        case "scale", [x, *rest] if len(rest) < 2:
            return Identity.scale(x, rest[0] if rest else x)
        case "rotate", [_]:
            return Identity.rotate(turn)
        case "rotate", [_, x, y]:
            return Identity.translate(x, y).rotate(turn).translate(-x, -y)
        case "skewX", [_]:
            return Identity.skew(turn, 0.0)
        case "skewY", [_]:
            return Identity.skew(0.0, turn)
    return None
