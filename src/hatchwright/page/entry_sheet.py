"""The entry sheet of a job: every box that a mechanic fills in, with its echo and its faults."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, Literal

from hatchwright.errors import Fault
from hatchwright.said import said
from hatchwright.words.tell import tell

Kind = Literal["length", "coordinate", "diameter", "words", "one of", "yes or no", "count", "amount"]


@dataclass(frozen=True, slots=True)
class Box:
    """One box of the sheet.

    Args:
        path: dotted field of the job file.
        value: what stands in it, as typed.
        required: whether the job cannot do without it.
        choices: the words to choose from, or suggestions for a box that takes any words.
        echo: a length said back in every notation, or "".
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


@dataclass(frozen=True, slots=True)
class Section:
    """Boxes that belong together.

    Args:
        path: dotted section of the job file, "" for the head of the job.
        is_present: whether the job has it.
        may_go: whether the job can do without it.
        variant: box that says which form the section takes, such as its shape; the other boxes depend on it.
        faults: faults of the section as a whole.
        new: what it holds to begin with, when the job does not have it yet.
    """

    path: str
    title: str
    help: str = ""
    boxes: tuple[Box, ...] = ()
    parts: tuple[Section | Listing, ...] = ()
    is_present: bool = True
    may_go: bool = False
    variant: Box | None = None
    faults: tuple[Fault, ...] = ()
    new: Any = None

    def all_boxes(self) -> Iterator[Box]:
        """Every box in it and below it."""
        if self.variant:
            yield self.variant
        yield from self.boxes
        for part in self.parts:
            yield from part.all_boxes()

    def all_faults(self) -> Iterator[Fault]:
        """Every fault in it and below it."""
        yield from self.faults
        for box in (self.variant, *self.boxes):
            yield from box.faults if box else ()
        for part in self.parts:
            yield from part.all_faults()

    @property
    def gist(self) -> str:
        """The section in a few words, for when it is folded."""
        if self.boxes and all(box.kind == "yes or no" for box in self.boxes):
            answered = sum(bool(box.value) for box in self.boxes)
            return tell(said("page.answered", n=answered, all=len(self.boxes)))
        values = [box.value for box in (self.variant, *self.boxes) if box and box.kind != "yes or no"]
        return " · ".join([value for value in values if value][:4])


@dataclass(frozen=True, slots=True)
class Listing:
    """A list of like things, one a line.

    Args:
        path: dotted list of the job file.
        lines: one section each, numbered from 0 in the job file.
        new: what a new line holds to begin with.
    """

    path: str
    title: str
    help: str
    lines: tuple[Section, ...]
    new: Any
    faults: tuple[Fault, ...] = ()

    @property
    def is_table(self) -> bool:
        """Whether all its lines have the same boxes, so that it can stand as a table."""
        return not any(line.variant or line.parts for line in self.lines)

    @property
    def gist(self) -> str:
        """How many lines it has."""
        return str(len(self.lines)) if self.lines else tell(said("page.no_lines"))

    def all_boxes(self) -> Iterator[Box]:
        """Every box of every line."""
        for line in self.lines:
            yield from line.all_boxes()

    def all_faults(self) -> Iterator[Fault]:
        """Every fault in it and below it."""
        yield from self.faults
        for line in self.lines:
            yield from line.all_faults()


@dataclass(frozen=True, slots=True)
class Stage:
    """One stage of the work and the sections filled in at it."""

    title: str
    parts: tuple[Section | Listing, ...]


@dataclass(frozen=True, slots=True)
class EntrySheet:
    """All stages with their boxes.

    Args:
        loose_faults: faults that no box or section could be found for.
    """

    stages: tuple[Stage, ...]
    loose_faults: tuple[Fault, ...]

    def boxes(self) -> dict[str, Box]:
        """Every box by its path."""
        return {box.path: box for stage in self.stages for part in stage.parts for box in part.all_boxes()}

    def name_of(self, path: str) -> str:
        """What the sheet calls a field of the job file, such as ``Rows of rivets 3, Pitch``; the path if nothing."""
        boxes, sections = self.boxes(), self.sections()
        parts, title, label = path.split("."), "", ""
        for end in range(1, len(parts) + 1):
            here, number = ".".join(parts[:end]), parts[end - 1]
            if here in boxes:
                label = boxes[here].label
            elif number.isdigit():
                title += f" {int(number) + 1}"
            elif here in sections and sections[here].title:
                title = sections[here].title
            elif f"{here}.0" in boxes:
                label = boxes[f"{here}.0"].label.removesuffix(" X")
        return ", ".join(word for word in (title.strip(), label) if word) or path

    def forms(self) -> set[str]:
        """Paths of the boxes that say which form a section takes."""
        parts = self.sections().values()
        return {part.variant.path for part in parts if isinstance(part, Section) and part.variant}

    def sections(self) -> dict[str, Section | Listing]:
        """Every section and list by its path, those inside others included."""
        found: dict[str, Section | Listing] = {}

        def walk(part: Section | Listing) -> None:
            found[part.path] = part
            for inner in part.lines if isinstance(part, Listing) else part.parts:
                walk(inner)

        for stage in self.stages:
            for part in stage.parts:
                walk(part)
        return found
