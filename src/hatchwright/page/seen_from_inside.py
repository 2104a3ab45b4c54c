"""The same drawing as seen from inside the skin: left and right change places, lettering stays readable."""

from __future__ import annotations

from dataclasses import replace

from hatchwright.drawings.ink import Circle, Ink, Line, Outline, Solid, Text
from hatchwright.drawings.sheet import Sheet
from hatchwright.said import said
from hatchwright.words.tell import tell


def seen_from_inside(sheet: Sheet) -> Sheet:
    """Mirror a drawing, for the screen only: paper and machine files are always seen from outside."""
    return replace(
        sheet,
        title=tell(said("sheet.from_inside", title=sheet.title)),
        entities=tuple(_mirrored(part) for part in sheet.parts()),
    )


def _mirrored(part: Ink) -> Ink:
    match part:
        case Text():
            box, turned = part.box(), replace(part, at=(-part.at[0], part.at[1]))
            here = turned.box()
            shift = -0.5 * (box.left + box.right + here.left + here.right)
            return replace(turned, at=(turned.at[0] + shift, turned.at[1]))
        case Circle():
            return replace(part, center=(-part.center[0], part.center[1]))
        case Outline():
            return replace(part, loop=part.loop.transformed(((-1.0, 0.0), (0.0, 1.0))))
        case Line():
            return replace(part, points=tuple((-x, y) for x, y in part.points))
        case Solid():
            a, b, c = ((-x, y) for x, y in part.points)
            return replace(part, points=(a, b, c))
