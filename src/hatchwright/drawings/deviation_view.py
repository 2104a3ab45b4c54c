"""The predicted cut against the rough line, its deviation exaggerated and labelled where it is."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.drawings.figures import figure, unit_of
from hatchwright.drawings.page_frame import PageFrame
from hatchwright.drawings.sheet import CallOut, Entity, Layer, Line, Outline, Point, Sheet, Style, Table
from hatchwright.layout.layout import Layout
from hatchwright.tooling.exaggerated import Exaggerated, exaggerated
from hatchwright.tooling.guide_template import GuideChain

_MOST_LABELS = 8
_KNEE_IN = 0.55
_ARROW_IN = 0.6
_LETTER_IN = 0.11


def deviation_sheet(layout: Layout, chain: GuideChain, *, date: str) -> Sheet:
    """Draw what the cutter will leave and what it will take too much of.

    Args:
        layout: as derived.
        chain: its template and predicted cut.
        date: date and time as they are to be read.
    Returns:
        Sheet: the rough line at full size, the predicted cut with its deviation exaggerated; nothing on it is cut.
    """
    page, unit, picture = PageFrame(layout.frame), unit_of(layout.job), exaggerated(chain)
    times = f"DEVIATION DRAWN {picture.factor} TIMES" if picture.labels else "NO DEVIATION"
    return Sheet(
        title=f"PREDICTED CUT, {times}",
        title_block=page.title_block(layout.job, date=date),
        entities=(
            *(
                Outline(loop, Layer.DIMENSION, Style.FINISHED, "rough-line")
                for loop in page.profile(chain.wanted)
            ),
            *_runs(picture, page),
            *_labels(layout, picture, page),
            *page.arrows(page.point(*layout.centre_in), length_in=_ARROW_IN, height_in=_LETTER_IN),
        ),
        unit=unit,
        notes=_notes(picture),
        tables=_table(layout, picture),
        legend=(
            (Style.FINISHED, "rough line, wanted"),
            (Style.PHANTOM, f"predicted cut, deviation x {picture.factor}"),
        ),
    )


def _notes(picture: Exaggerated) -> tuple[str, ...]:
    if not picture.labels:
        return ("THE PREDICTED CUT LIES ON THE ROUGH LINE EVERYWHERE. NEVER CUT TO THIS PICTURE.",)
    return (
        f"THE FIGURES ARE TRUE. THE CUT IS DRAWN {picture.factor} TIMES AS FAR OFF AS IT WILL BE: NEVER SCALE IT, "
        "NEVER CUT TO IT.",
        "METAL THAT IS LEFT IS FILED. METAL THAT IS OVER-CUT IS GONE.",
    )


def _runs(picture: Exaggerated, page: PageFrame) -> Iterator[Entity]:
    for run in picture.runs:
        points: tuple[Point, ...] = tuple(page.point(float(x), float(y)) for x, y in run)
        yield Line((*points, points[0]), Layer.DIMENSION, Style.PHANTOM, "predicted-cut")


def _labels(layout: Layout, picture: Exaggerated, page: PageFrame) -> Iterator[Entity]:
    unit = unit_of(layout.job)
    middle_x, middle_y = page.point(*layout.centre_in)
    for number, one in enumerate(picture.labels[:_MOST_LABELS], start=1):
        x, y = page.point(*one.place)
        knee = (
            x + (_KNEE_IN if x >= middle_x else -_KNEE_IN),
            y + (_KNEE_IN if y >= middle_y else -_KNEE_IN),
        )
        said = "OVER-CUT" if one.is_over else "LEFT"
        yield CallOut(
            (x, y),
            knee,
            (f"{number}  {figure(one.depth_in, unit, fine=True)} {said}",),
            boxed=one.is_over,
            css="deviation",
        )


def _table(layout: Layout, picture: Exaggerated) -> tuple[Table, ...]:
    unit = unit_of(layout.job)
    rows = tuple(
        (
            str(number),
            one.name,
            "over-cut" if one.is_over else "left to file",
            figure(one.depth_in, unit, fine=True),
            figure(one.place[0], unit),
            figure(one.place[1], unit),
        )
        for number, one in enumerate(picture.labels, start=1)
    )
    title = f"DEVIATION OF THE PREDICTED CUT, {unit}"
    return (Table(title, ("NO.", "PLACE", "METAL", "DEPTH", "X", "Y"), rows),) if rows else ()
