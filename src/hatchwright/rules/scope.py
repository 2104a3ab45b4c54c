"""R901 to R907, R914 to R916: what is outside the handbook's rules, and what must be asked before anything is cut."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.finding import Finding
from hatchwright.job.other_side import MirroredJob
from hatchwright.judged import Status
from hatchwright.layout.gaps import gap_to_region, gap_to_row
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.rules.answer import against, in_words
from hatchwright.rules.rule import rule
from hatchwright.tables.instructions import Instruction, instruction
from hatchwright.workings import Grade, Source

_TO_ENGINEER = "Stop. This goes to the holder of the data or an engineer before anything is drilled or cut."

MEMBERS = ("rib", "spar", "stringer", "frame", "longeron")
"""Kinds of structure that are never cut, and that take a load up."""


def _practice(place: str) -> Instruction:
    return Instruction(place, Source("PRACTICE", place), Grade.PRACTICE)


_MOVABLE = _practice("movable surfaces")
_TANK = _practice("tank walls")
_LOAD_PATH = _practice("primary load paths")
_CUT = _practice("cut members")
_BEHIND = _practice("hidden-hazard survey")
_GATE = _practice("pre-cut gate")
_READING = _practice("reading the mandate")


@rule("R901", Shelf.PLACE, limits=("scope_weight_max",), reads=("gate", "skin"))
def pressurized(survey: Survey) -> Iterator[Finding]:
    """R901: pressurised skin."""
    job, scope = survey.layout.job, survey.limit("scope_weight_max")
    answer = True if job.skin.pressurized else job.gate.pressure_skin
    if answer is None:
        return
    yield against(
        "R901",
        Status.STOP if answer else Status.PASS,
        "the skin holds cabin pressure" if answer else "the skin holds no cabin pressure, as answered",
        value=None,
        limit=None,
        unit="",
        cited=scope,
        advice=f"The circulars are for areas without pressure. {_TO_ENGINEER}" if answer else "",
    )


@rule("R902", Shelf.PLACE, limits=("scope_weight_max",), reads=("gate",))
def over_weight(survey: Survey) -> Iterator[Finding]:
    """R902: weight of the aircraft."""
    answer, scope = survey.layout.job.gate.over_12500_lb, survey.limit("scope_weight_max")
    if answer is None:
        return
    yield against(
        "R902",
        Status.STOP if answer else Status.PASS,
        f"the aircraft is over the {scope.value:,.0f} lb of the circulars"
        if answer
        else f"the aircraft is not over {scope.value:,.0f} lb, as answered",
        value=None,
        limit=scope.value,
        unit="lb",
        cited=scope,
        advice=_TO_ENGINEER if answer else "",
    )


@rule("R903", Shelf.PLACE, rests_on=(instruction("approved_data_conditions"),), reads=("gate",))
def maker_data(survey: Survey) -> Iterator[Finding]:
    """R903: the maker's own data."""
    yield from _answered(
        "R903",
        survey.layout.job.gate.maker_data,
        "the maker's data cover this job",
        "the maker's data do not cover this job, as answered",
        instruction("approved_data_conditions"),
        "Work to the maker's data. Where this job departs from them, their holder must accept it.",
    )


@rule("R904", Shelf.PLACE, rests_on=(_MOVABLE,), reads=("gate",))
def movable_surface(survey: Survey) -> Iterator[Finding]:
    """R904: movable surface."""
    yield from _answered(
        "R904",
        survey.layout.job.gate.movable_surface,
        "the opening is in a movable surface",
        "the opening is in no movable surface, as answered",
        _MOVABLE,
        "Added or removed mass changes balance and flutter speed. Do not start without the maker's limits, and "
        f"rebalance by the maker's method. {_TO_ENGINEER}",
    )


@rule("R905", Shelf.PLACE, rests_on=(_TANK,), reads=("gate",))
def tank_wall(survey: Survey) -> Iterator[Finding]:
    """R905: fuel tank wall."""
    yield from _answered(
        "R905",
        survey.layout.job.gate.tank_wall,
        "the skin is the wall of a fuel tank",
        "the skin is not the wall of a fuel tank, as answered",
        _TANK,
        f"Fuel, vapour and sealing need the maker's data. {_TO_ENGINEER}",
    )


@rule("R906", Shelf.PLACE, rests_on=(_LOAD_PATH,), reads=("gate",))
def spar_or_fitting(survey: Survey) -> Iterator[Finding]:
    """R906: spar or fitting in the load path."""
    gate = survey.layout.job.gate
    for answer, what in (
        (gate.spar_web_or_cap, "in the web or a cap of a spar"),
        (gate.fitting_path, "in the load path of a strut or fitting"),
    ):
        yield from _answered(
            "R906",
            answer,
            f"the opening is {what}",
            f"the opening is not {what}, as answered",
            _LOAD_PATH,
            _TO_ENGINEER,
        )


def _answered(
    code: str, answer: bool | None, yes: str, no: str, asked: Instruction, advice: str
) -> Iterator[Finding]:
    """A question of the gate: yes stops, no passes; one left open is spoken of by R915."""
    if answer is not None:
        yield in_words(
            code,
            Status.STOP if answer else Status.PASS,
            yes if answer else no,
            asked,
            advice=advice if answer else "",
        )


@rule("R907", Shelf.PLACE, rests_on=(_CUT,), reads=("bay", "gate", "opening"))
def member_cut(survey: Survey) -> Iterator[Finding]:
    """R907: members are not cut."""
    layout = survey.layout
    bay = layout.job.bay
    cut = ["a member, as answered"] if layout.job.gate.member_cut else []
    for row in bay.rows:
        if row.member in MEMBERS and gap_to_row(layout.opening, row)[0] <= 0.0:
            cut.append(f"{row.name} ({row.member})")
    cut += [flange.name for flange in bay.flanges if gap_to_region(layout.opening, flange)[0] <= 0.0]
    if cut:
        status, subject = Status.STOP, f"the opening cuts {', '.join(cut)}"
        advice = f"Move or shrink the opening. {_TO_ENGINEER}"
    elif bay.rows or bay.flanges:
        status, subject, advice = Status.PASS, "no member that was entered runs through the opening", ""
    else:
        status, subject = Status.CAUTION, "no row or flange was entered that the opening could cut"
        advice = (
            "Enter the bay's rows ([[bay.rows]]) and flanges ([[bay.flanges]]), which the cut is kept from."
        )
    yield in_words("R907", status, subject, _CUT, advice=advice)


@rule("R914", Shelf.BEHIND, rests_on=(_BEHIND,), reads=("bay", "gate"))
def runs_behind(survey: Survey) -> Iterator[Finding]:
    """R914: fuel, controls or wiring behind."""
    job = survey.layout.job
    answer, entered = job.gate.fuel_or_controls_behind, [keep_out.name for keep_out in job.bay.keep_outs]
    if answer is None:
        return
    status = Status.PASS
    if answer and not entered:
        status = Status.STOP
        subject, advice = (
            "lines run behind, but none has been entered",
            "Enter each as a keep-out with its place and depth before anything is drilled.",
        )
    elif answer:
        subject, advice = (
            f"lines behind, entered: {', '.join(entered)}",
            "Look from inside, shield or move each of them, and cut with air tools near fuel; R702 names the holes.",
        )
    elif entered:
        status = Status.CAUTION
        subject, advice = (
            f"nothing runs behind, as answered, yet entered behind: {', '.join(entered)}",
            "Look from inside once more: mend the answer (gate.fuel_or_controls_behind) if any of them is "
            "a line of fuel, controls, wiring or instruments.",
        )
    else:
        subject, advice = "no lines run behind, as answered", ""
    yield in_words("R914", status, subject, _BEHIND, advice=advice)


@rule("R915", Shelf.PLACE, rests_on=(_GATE,), reads=("aircraft", "gate"))
def open_questions(survey: Survey) -> Iterator[Finding]:
    """R915: questions that are still open."""
    job = survey.layout.job
    gate = job.gate
    fields = type(gate).model_fields
    still_open = [
        f"{name} ({info.description})" for name, info in fields.items() if getattr(gate, name) is None
    ]
    mirrored = isinstance(job, MirroredJob)
    where = f"again on the {job.aircraft.side} side" if mirrored else "in [gate], true or false"
    advice = f"Answer each {where}: {'; '.join(still_open)}." if still_open else ""
    yield in_words(
        "R915",
        Status.UNKNOWN if still_open else Status.PASS,
        f"{len(still_open)} of {len(fields)} questions of the gate are open",
        _GATE,
        advice=advice,
    )
    if mirrored:
        yield in_words(
            "R915",
            Status.UNKNOWN,
            "rows, flanges, keep-outs, existing fasteners and curvature here are mirrored, not seen",
            _GATE,
            advice=f"Survey the {job.aircraft.side} side, measure its skin, and give it a job file of its own: a copy "
            f'of this one with side = "{job.aircraft.side}", both_sides = false, and what was found there.',
        )


@rule("R916", Shelf.PLACE, rests_on=(_READING,), reads=("mandate",))
def mandate_revision(survey: Survey) -> Iterator[Finding]:
    """R916: revision of the mandate."""
    mandate = survey.layout.job.mandate
    if mandate.kind == "owner":
        return
    missing = [
        word
        for word, value in (("its number", mandate.reference), ("the bulletin's revision", mandate.revision))
        if not value.strip() and (word == "its number" or mandate.bulletin)
    ]
    yield in_words(
        "R916",
        Status.UNKNOWN if missing else Status.PASS,
        f"the {mandate.kind} {mandate.reference or 'without a number'}",
        _READING,
        advice=f"Enter {' and '.join(missing)} as the {mandate.kind} names it." if missing else "",
    )
