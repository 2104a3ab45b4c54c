"""What can't be together in the mandates of a fleet and what is said of them on each aircraft."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal
from itertools import pairwise

from hatchwright.errors import Fault
from hatchwright.job.fleet.mandates import Action, FleetMandate
from hatchwright.job.fleet.times import AircraftTimes, Applies, Done, FittedPart, Found, Permit


def mandate_faults(mandates: Sequence[FleetMandate], aircraft: Sequence[AircraftTimes]) -> Iterator[Fault]:
    """A mandate that stands twice, a name or paragraph that none has, a part that is younger than it was elsewhere."""
    numbers = [one.number for one in mandates]
    for at, mandate in enumerate(mandates):
        if mandate.number in numbers[:at]:
            yield Fault.saying(f"mandates.{at}.number", "due.mandate_twice", mandate.number)
        yield from _superseding(mandates, mandate, f"mandates.{at}.replaces")
        for where, action in enumerate(mandate.actions):
            place = f"mandates.{at}.actions.{where}"
            if action.after is not None and _started_by(mandates, mandate, action) is None:
                given = action.after.mandate or action.after.paragraph
                yield Fault.saying(f"{place}.after", "due.unknown_mandate", given)
            elif _goes_round(mandates, mandate, action):
                yield Fault.saying(f"{place}.after", "due.waits_for_itself")
            if any(
                action.paragraph in other.closes
                for other in mandate.actions
                if other.paragraph in action.closes
            ):
                yield Fault.saying(f"{place}.closes", "due.close_each_other")
    for at, one in enumerate(aircraft):
        yield from _of_aircraft(mandates, one, f"aircraft.{at}")
    yield from _moved_parts(aircraft)


def _superseding(mandates: Sequence[FleetMandate], mandate: FleetMandate, place: str) -> Iterator[Fault]:
    """One that supersedes itself, over others or not, or a directive without being one: nothing would be due of it.

    That a bulletin changes no directive is common practice, no source.
    """
    numbers = {one.number: one for one in mandates}
    step, seen = numbers.get(mandate.replaces), 0
    if step is not None and step.kind == "directive" and mandate.kind != "directive":
        yield Fault.saying(place, "due.supersedes_directive", mandate.replaces)
    while step is not None and seen < len(mandates):
        if step is mandate:
            yield Fault.saying(place, "due.supersedes_itself", mandate.replaces)
            return
        step, seen = numbers.get(step.replaces), seen + 1


def _started_by(
    mandates: Sequence[FleetMandate], mandate: FleetMandate, action: Action
) -> tuple[FleetMandate, Action] | None:
    """The action that starts the clock of one, None without or where there is none of that name."""
    if action.after is None:
        return None
    number = action.after.mandate or mandate.number
    other = next((one for one in mandates if one.number == number), None)
    found = other.action(action.after.paragraph) if other else None
    return (other, found) if other and found else None


def _goes_round(mandates: Sequence[FleetMandate], mandate: FleetMandate, action: Action) -> bool:
    """Whether an action waits for itself, over others or not: its clock would never start."""
    step, seen = _started_by(mandates, mandate, action), 0
    while step is not None and seen < sum(len(one.actions) for one in mandates):
        if step[1] is action:
            return True
        step, seen = _started_by(mandates, *step), seen + 1
    return False


def _names(mandates: Sequence[FleetMandate], number: str, paragraph: str) -> Action | None:
    mandate = next((one for one in mandates if one.number == number), None)
    return mandate.action(paragraph) if mandate else None


def _of_aircraft(mandates: Sequence[FleetMandate], one: AircraftTimes, place: str) -> Iterator[Fault]:
    said_of: tuple[tuple[str, Sequence[Done | Found]], ...] = (("done", one.done), ("found", one.found))
    for key, lines in said_of:
        for at, line in enumerate(lines):
            action = _names(mandates, line.mandate, line.paragraph)
            if not action:
                given = " ".join((line.mandate, line.paragraph)).strip()
                yield Fault.saying(f"{place}.{key}.{at}", "due.unknown_mandate", given)
            elif isinstance(line, Done) and line.part and not action.component:
                yield Fault.saying(f"{place}.{key}.{at}.part", "due.part_of_none", line.part)
    yield from _began(mandates, one, place)
    numbers = {mandate.number for mandate in mandates}
    named_in: tuple[tuple[str, Sequence[Applies | Permit]], ...] = (
        ("applies", one.applies),
        ("permits", one.permits),
    )
    for key, named in named_in:
        for at, said_of_it in enumerate(named):
            if said_of_it.mandate not in numbers:
                yield Fault.saying(f"{place}.{key}.{at}.mandate", "due.unknown_mandate", said_of_it.mandate)


def _began(mandates: Sequence[FleetMandate], one: AircraftTimes, place: str) -> Iterator[Fault]:
    """Hours or landings at the start of a limit that don't lie between what is entered before and after that day."""
    for at, answer in enumerate(one.applies):
        days = [mandate.effective for mandate in mandates if mandate.number == answer.mandate]
        day = min((day for day in (*days, answer.notice) if day is not None), default=None)
        hours = [(when, hours) for when, hours in one.known_hours]
        landings = [(when, landings) for when, landings, _ in one.known_landings]
        for key, given, known in (("hours", answer.hours, hours), ("landings", answer.landings, landings)):
            if day is None or given is None:
                continue
            is_low = any(many > given for when, many in known if when < day)
            if is_low or any(many < given for when, many in known if when >= day):
                yield Fault.saying(
                    f"{place}.applies.{at}.{key}", "due.began_elsewhere", str(given), on=day.isoformat()
                )


def _moved_parts(aircraft: Sequence[AircraftTimes]) -> Iterator[Fault]:
    """One part in two places at a time, or with less time than it had when it came out."""
    stays: dict[tuple[str, str], list[tuple[FittedPart, str]]] = {}
    for at, one in enumerate(aircraft):
        for where, part in enumerate(one.components):
            stays.setdefault((part.name, part.serial), []).append((part, f"aircraft.{at}.components.{where}"))
    for of_part in stays.values():
        of_part.sort(key=lambda stay: stay[0].date)
        for (before, _), (then, place) in pairwise(of_part):
            if before.removed is None or before.removed > then.date:
                yield Fault.saying(place, "due.part_elsewhere", then.serial)
            elif (least := before.own_hours_removed) is not None and _own(then, least) < least:
                given = str(then.own_hours)
                yield Fault.saying(f"{place}.own_hours", "due.part_younger", given, least=str(least))


def _own(part: FittedPart, least: Decimal) -> Decimal:
    """Its own time when it was put in; what is not known is asked elsewhere [h]."""
    return least if part.own_hours is None else part.own_hours
