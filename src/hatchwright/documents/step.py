"""One step of a work card: what is to be done, what is written down, and which documents that rests on."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Protocol

from hatchwright.drawings.template_holes_view import drilled_through
from hatchwright.making.making import Making
from hatchwright.making.template.holes import TemplateHole
from hatchwright.making.template.part import template_part
from hatchwright.said import Said, Value, said
from hatchwright.tables.instructions import instruction
from hatchwright.units import Unit
from hatchwright.words.catalog import HOME
from hatchwright.words.tell import tell, tell_all
from hatchwright.workings import Grade, Source


class Sourced(Protocol):
    """Anything that says where it stands: a limit, a row of a table, an instruction."""

    @property
    def source(self) -> Source:
        """The document and the place in it."""
        ...

    @property
    def grade(self) -> Grade:
        """How far it is to be trusted."""
        ...


@dataclass(frozen=True, slots=True)
class Basis:
    """Where something stands, and how far that is to be trusted."""

    source: Source
    grade: Grade


PRACTICE = Basis(Source("PRACTICE"), Grade.PRACTICE)
"""What is common practice and stands in no document."""


@dataclass(frozen=True, slots=True)
class Line:
    """Sentences of a step that are read together."""

    words: tuple[Value, ...]
    rests_on: tuple[Basis, ...] = ()


@dataclass(frozen=True, slots=True)
class Step:
    """One step of the work.

    Args:
        lines: how, with the numbers of this job.
        blanks: what is measured and written down, each with the value that is expected.
        sketches: SVG drawings of ours, set side by side and reduced.
    """

    title: Said
    lines: tuple[Line, ...]
    blanks: tuple[Value, ...] = ()
    sketches: tuple[bytes, ...] = ()

    @property
    def rests_on(self) -> tuple[Basis, ...]:
        """Where its lines stand, each place once."""
        return tuple(dict.fromkeys(basis for line in self.lines for basis in line.rests_on))


@dataclass(frozen=True, slots=True)
class ToldStep:
    """One step in words.

    Args:
        rests_on: documents with places and grades, in the order of its lines.
    """

    title: str
    lines: tuple[str, ...]
    blanks: tuple[str, ...]
    sketches: tuple[bytes, ...]
    rests_on: str


def line(*words: Value, rests_on: Iterable[Sourced] = ()) -> Line:
    """Put sentences together that are read together."""
    return Line(words, tuple(Basis(one.source, one.grade) for one in rests_on))


def asked(key: str) -> Line:
    """What a document asks for, in the words of the card.

    Raises:
        TableError: there is no instruction of that name.
    """
    return line(said(f"asks.{key}"), rests_on=(instruction(key),))


def told_step(step: Step, unit: Unit, tongue: str = HOME) -> ToldStep:
    """Put a step into words."""
    bases = (
        said("card.basis", source=str(basis.source), grade=basis.grade) if basis != PRACTICE else basis.grade
        for basis in step.rests_on
    )
    return ToldStep(
        title=tell(step.title, unit, tongue),
        lines=tuple(tell_all(one.words, unit, tongue) for one in step.lines),
        blanks=tuple(tell(blank, unit, tongue) for blank in step.blanks),
        sketches=step.sketches,
        rests_on="; ".join(tell(basis, unit, tongue) for basis in bases),
    )


def led_holes(making: Making | None) -> tuple[TemplateHole, ...]:
    """The holes of the skin that are piloted through the template.

    Returns:
        tuple[TemplateHole, ...]: in the order of their numbers; empty without a template.
    """
    if making is None:
        return ()
    found = drilled_through(making, template_part(making))
    return tuple(one for one in found if "skin" in one.through)


def cited(source: Source, grade: Grade) -> str:
    """Where something stands and how far it is to be trusted, as it is printed."""
    return f"[{source}; {grade}]"
