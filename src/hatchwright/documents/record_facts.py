"""What job, layout and fleet file tell for the records of one side of a job, and what nobody has told."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from hatchwright.airworthiness.record_facts import RecordFacts
from hatchwright.documents.log_draft import work_done
from hatchwright.documents.parts_list import parts_list
from hatchwright.documents.record_ica import ica_items
from hatchwright.drawings.parts_table import sheet_said
from hatchwright.job.fleet.fleet import FleetAircraft
from hatchwright.job.fleet.mandates import FleetMandate
from hatchwright.job.fleet.times import Done
from hatchwright.job.job import Job
from hatchwright.layout.layout import Layout
from hatchwright.said import Listed, Place, Said, Value, said


class Signing(Struct, frozen=True):
    """Who did the work and who signs for it, as the records name them.

    Args:
        certificate: of the signer, kind and number in one line.
        address: of the shop, with the kind of agency.
    """

    performer: str = ""
    signer: str = ""
    certificate: str = ""
    address: str = ""


NOBODY = Signing()
"""Nobody has said yet who."""


class Next(Struct, frozen=True):
    """When a repeated action is due next, as `due` says it."""

    time: Value = ""
    date: Value = ""


NOT_DUE = Next()
"""Nothing is known of when it is due."""


def facts_of(
    layout: Layout,
    *,
    aircraft: FleetAircraft | None = None,
    mandate: FleetMandate | None = None,
    done: Done | None = None,
    next_due: Next = NOT_DUE,
    balance: Value = "",
    signing: Signing = NOBODY,
) -> RecordFacts:
    """Gather what is known; what is not stays "".

    Args:
        aircraft: of the fleet file, None where the job stands in none.
        mandate: that asked for the work, None where it is not entered in full.
        done: the accomplishment, None while it is not entered.
        balance: what became of empty weight and arm.
    """
    job = layout.job
    return RecordFacts(
        registration=_agreed(job.aircraft.registration, aircraft.registration if aircraft else ""),
        serial=_agreed(job.aircraft.serial, aircraft.serial if aircraft else ""),
        unit=said("record.airframe"),
        work=tuple(work_done(layout)),
        data=_data(job),
        place=_place(layout),
        materials=Listed(tuple(_materials(layout)), ";"),
        completed=done.date.isoformat() if done else "",
        total_time=str(done.hours) if done and done.hours is not None else "",
        landings=str(done.landings) if done and done.landings is not None else "",
        component=_component(aircraft, mandate, done),
        performer=(done.by if done and done.by else signing.performer),
        signer=signing.signer,
        certificate=signing.certificate,
        address=signing.address,
        directive=_directive(job, mandate),
        directive_revision=_revised(mandate),
        method=_method(done),
        applies_to=said("record.on_airframe", serial=aircraft.serial) if aircraft else "",
        next_due_time=next_due.time,
        next_due_date=next_due.date,
        weight_balance=balance,
        ica_items=tuple(ica_items(layout).items()),
        is_recurring=_is_recurring(mandate),
        is_disturbed=False if _is_clear_of_controls(job) else None,
        is_on_component=_is_on_component(mandate, done),
    )


def _agreed(job: str, fleet: str) -> str:
    """What both files say, or one of them; "" where they differ, for then nobody knows."""
    return job or fleet if not (job and fleet) or job == fleet else ""


def _data(job: Job) -> Value:
    """The document with its revision; its paragraph and date are never known here and left blank within."""
    document, revision = job.mandate.bulletin, job.mandate.revision
    return said("record.data", document=document, revision=revision) if document and revision else ""


def _place(layout: Layout) -> Said:
    job = layout.job
    return said(
        "record.place",
        side=said(f"side.{job.aircraft.side}"),
        surface=said(f"surface.{job.aircraft.surface}"),
        center=Place(*layout.center_in),
        origin=layout.frame.origin,
    )


def _materials(layout: Layout) -> Iterator[Said]:
    """Sheets and hardware that stay in the aircraft, by its number or what tells it."""
    for part in layout.parts[1:]:
        yield said("record.sheet", part=said(f"part.{part.name}"), sheet=sheet_said(part))
    for line in parts_list(layout):
        yield said(
            "record.hardware", count=line.count, item=line.item, number=line.number or line.description
        )


def _directive(job: Job, mandate: FleetMandate | None) -> str:
    if mandate:
        return mandate.number
    return job.mandate.reference if job.mandate.kind == "directive" else ""


def _revised(mandate: FleetMandate | None) -> Value:
    """Amendment or revision with the effective date; "" without that date, for then the revision is not known."""
    if mandate is None or mandate.effective is None:
        return ""
    named = [said("record.amendment", number=mandate.amendment)] if mandate.amendment else []
    named += [said("record.revision", number=mandate.revision)] if mandate.revision else []
    return Listed((*named, said("record.effective", on=mandate.effective.isoformat())), ",")


def _method(done: Done | None) -> Value:
    if done is None or not done.method:
        return ""
    told: list[Value] = [said("record.paragraph", paragraph=done.paragraph)] if done.paragraph else []
    told.append(done.method)
    told += [said("record.revision", number=done.revision)] if done.revision else []
    return Listed(tuple(told), ",")


def _is_recurring(mandate: FleetMandate | None) -> bool | None:
    """Yes where any of its actions repeats; no for a single action that doesn't; else nobody has said."""
    if mandate is None or not mandate.actions:
        return None
    if any(one.repeat for one in mandate.actions):
        return True
    return False if len(mandate.actions) == 1 else None


def _is_clear_of_controls(job: Job) -> bool:
    return job.gate.fuel_or_controls_behind is False and job.gate.movable_surface is False


def _is_on_component(mandate: FleetMandate | None, done: Done | None) -> bool | None:
    action = mandate.action(done.paragraph) if mandate and done else None
    return None if action is None else bool(action.component)


def _component(aircraft: FleetAircraft | None, mandate: FleetMandate | None, done: Done | None) -> Value:
    """Identity and own time of the part that the action is on; "" where any of it is not known."""
    action = mandate.action(done.paragraph) if mandate and done else None
    if aircraft is None or done is None or done.hours is None or action is None or not action.component:
        return ""
    for part in aircraft.components:
        is_in = part.date <= done.date and (part.removed is None or done.date <= part.removed)
        if part.name == action.component and is_in and part.own_hours is not None:
            own = part.own_hours + done.hours - part.aircraft_hours
            return said("record.component", name=part.name, serial=part.serial, hours=str(own))
    return ""
