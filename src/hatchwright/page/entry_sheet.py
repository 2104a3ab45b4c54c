"""The entry sheet of a job: every box that a mechanic fills in, with its echo and its faults."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cached_property
from typing import Any

from msgspec import Struct

from hatchwright.errors import Fault
from hatchwright.job.job_fields import Kind
from hatchwright.said import said
from hatchwright.words.tell import tell

_LEAST_FOLDED = 2
"""Fewer empty boxes than this are not worth folding away [-]."""

_MOST_COLUMNS = 8
"""More boxes than this side by side are too narrow to read what was typed [-]."""


class Box(Struct, frozen=True):
    """One box of the sheet.

    Args:
        path: dotted field of the job file.
        value: what stands in it, as typed.
        required: whether the job cannot do without it.
        choices: the words to choose from, or suggestions for a box that takes any words.
        echo: a length said back in every notation, or "".
        is_sample: whether the sample value of a new job still stands in it.
    """

    path: str
    label: str
    help: str
    kind: Kind
    value: str
    required: bool
    choices: tuple[str, ...] = ()
    echo: str = ""
    faults: tuple[Fault, ...] = ()
    is_sample: bool = False

    @property
    def may_fold(self) -> bool:
        """Whether nobody misses it while it is folded away: it is empty, and nothing asks for it."""
        return not (self.value or self.required or self.faults or self.kind == "yes or no")


class Section(Struct, frozen=True):
    """Boxes that belong together, or a list of like things, one a line.

    Args:
        path: dotted section or list of the job file, "" for the head of the job.
        parts: the sections inside it; of a list its lines, numbered from 0 in the job file.
        is_present: whether the job has it.
        may_go: whether the job can do without it.
        variant: box that says which form the section takes, such as its shape; the other boxes depend on it.
        faults: faults of the section as a whole.
        new: what it holds to begin with, when the job does not have it yet; of a list, what a new line holds.
        in_line: fields that stand in the one line of a list's line, in their order; none where all its boxes do.
        takes_paste: whether rows of a spreadsheet can be pasted into a list, or readings of all kinds into a section.
    """

    path: str
    title: str
    help: str = ""
    boxes: tuple[Box, ...] = ()
    parts: tuple[Section, ...] = ()
    is_list: bool = False
    is_present: bool = True
    may_go: bool = False
    variant: Box | None = None
    faults: tuple[Fault, ...] = ()
    new: Any = None
    in_line: tuple[str, ...] = ()
    takes_paste: bool = False

    def walk(self) -> Iterator[Section]:
        """Itself, and every section below it."""
        yield self
        for part in self.parts:
            yield from part.walk()

    def own_boxes(self) -> tuple[Box, ...]:
        """Its boxes without those below it, first the one that says its form."""
        return (*((self.variant,) if self.variant else ()), *self.boxes)

    @property
    def at_hand(self) -> tuple[Box, ...]:
        """The few boxes that stand open: those of its one line, else what is filled, asked for or wrong."""
        if self.in_line:
            by_name = [(_field_of(box.path, self.path), box) for box in self.boxes]
            return tuple(box for name in self.in_line for field, box in by_name if field == name)
        folded = [box for box in self.boxes if box.may_fold]
        return self.boxes if len(folded) < _LEAST_FOLDED else tuple(b for b in self.boxes if not b.may_fold)

    @property
    def folded(self) -> tuple[Box, ...]:
        """The other boxes."""
        at_hand = {box.path for box in self.at_hand}
        return tuple(box for box in self.boxes if box.path not in at_hand)

    @property
    def parts_at_hand(self) -> tuple[Section, ...]:
        """The sections inside it that stand with them."""
        return tuple(part for part in self.parts if not self.in_line or self._is_in_line(part.path))

    @property
    def folded_parts(self) -> tuple[Section, ...]:
        """The other sections inside it."""
        return tuple(part for part in self.parts if self.in_line and not self._is_in_line(part.path))

    def _is_in_line(self, path: str) -> bool:
        return _field_of(path, self.path) in self.in_line

    @property
    def samples(self) -> int:
        """How many sample values still stand in it and below it [-]."""
        return sum(box.is_sample for part in self.walk() for box in part.own_boxes())

    @property
    def is_faulty(self) -> bool:
        """Whether anything is wrong in it or below it."""
        return any(part.faults or any(box.faults for box in part.own_boxes()) for part in self.walk())

    @property
    def is_table(self) -> bool:
        """Whether all lines of a list have the same boxes, and few enough, so that it can stand as a table."""
        return not any(
            line.in_line or line.variant or line.parts or len(line.boxes) > _MOST_COLUMNS
            for line in self.parts
        )

    @property
    def gist(self) -> str:
        """The section in a few words, for when it is folded; of a list, how many lines it has."""
        if self.is_list:
            return str(len(self.parts)) if self.parts else tell(said("page.no_lines"))
        if self.boxes and all(box.kind == "yes or no" for box in self.boxes):
            answered = sum(bool(box.value) for box in self.boxes)
            return tell(said("page.answered", n=answered, all=len(self.boxes)))
        values = [box.value for box in self.own_boxes() if box.kind != "yes or no"]
        return " · ".join([value for value in values if value][:4])


class EntrySheet(Struct, frozen=True, dict=True):
    """The sections by the title of the stage of the work at which they are filled in, and the faults that no box or
    section could be found for."""

    stages: Mapping[str, tuple[Section, ...]]
    loose_faults: tuple[Fault, ...]

    @cached_property
    def sections(self) -> Mapping[str, Section]:
        """Every section and list by its path, those inside others included."""
        return {part.path: part for stage in self.stages.values() for top in stage for part in top.walk()}

    @cached_property
    def boxes(self) -> Mapping[str, Box]:
        """Every box by its path."""
        return {box.path: box for part in self.sections.values() for box in part.own_boxes()}

    @property
    def samples(self) -> int:
        """How many sample values still stand in its boxes [-]."""
        return sum(box.is_sample for box in self.boxes.values())

    def name_of(self, path: str) -> str:
        """What the sheet calls a field of the job file, such as ``Rows of rivets 3, Pitch``; the path if nothing."""
        parts, title, label = path.split("."), "", ""
        for end in range(1, len(parts) + 1):
            here, number = ".".join(parts[:end]), parts[end - 1]
            if here in self.boxes:
                label = self.boxes[here].label
            elif number.isdigit():
                title += f" {int(number) + 1}"
            elif here in self.sections and self.sections[here].title:
                title = self.sections[here].title
            elif f"{here}.0" in self.boxes:
                label = self.boxes[f"{here}.0"].label.removesuffix(" X")
        return ", ".join(word for word in (title.strip(), label) if word) or path

    def forms(self) -> set[str]:
        """Paths of the boxes that say which form a section takes."""
        return {part.variant.path for part in self.sections.values() if part.variant}


def _field_of(path: str, section: str) -> str:
    """The field of a section that a box is of, such as ``start`` for ``rows.0.start.1``."""
    return path.removeprefix(f"{section}.").split(".")[0]
