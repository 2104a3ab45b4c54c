"""Outlines at true size that belong to no job, such as an opening to be cut out of cardboard."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from hatchwright.drawings.ink import Anchor, Ink, Layer, Line, Outline, Style, Text
from hatchwright.drawings.sheet import Sheet
from hatchwright.drawings.title_block import TitleBlock
from hatchwright.said import Said, said
from hatchwright.shapes.profile import Loop
from hatchwright.units import Unit
from hatchwright.words.tell import tell

_LETTER_IN, _CROSS_IN, _BELOW_IN = 0.12, 0.3, 0.25
_MEANS = ((Style.FINISHED, "outline"), (Style.CENTER, "middle"))


def outlines_sheet(
    title: Said, outlines: Iterable[tuple[Said, Loop]], *, notes: Iterable[Said], unit: Unit, date: str
) -> Sheet:
    """Draw outlines about one center, each with its name below its middle.

    Args:
        outlines: what each is called, and the outline [in].
        date: when it was made.
    """
    block = TitleBlock(
        job=tell(said("quick.paper.no_job")),
        aircraft="",
        side=tell(said("quick.paper.mark")),
        view=tell(said("quick.paper.either_face")),
        revision="-",
        date=date,
    )
    ink = tuple(part for one in outlines for part in _drawn(*one))
    legend = tuple((style, tell(said(f"quick.paper.{name}"))) for style, name in _MEANS)
    told = tuple(tell(note, unit) for note in notes)
    return Sheet(tell(title), block, ink, unit=unit, notes=told, legend=legend)


def _drawn(called: Said, loop: Loop) -> Iterator[Ink]:
    x_min, y_min, x_max, y_max = loop.bounds
    x, y = (x_min + x_max) / 2.0, (y_min + y_max) / 2.0
    yield Outline(loop, Layer.OPENING)
    for dx, dy in ((_CROSS_IN, 0.0), (0.0, _CROSS_IN)):
        yield Line(((x - dx, y - dy), (x + dx, y + dy)), Layer.STRUCTURE, Style.CENTER)
    yield Text((x, y - _CROSS_IN - _BELOW_IN), tell(called), _LETTER_IN, anchor=Anchor.MIDDLE)
