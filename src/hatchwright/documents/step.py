"""One step of a work card, and how it quotes what the documents say."""

from __future__ import annotations

from dataclasses import dataclass

from hatchwright.drawings.figures import Unit, figure
from hatchwright.drawings.template_holes_view import drilled_through
from hatchwright.making.making import Making
from hatchwright.making.template.holes import TemplateHole
from hatchwright.making.template.part import template_part
from hatchwright.tables.cited import Cited
from hatchwright.tables.instructions import instruction
from hatchwright.workings import Grade, Source


@dataclass(frozen=True, slots=True)
class Step:
    """One step of the work.

    Args:
        lines: how, with the numbers of this job.
        blanks: what is measured and written down, each with the value that is expected.
        sketches: SVG drawings of ours, set side by side and reduced.
    """

    title: str
    lines: tuple[str, ...]
    blanks: tuple[str, ...] = ()
    sketches: tuple[bytes, ...] = ()


def led_holes(making: Making | None) -> tuple[TemplateHole, ...]:
    """The holes of the skin that are piloted through the template.

    Returns:
        tuple[TemplateHole, ...]: in the order of their numbers; empty without a template.
    """
    if making is None:
        return ()
    found = drilled_through(making, template_part(making))
    return tuple(one for one in found if "skin" in one.through)


def quoted(key: str) -> str:
    """What a document asks for in words, with its source.

    Args:
        key: of the instruction.
    Returns:
        str: one sentence.
    Raises:
        TableError: there is no instruction of that name.
    """
    found = instruction(key)
    return f"{found.text[:1].upper()}{found.text[1:]}. {cited(found.source, found.grade)}"


def limit_words(found: Cited, unit: Unit) -> str:
    """A length that a document gives, with its source.

    Args:
        found: the limit, one in inches.
        unit: to write it in.
    Returns:
        str: such as ``.031 in [PRACTICE, finding the center; common practice, no source]``.
    """
    return f"{figure(found.value, unit)} {unit} {cited(found.source, found.grade)}"


def cited(source: Source, grade: Grade) -> str:
    """Where something stands and how far it is to be trusted, as it is printed.

    Args:
        source: the document and place.
    Returns:
        str: in square brackets.
    """
    return f"[{source}; {grade}]"
