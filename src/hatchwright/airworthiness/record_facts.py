"""What is known of a finished job for its records: each fact by its name, "" where nobody has told it."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct
from msgspec.structs import fields, replace

from hatchwright.said import Said, Value, said


class RecordFacts(Struct, frozen=True):
    """Everything that the records of one side of a job may say, from job, fleet file and who signs.

    What is "" or None is not known: a record names it as missing and leaves a line to write it on. A signature is no
    fact: it is always written by hand.

    Args:
        make_model: of the aircraft, off its data plate.
        owner: name and address as on the registration certificate.
        unit: what was worked on, airframe unless somebody says otherwise.
        work: what was done, in sentences.
        data: document, revision, date and paragraph that the work was done to.
        place: side, surface and center of the opening.
        materials: sheets and fasteners that stay in the aircraft.
        completed: day on which the work was completed, such as ``2026-03-09``.
        total_time, landings: of the aircraft at completion, as its meter was read; hours as typed.
        component: identity and time of the component that the directive is on, where it is on one.
        performer: who did the work; signer: who approves it for return to service.
        certificate: of the signer, kind and number in one line as entered.
        address: of the performer or the shop, with the kind of agency.
        directive, directive_revision: number, and revision or amendment with its date.
        method: how the directive was complied with: paragraph, service document and revision, or alternative method.
        applies_to: what the directive is on, by serial number.
        next_due_time, next_due_date: of a repeated action, by hours or landings, and by day.
        form: reference of the alteration form.
        data_approval: how the data were approved, for major work.
        compatibility: what was found against earlier changes.
        weight_balance: what became of empty weight, arm and equipment list.
        ica: reference of the instructions for continued airworthiness.
        flight_manual: changes of limitations and placards that were set out, or that there are none.
        flight_check: who flew or which ground check shows that no flight was needed.
        inspection, inspection_extent, inspected: kind, extent and day of an inspection that is signed at the same time.
        programme: name and portion of an inspection program.
        entry_reference: where the maintenance entry stands.
        work_order: number under which a shop finds it again.
        limitations: what the release is limited by, or was deferred.
        ica_items: what the job tells for the instructions for continued airworthiness, by the names of their items.
        is_recurring: whether the action is repeated; None while nobody has said.
        is_disturbed: whether engine or flight controls were disturbed; None while nobody has said.
        is_on_component: whether the directive is on a part with a time of its own; None while nobody has said.
        is_major: whether it is major work; None while nobody has said.
        is_field_approval: whether the authority approved the data for this aircraft alone; None while nobody has said.
    """

    registration: Value = ""
    serial: Value = ""
    make_model: Value = ""
    owner: Value = ""
    unit: Value = ""
    work: tuple[Value, ...] = ()
    data: Value = ""
    place: Value = ""
    materials: Value = ""
    completed: Value = ""
    total_time: Value = ""
    landings: Value = ""
    component: Value = ""
    performer: Value = ""
    signer: Value = ""
    certificate: str = ""
    address: Value = ""
    directive: Value = ""
    directive_revision: Value = ""
    method: Value = ""
    applies_to: Value = ""
    next_due_time: Value = ""
    next_due_date: Value = ""
    form: Value = ""
    data_approval: Value = ""
    compatibility: Value = ""
    weight_balance: Value = ""
    ica: Value = ""
    flight_manual: Value = ""
    flight_check: Value = ""
    inspection: Value = ""
    inspection_extent: Value = ""
    inspected: Value = ""
    programme: Value = ""
    entry_reference: Value = ""
    work_order: Value = ""
    limitations: Value = ""
    ica_items: tuple[tuple[str, Value], ...] = ()
    is_recurring: bool | None = None
    is_disturbed: bool | None = None
    is_on_component: bool | None = None
    is_major: bool | None = None
    is_field_approval: bool | None = None

    @property
    def certificate_number(self) -> str:
        """The certificate where its line holds a number, else "": a kind alone is no number."""
        return self.certificate if any(letter.isdigit() for letter in self.certificate) else ""

    @property
    def certificate_kind(self) -> str:
        """The certificate where its line holds a word beside the number, else ""."""
        return self.certificate if any(word.isalpha() for word in _words(self.certificate)) else ""

    @property
    def performer_if_other(self) -> Value:
        """Who did the work, as an entry asks for it: only where another signs; other records ask for it always."""
        return self.performer

    @property
    def aircraft_identity(self) -> Value:
        """Make, model, serial and registration together; "" while one of them is not known."""
        return _all_of("identity", make_model=self.make_model, serial=self.serial, reg=self.registration)

    @property
    def directive_revised(self) -> Value:
        """Number of the directive with its revision; "" while one of them is not known."""
        return _all_of("number_revised", number=self.directive, revision=self.directive_revision)

    @property
    def recurring(self) -> Value:
        """Whether the action is repeated, in a word."""
        return "" if self.is_recurring is None else said(f"record.recurring.{_YES_NO[self.is_recurring]}")

    @property
    def not_asked(self) -> frozenset[str]:
        """Facts that this job's records need not hold, by what is known for certain."""
        no: set[str] = set()
        if self.performer and self.performer == self.signer:
            no.add("performer_if_other")
        if self.is_recurring is False:
            no |= {"next_due_time", "next_due_date"}
        if self.is_on_component is False:
            no.add("component")
        if self.is_disturbed is False:
            no.add("second_signature")
        if self.is_field_approval is False:
            no.add("authority_approval")
        if self.is_major is False:
            no |= {"form", "data_approval", "major_report"}
        return frozenset(no)


NO_FACTS = RecordFacts()
"""Nothing is known."""

_YES_NO = {True: "yes", False: "no"}

TYPED = tuple(one.name for one in fields(RecordFacts) if one.default == "")
"""Facts in words."""

_SAID = ("is_major", "is_field_approval")
"""Facts that a person alone says."""


def with_entered(facts: RecordFacts, entered: Mapping[str, str | bool]) -> RecordFacts:
    """The same facts, with what a person entered in the place of what is known; blanks change nothing.

    Args:
        entered: by the names of facts in words, and of those that a person alone says; others are passed over.
    """
    told: dict[str, str | bool] = {}
    for name, value in entered.items():
        if name in TYPED and isinstance(value, str) and value.strip():
            told[name] = value.strip()
        elif name in _SAID and isinstance(value, bool):
            told[name] = value
    return replace(facts, **told)


def _words(line: str) -> list[str]:
    return line.replace("&", "").replace(".", " ").replace(",", " ").split()


def _all_of(id: str, **parts: Value) -> Said | str:
    return said(f"record.{id}", **parts) if all(parts.values()) else ""
