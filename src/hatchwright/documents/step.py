"""One step of the work: told at length with what it rests on, and in one line as it is carried to the aircraft."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import Any, Literal

from msgspec import Struct

from hatchwright.ground import Ground, practice
from hatchwright.layout.layout import Layout
from hatchwright.making.making import Making
from hatchwright.recipe.recipe import Recipe
from hatchwright.recipe.task import Task, TaskName
from hatchwright.said import Said, Value, said
from hatchwright.tables.instructions import instruction
from hatchwright.units import Unit
from hatchwright.words.catalog import HOME
from hatchwright.words.of_job import in_words_of
from hatchwright.words.tell import tell
from hatchwright.workings import Rests

PRACTICE = practice("")
"""What is common practice and stands in no document."""


class Work(Struct, frozen=True):
    """What the steps of a card are told of: the layout, the making where there is one, and the recipe."""

    layout: Layout
    making: Making | None
    recipe: Recipe

    @property
    def guided(self) -> Making:
        """The making of a job with a template: its tasks are of the recipe only then."""
        assert self.making is not None
        return self.making


class Line(Struct, frozen=True):
    """Sentences of a step that are read together."""

    words: tuple[Value, ...]
    rests_on: tuple[Ground, ...] = ()


class Check(Struct, frozen=True):
    """One box of a carried step.

    Args:
        box: what is put into it; at a "hold" nobody goes on before another person has stamped or initialed it.
        words: what is checked.
        figure: the one that it must come out at, "" where there is none.
        made: what was measured already, "" while nothing was.
    """

    box: Literal["tick", "initials", "reading", "hold"]
    words: Value
    figure: Value = ""
    made: Value = ""


class Carried(Struct, frozen=True):
    """One step as it is carried: a line of what, its numbers, its checks.

    Args:
        is_done: whether what was measured shows that it is behind us.
    """

    what: Value
    numbers: tuple[Value, ...] = ()
    checks: tuple[Check, ...] = ()
    is_done: bool = False


class Step(Struct, frozen=True):
    """One step of the work.

    Args:
        lines: how, with the numbers of this job.
        blanks: what is measured and written down, each with the value that is expected.
        carried: the same in one line.
    """

    title: Said
    lines: tuple[Line, ...]
    blanks: tuple[Value, ...] = ()
    carried: Carried | None = None

    @property
    def rests_on(self) -> tuple[Ground, ...]:
        """Where its lines stand, each place once."""
        return tuple(dict.fromkeys(basis for line in self.lines for basis in line.rests_on))


Teller = Callable[[Task, Work], Step]
"""What tells one task as a step of the card."""

Tellers = Mapping[TaskName, Teller]

Carriers = Mapping[TaskName, Callable[[Task, Work], Carried]]
"""What tells each task in one line."""


def line(*words: Value, rests_on: Iterable[Rests] = ()) -> Line:
    """Put sentences together that are read together."""
    return Line(words, tuple(Ground(one.source, one.grade) for one in rests_on))


def asked(key: str) -> Line:
    """What a document asks for, in the words of the card.

    Raises:
        TableError: there is no instruction of that name.
    """
    return line(said(f"asks.{key}"), rests_on=(instruction(key),))


def told_carried(step: Carried, unit: Unit, tongue: str = HOME, kind: str = "") -> dict[str, Any]:
    """Put a carried step into words, its lengths without their unit: the heading of the steps names it.

    Args:
        kind: of the job, in whose words it is told; "" for an opening.
    """

    def told(what: Value) -> str:
        return tell(in_words_of(kind, what), unit, tongue, how="b")

    return {
        "what": told(step.what),
        "numbers": " ".join(map(told, step.numbers)),
        "is_done": step.is_done,
        "checks": [
            {
                "box": {one.box: True},
                **{name: told(getattr(one, name)) for name in ("words", "figure", "made")},
            }
            for one in step.checks
        ],
    }
