"""Labels to cut out: which face of a part is which, and what the next person who opens the cover needs."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from typing import Any, Literal

from msgspec import Struct

from hatchwright.documents.job_summary import mandate_said
from hatchwright.drawings.page_frame import side_word
from hatchwright.layout.layout import Layout
from hatchwright.layout.named import head_named
from hatchwright.recipe.cover_hardware import cover_hardware
from hatchwright.said import Said, Value, said
from hatchwright.words.of_job import in_words_of
from hatchwright.words.tell import tell

Face = Literal["outside", "inside"]


class Label(Struct, frozen=True):
    """One strip to cut out.

    Args:
        name: in large letters.
        lines: under it.
        forward_deg: where its arrow points as it is read, counter-clockwise from the right; None without an arrow
            [deg].
    """

    name: Value
    lines: tuple[Value, ...]
    forward_deg: float | None = None


def labels_of(layout: Layout) -> tuple[Label, ...]:
    """Both faces of every new part, then the placard of the cover or of what stays open."""
    faces = tuple(
        _face(part.name, face, layout) for part in layout.parts[1:] for face in ("outside", "inside")
    )
    return (*faces, _placard(layout))


def _face(part: str, face: Face, layout: Layout) -> Label:
    """A face as one looks at it: from inside, left and right change places."""
    name = said("labels.part", part=said(f"part.{part}"))
    ((_, (x, y)),) = (one for one in layout.frame.directions() if one[0] == "FWD")
    forward_deg = math.degrees(math.atan2(y, x if face == "outside" else -x)) % 360.0
    return Label(name, (said(f"labels.{face}"),), forward_deg)


def _placard(layout: Layout) -> Label:
    return Label(said("labels.job", job=layout.job.title), tuple(_placard_lines(layout)))


def _placard_lines(layout: Layout) -> Iterator[Said]:
    """The screws of the cover, what asked for the work, and a blank for when it is looked at next."""
    hardware, cover = cover_hardware(layout), layout.job.cover
    if hardware and cover and cover.screws:
        screws = cover.screws
        id = "labels.screws" if screws.length else "labels.screws_no_length"
        yield said(id, n=hardware.screws.count, screw=hardware.screws.name, head=head_named(screws))
    yield said("labels.mandate", mandate=mandate_said(layout.job.mandate))
    yield said("labels.next_look", revision=layout.job.revision)


def labels_on_paper(labels: Iterable[Label], layout: Layout) -> list[dict[str, Any]]:
    """The labels as the template prints them."""
    job = layout.job

    def told(what: Value) -> str:
        return tell(in_words_of(job.kind, what), job.unit)

    return [
        {
            "name": told(one.name),
            "side": side_word(job),
            "lines": list(map(told, one.lines)),
            "forward": one.forward_deg,
            "word": told(said("labels.forward")) if one.forward_deg is not None else "",
        }
        for one in labels
    ]
