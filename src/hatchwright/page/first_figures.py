"""The few figures that the picture of a new job asks for, and what is proposed from them for all that follows.

What is typed is confirmed; a box that is left blank takes what is proposed, which counts as a sample like the rest.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from fractions import Fraction
from typing import Any

from msgspec import Struct

from hatchwright.drawings.kind_picture import kind_picture
from hatchwright.errors import EntryError, Fault, HatchwrightError
from hatchwright.job.as_typed import raw_data, standing_at, typed_length
from hatchwright.job.file import edited, read_job
from hatchwright.job.samples import confirmed
from hatchwright.layout.lay_out import lay_out
from hatchwright.page.entry_sheet import Box
from hatchwright.page.lay_out_sheet import sheet_of
from hatchwright.said import said
from hatchwright.units import Unit, parse_length
from hatchwright.words.tell import tell
from hatchwright.workflow.new_job import Start, starting_text

_SIZES = {
    "rectangle": ("opening.width", "opening.height", "opening.radius"),
    "round": ("opening.diameter",),
    "obround": ("opening.length", "opening.width"),
}
_RIVETED = ("skin.thickness", "doubler.thickness", "rows.0.rivet")
_ASKED = {
    "flush-cover": (*_RIVETED, "rows.0.pitch", "cover.screws.size"),
    "lapped-cover": (*_RIVETED, "cover.lap", "cover.screws.size"),
    "clip-nuts": (
        "skin.thickness",
        "cover.thickness",
        "cover.lap",
        "cover.screws.size",
        "cover.screws.pitch",
    ),
    "plain-hole": (*_RIVETED, "rows.0.pitch"),
    "antenna": (*_RIVETED, "mount.base", "mount.screw_size"),
    "camera": (*_RIVETED, "mount.base", "mount.screw_size"),
    "flush-patch": (*_RIVETED, "rows.0.pitch"),
}
_PAIRS = ("opening.center", "mount.base")

_AROUND = ("doubler.outer", "doubler.inner")
"""Outlines that keep their distance from the edge of the opening, where they have the size that changes."""


class Figure(Struct, frozen=True):
    """One figure that is asked for: its letter in the picture, and its boxes, two for a place or a size.

    Args:
        boxes: as the new job has them: their values are what is proposed.
    """

    letter: str
    label: str
    boxes: tuple[Box, ...]


class FirstFigures(Struct, frozen=True):
    """A new job on its way: how it starts, and what was typed by field; blank where nothing was."""

    start: Start
    typed: Mapping[str, str]

    @property
    def samples(self) -> int:
        """How many entries the job holds besides, as samples that are open until they are confirmed."""
        return len(raw_data(starting_text(self.start))["samples"]) - len(self.letters)

    @property
    def letters(self) -> dict[str, str]:
        """Field to its letter, in the order in which they are asked."""
        sizes = _SIZES[self.start.shape]
        fields = (*sizes, "opening.center", *_ASKED[self.start.kind])
        return {field: chr(ord("A") + number) for number, field in enumerate(fields)}

    def figures(self) -> tuple[Figure, ...]:
        """What is asked for, in order."""
        boxes = sheet_of(starting_text(self.start)).boxes
        return tuple(
            Figure(letter, tell(said(f"figure.{field}")), tuple(boxes[path] for path in _boxes_of(field)))
            for field, letter in self.letters.items()
        )

    def text(self) -> str:
        """The job that is begun: what was typed, confirmed, and what follows from it, as samples.

        Raises:
            JobError: what was typed cannot be, each with its field.
        """
        text = starting_text(self.start)
        typed = {path: value.strip() for path, value in self._given() if value.strip()}
        text = edited(text, {**_following(raw_data(text), typed), **typed})
        read_job(text)
        whole = {field for field in self.letters if all(path in typed for path in _boxes_of(field))}
        return confirmed(text, whole)

    def faults_by_box(self, faults: Iterable[Fault]) -> tuple[dict[str, list[Fault]], list[Fault]]:
        """The faults by the box that they belong to, and those of no box."""
        paths = [path for field in self.letters for path in _boxes_of(field)]
        by_box: dict[str, list[Fault]] = {}
        others: list[Fault] = []
        for fault in faults:
            at = next(
                (path for path in paths if path == fault.field or path.startswith(f"{fault.field}.")), ""
            )
            (by_box.setdefault(at, []) if at else others).append(fault)
        return by_box, others

    def picture(self) -> bytes:
        """The job as it is by now, as SVG, with its letters; as it starts where what was typed cannot be drawn."""
        title = tell(said(f"new_job.{self.start.kind}"))
        try:
            job = read_job(self.text())
            return kind_picture(lay_out(job), title, self.letters)
        except HatchwrightError:
            return kind_picture(lay_out(read_job(starting_text(self.start))), title, self.letters)

    def _given(self) -> Iterator[tuple[str, str]]:
        for field in self.letters:
            yield from ((path, self.typed.get(path, "")) for path in _boxes_of(field))


def tile_picture(kind: str) -> bytes:
    """A kind of job in its usual shape, as SVG, without letters."""
    return kind_picture(lay_out(read_job(starting_text(Start(kind)))), tell(said(f"new_job.{kind}")))


def _boxes_of(field: str) -> tuple[str, ...]:
    return (f"{field}.0", f"{field}.1") if field in _PAIRS else (field,)


def _following(data: Mapping[str, Any], typed: Mapping[str, str]) -> dict[str, str]:
    """What is proposed anew because of what was typed; nothing where a text is no length."""
    unit: Unit = "mm" if data.get("units") == "mm" else "in"
    grown = {
        field.removeprefix("opening."): change
        for field, text in typed.items()
        if field.startswith("opening.") and (change := _change(data, field, text, unit)) is not None
    }
    found: dict[str, str] = {}
    for part in _AROUND:
        outline = standing_at(data, part) or {}
        for size in grown.keys() & outline.keys():
            found[f"{part}.{size}"] = _moved(outline[size], grown[size], unit)
    for axis in ("0", "1"):
        for number in range(len(standing_at(data, "patch.extent") or ())):
            place = f"patch.extent.{number}.at.{axis}"
            if change := grown.get(f"center.{axis}"):
                found[place] = _moved(standing_at(data, place), change, unit)
    if thickness := typed.get("skin.thickness"):
        also = ("skin.measured", "patch.plug.thickness")
        found |= {field: thickness for field in also if standing_at(data, field) is not None}
    if rivet := typed.get("rows.0.rivet"):
        found |= {f"rows.{number}.rivet": rivet for number in range(1, len(data["rows"]))}
    if (count := standing_at(data, "cover.screws.count")) and grown:
        found["cover.screws.count"] = str(_screws(data["opening"], grown, count, unit))
    return found


def _change(data: Mapping[str, Any], field: str, text: str, unit: Unit) -> Fraction | None:
    """By how much a typed length is more than what stood there [in]."""
    try:
        length = parse_length(text, unit=unit, signed=field.startswith("opening.center."))
        return length.exact_in - _length(standing_at(data, field), unit)
    except EntryError:
        return None


def _length(text: Any, unit: Unit) -> Fraction:
    return parse_length(str(text), unit=unit, signed=True).exact_in


def _moved(text: Any, change_in: Fraction, unit: Unit) -> str:
    return typed_length(float(_length(text, unit) + change_in), unit)


def _screws(opening: Mapping[str, Any], grown: Mapping[str, Fraction], count: int, unit: Unit) -> int:
    """As many screws as keep about the spacing when the way round the opening grows."""

    def way_round(change: Mapping[str, Fraction]) -> float:
        size = {
            name: float(_length(opening[name], unit) + change.get(name, Fraction(0)))
            for name in ("width", "height", "length", "diameter")
            if name in opening
        }
        if "diameter" in size:
            return math.pi * size["diameter"]
        return 2.0 * sum(size.values())

    return max(4, round(count * way_round(grown) / way_round({})))
