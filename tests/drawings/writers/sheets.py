"""Sheets for the tests of the writers; the numbers are of an invented job and stand here as plain values."""

from __future__ import annotations

import math

import numpy as np

from hatchwright.drawings.dimensions import baseline
from hatchwright.drawings.ink import Circle, Layer, Line, Outline, Style, Text
from hatchwright.drawings.keep_out import hatched
from hatchwright.drawings.marks import arrow, call_out, cross
from hatchwright.drawings.sheet import Sheet
from hatchwright.drawings.table import Table
from hatchwright.drawings.title_block import TitleBlock
from hatchwright.shapes.profile import Loop

QUARTER = math.tan(math.pi / 8.0)

HOLES = {1: (8.283, 2.020), 2: (8.279, 2.641), 4: (8.260, 3.884), 15: (8.757, 4.809)}


def block(job="ALDER", side="LEFT"):
    return TitleBlock(job, "REG X-0000", side, "SEEN FROM OUTSIDE", "C", "2026-11-25", (("FWD", 90.0),))


def rounded(x0, y0, x1, y1, radius):
    rows = [
        [x0 + radius, y0, 0.0],
        [x1 - radius, y0, QUARTER],
        [x1, y0 + radius, 0.0],
        [x1, y1 - radius, QUARTER],
        [x1 - radius, y1, 0.0],
        [x0 + radius, y1, QUARTER],
        [x0, y1 - radius, 0.0],
        [x0, y0 + radius, QUARTER],
    ]
    return Loop(np.array(rows))


def slot(x0, y0, length, radius):
    """A slot with half circles at its ends, its lower straight beginning at (x0, y0)."""
    rows = [
        [x0, y0, 0.0],
        [x0 + length, y0, 1.0],
        [x0 + length, y0 + 2 * radius, 0.0],
        [x0, y0 + 2 * radius, 1.0],
    ]
    return Loop(np.array(rows))


def bay(unit="in", words="4: SHORT .002"):
    """A bay larger than a page: an opening 5 x 4 with R .75, a doubler, holes, a keep-out, dimensions, a table."""
    opening, doubler = rounded(3.0, 2.5, 8.0, 6.5, 0.75), rounded(2.0, 1.5, 9.0, 7.5, 1.0)
    entities = [
        Outline(opening, Layer.OPENING),
        Outline(doubler, Layer.DOUBLER, Style.HIDDEN),
        Outline(slot(4.0, 0.2, 1.0, 0.125), Layer.TEMPLATE, Style.PHANTOM),
        Line(((0.0, -0.2), (0.0, 9.2)), Layer.STRUCTURE, Style.CENTER),
        *hatched(rounded(9.6, 0.0, 10.0, 9.0, 0.1)),
        *call_out(
            (8.260, 3.884), (8.9, 3.0), (words,), clear_in=0.13, boxed=True, note_id="R101-4", css="short"
        ),
        *arrow((-0.8, 7.0), 90.0, "FWD"),
        *baseline((0.0, 0.0), [((3.0, 2.5), "3.000"), ((8.0, 2.5), "8.000")], along="x", first_line_at=-0.5),
    ]
    for number, place in HOLES.items():
        entities.append(Circle(place, 0.098, Layer.DRILL_PILOT, hole=number))
        entities += cross(place, 0.2)
    rows = tuple((str(number), f"{x:.3f}", f"{y:.3f}") for number, (x, y) in HOLES.items())
    return Sheet(
        "LAYOUT",
        block(),
        tuple(entities),
        unit=unit,
        notes=("BREAK SHARP EDGES .005-.015. DEBURR BOTH SIDES.",),
        tables=(Table("HOLES", ("NO.", "X", "Y"), rows),),
    )


def plate(unit="in"):
    """A plate that fits one page: 3.000 square, R .500, and two holes 2.000 apart."""
    return Sheet(
        "TEMPLATE",
        block(side="RIGHT"),
        (
            Outline(rounded(0.0, 0.0, 3.0, 3.0, 0.5), Layer.TEMPLATE),
            Circle((0.5, 0.7), 0.25, Layer.DRILL_PILOT, Style.DIMENSION, hole=1),
            Circle((2.5, 0.7), 0.25, Layer.DRILL_PILOT, Style.DIMENSION, hole=2),
        ),
        unit=unit,
    )


def lettered(words):
    """A sheet on which a text stands in every place that a person can fill."""
    return Sheet(
        words or "TITLE",
        TitleBlock(words, words, words, words, words, words, ((words, 90.0),)),
        (
            Outline(rounded(0.0, 0.0, 3.0, 3.0, 0.5), Layer.OPENING, css=words),
            Text((0.2, 1.0), words, note_id=words, css=words),
            *call_out((1.0, 1.0), (2.0, 2.0), (words, words)),
        ),
        notes=(words,),
        tables=(Table(words, (words,), ((words,),)),),
    )


HOSTILE = (
    "<script>alert(1)</script>&amp;\"'",
    "]]><!-- --> <a href='http://example.invalid'>",
    '#import "x": * $a^2$ @ref `raw` *bold* _under_ \\ // /* */',
    "%%d %%c %%u %%% %%%% ^I ^ ^^ \\U+0041 \\M+1ABCD {\\fArial;x}",
    "Zürich ± ½ Ø 東京 ✈",
    "\x00\x01\x1b\n\t\r\u2028\u202eTFEL\u202c",
    "\ud800 lone",
    "fi ffl -- --- ... ~ 'quotes'",
    "  two  spaces  ",
    "",
)
