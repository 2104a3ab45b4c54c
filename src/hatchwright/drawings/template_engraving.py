"""What is engraved on a template: all that is lettered on its drawing, as strokes that a tool can follow."""

from __future__ import annotations

import math
from collections.abc import Iterator

from hatchwright.drawings.ink import BEFORE_POINT, Ink, Line, Solid, Text
from hatchwright.drawings.template_words import TemplateWords
from hatchwright.drawings.tidy import without_repeats
from hatchwright.making.making import Making
from hatchwright.making.template.part import template_part
from hatchwright.making.template.stroke_letters import Mark, lettered


def template_engraving(making: Making, *, date: str) -> tuple[Mark, ...]:
    """The marks on the face of a template that lies out, where the drawing has them [in]."""
    words = TemplateWords(making, template_part(making), date=date)
    return tuple(mark for part in without_repeats(words.ink) for mark in _marks(part))


def _marks(part: Ink) -> Iterator[Mark]:
    match part:
        case Line():
            yield part.points
        case Solid():
            yield (*part.points, part.points[0])
        case Text():
            back_in, angle = BEFORE_POINT[part.anchor] * part.width_in, math.radians(part.angle_deg)
            yield from lettered(
                part.words,
                at=(part.at[0] - back_in * math.cos(angle), part.at[1] - back_in * math.sin(angle)),
                width_in=part.width_in,
                height_in=part.height_in,
                angle_deg=part.angle_deg,
            )
