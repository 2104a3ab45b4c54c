"""The forms of the page on what is due: a reading, what was done or found, a mandate and whether it applies.

What each box is called and what belongs in it are the words of the entry in the fleet file.
"""

from __future__ import annotations

from datetime import date

from msgspec import Struct

from hatchwright.job.entry import Entered
from hatchwright.job.entry_words import help_of, label_of
from hatchwright.job.fleet.fleet import Fleet, FleetAircraft
from hatchwright.job.fleet.limits import FirstLimits, Interval
from hatchwright.job.fleet.mandates import Action, FleetMandate
from hatchwright.job.fleet.times import Applies, Done, Found, Reading
from hatchwright.said import said
from hatchwright.words.tell import tell
from hatchwright.workflow.due_entries import BETWEEN

_KINDS = ("directive", "bulletin", "owner", "inspection", "instructions")
_PERMITS = ("", "allowed", "limited", "forbidden")
_YES_NO = ("", "yes", "no")
_ASKED = ("applies", "unless_done", "before_flight", "stands")
"""Answered by yes or no."""
_OF_MANDATE = (
    "number",
    "kind",
    "amendment",
    "revision",
    "effective",
    "applies_to",
    "unless_done",
    "data_revision",
    "permit",
    "read_by",
    "checked_by",
)
_OF_REPEAT = ("hours", "landings", "days", "months", "calendar_months")
_OF_FIRST = (*_OF_REPEAT, "total_hours", "total_landings", "date", "before_flight")


class DueBox(Struct, frozen=True):
    """One box.

    Args:
        name: under which it is sent.
        value: what it begins with.
        options: value and word of each choice; empty where something is typed.
        is_long: whether a sentence is typed.
    """

    name: str
    label: str
    help: str
    value: str = ""
    options: tuple[tuple[str, str], ...] = ()
    is_long: bool = False


class DueGroup(Struct, frozen=True):
    """Boxes that belong together; title "" where the form has but one group."""

    title: str
    boxes: tuple[DueBox, ...]


class DueForm(Struct, frozen=True):
    """One form.

    Args:
        what: it enters, of `workflow.due_entries.WHAT`.
    """

    what: str
    title: str
    button: str
    groups: tuple[DueGroup, ...]


def due_forms(fleet: Fleet, on: date) -> tuple[DueForm, ...]:
    """The forms that a fleet can use: without a mandate nothing can be done or answered."""
    aircraft = _choice(
        FleetAircraft, "registration", tuple((one.registration,) * 2 for one in fleet.aircraft)
    )
    forms = [
        _form("reading", (aircraft, *_boxes(Reading, ("date", "hours", "meter", "landings"), on))),
        _form(
            "done",
            (
                aircraft,
                _actions(fleet),
                *_boxes(Done, ("date", "hours", "landings", "part", "revision", "method", "by"), on),
            ),
        ),
        _form("found", (aircraft, _actions(fleet), *_boxes(Found, ("date", "hours", "what"), on))),
        _form(
            "answer",
            (
                aircraft,
                _mandates(fleet),
                *_boxes(Applies, ("applies", "reason", "by", "hours", "landings", "notice"), on),
            ),
        ),
    ]
    mandate = DueForm(
        "mandate",
        _word("mandate.title"),
        _word("mandate.button"),
        (
            DueGroup(_word("group.mandate"), _boxes(FleetMandate, _OF_MANDATE, on, day="")),
            DueGroup(_word("group.action"), _boxes(Action, ("paragraph", "asks", "stands"), on)),
            DueGroup(_word("group.first"), _boxes(FirstLimits, _OF_FIRST, on, day="", section="first.")),
            DueGroup(_word("group.repeat"), _boxes(Interval, _OF_REPEAT, on, section="repeat.")),
        ),
    )
    usable = forms if fleet.mandates else forms[:1]
    return (*(usable if fleet.aircraft else ()), mandate)


def _form(what: str, boxes: tuple[DueBox, ...]) -> DueForm:
    return DueForm(what, _word(f"{what}.title"), _word(f"{what}.button"), (DueGroup("", boxes),))


def _word(name: str) -> str:
    return tell(said(f"page.due.{name}"))


def _boxes(
    model: type[Entered], names: tuple[str, ...], on: date, *, day: str | None = None, section: str = ""
) -> tuple[DueBox, ...]:
    """Boxes of the entries of a model.

    Args:
        day: what a box of a day begins with, None for the day that is asked about.
        section: stands before each name where it is sent.
    """
    return tuple(_box(model, name, section, on.isoformat() if day is None else day) for name in names)


def _box(model: type[Entered], name: str, section: str, day: str) -> DueBox:
    choices = {"kind": _KINDS, "permit": _PERMITS}.get(name, ())
    if name in _ASKED:
        choices = _YES_NO
    return DueBox(
        name=f"{section}{name}",
        label=tell(label_of(model, name)),
        help=tell(help_of(model, name)),
        value=day if name == "date" else "",
        options=tuple((one, _word(f"choice.{one}") if one else "") for one in choices),
        is_long=name in ("asks", "reason", "applies_to", "what"),
    )


def _choice(model: type[Entered], name: str, options: tuple[tuple[str, str], ...]) -> DueBox:
    return DueBox(name, tell(label_of(model, name)), "", options=options)


def _mandates(fleet: Fleet) -> DueBox:
    return _choice(Applies, "mandate", tuple((one.number,) * 2 for one in fleet.mandates))


def _actions(fleet: Fleet) -> DueBox:
    options = []
    for mandate in fleet.mandates:
        for action in mandate.actions:
            id = "due.title_paragraph" if action.paragraph else "due.title"
            title = said(id, number=mandate.number, paragraph=action.paragraph, asks=action.asks)
            options.append((f"{mandate.number}{BETWEEN}{action.paragraph}", tell(title)))
    return DueBox("action", _word("action"), "", options=tuple(options))
