"""The predicted cut against the rough line, its deviation exaggerated and labelled where it is."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.drawings.figures import bare, figure, unit_of
from hatchwright.drawings.page_frame import PageFrame
from hatchwright.drawings.sheet import CallOut, Entity, Layer, Line, Outline, Point, Sheet, Style, Table
from hatchwright.layout.layout import Layout
from hatchwright.making.cutter.remnants import Exaggerated, exaggerated
from hatchwright.making.making import Making
from hatchwright.making.template.rigid_template import rigid_over_in
from hatchwright.said import inch, said
from hatchwright.words.tell import tell

_MOST_LABELS = 8
_KNEE_IN = 0.55
_ARROW_IN = 0.6
_LETTER_IN = 0.11


def deviation_sheet(making: Making, *, date: str) -> Sheet:
    """Draw what the cutter will leave and what it will take too much of.

    Returns:
        Sheet: the rough line at full size, the predicted cut with its deviation exaggerated; nothing on it is cut.
    """
    page, unit, picture = (
        PageFrame(making.layout.frame),
        unit_of(making.layout.job),
        exaggerated(making.chain),
    )
    is_true = picture.factor == 1
    exaggerated_id = "deviation.title" if is_true else "deviation.title_exaggerated"
    title = said(exaggerated_id, factor=picture.factor) if picture.labels else said("deviation.title_none")
    drawn = said("deviation.cut_exaggerated", factor=picture.factor)
    return Sheet(
        title=tell(title),
        title_block=page.title_block(making.layout.job, date=date),
        entities=(
            *(
                Outline(loop, Layer.DIMENSION, Style.FINISHED, "rough-line")
                for loop in page.profile(making.chain.wanted)
            ),
            *_runs(picture, page),
            *_labels(making.layout, picture, page),
            *page.arrows(page.point(*making.layout.center_in), length_in=_ARROW_IN, height_in=_LETTER_IN),
        ),
        unit=unit,
        notes=(*_notes(picture), *_curved_note(making.layout)),
        tables=_table(making.layout, picture),
        legend=(
            (Style.FINISHED, tell(said("deviation.wanted"))),
            (Style.PHANTOM, tell(said("deviation.cut") if is_true else drawn)),
        ),
    )


def _notes(picture: Exaggerated) -> tuple[str, ...]:
    if not picture.labels:
        return (tell(said("deviation.on_the_line")),)
    true = said("deviation.true_figures")
    if picture.factor != 1:
        true = said("deviation.true_figures_exaggerated", factor=picture.factor)
    return tell(true), tell(said("deviation.left_or_gone"))


def _curved_note(layout: Layout) -> tuple[str, ...]:
    """What the picture does not show: that a rigid flat template cuts farther out on a curved skin."""
    over_in, curvature = rigid_over_in(layout), layout.job.skin.curvature
    if curvature is None or not over_in:
        return ()
    over = inch(over_in, fine=True)
    told = said("deviation.on_curved_skin", over=over, along=curvature.along.upper())
    return (tell(told, unit_of(layout.job)),)


def _runs(picture: Exaggerated, page: PageFrame) -> Iterator[Entity]:
    for run in picture.runs:
        points: tuple[Point, ...] = tuple(page.point(float(x), float(y)) for x, y in run)
        yield Line((*points, points[0]), Layer.DIMENSION, Style.PHANTOM, "predicted-cut")


def _labels(layout: Layout, picture: Exaggerated, page: PageFrame) -> Iterator[Entity]:
    unit = unit_of(layout.job)
    middle_x, middle_y = page.point(*layout.center_in)
    for number, one in enumerate(picture.labels[:_MOST_LABELS], start=1):
        x, y = page.point(*one.place)
        knee = (
            x + (_KNEE_IN if x >= middle_x else -_KNEE_IN),
            y + (_KNEE_IN if y >= middle_y else -_KNEE_IN),
        )
        id = "deviation.label_over" if one.is_over else "deviation.label_left"
        label = said(id, number=number, depth=inch(one.depth_in, fine=True))
        yield CallOut(
            (x, y),
            knee,
            (bare(label, unit),),
            boxed=one.is_over,
            css="deviation",
        )


def _table(layout: Layout, picture: Exaggerated) -> tuple[Table, ...]:
    unit = unit_of(layout.job)
    rows = tuple(
        (
            str(number),
            one.name,
            tell(said("deviation.over") if one.is_over else said("deviation.left")),
            figure(one.depth_in, unit, fine=True),
            figure(one.place[0], unit),
            figure(one.place[1], unit),
        )
        for number, one in enumerate(picture.labels, start=1)
    )
    heads = tuple(tell(said(f"deviation.{name}")) for name in ("number", "place", "metal", "depth", "x", "y"))
    return (Table(tell(said("deviation.table", unit=unit)), heads, rows),) if rows else ()
