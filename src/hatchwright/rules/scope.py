"""R901, R902, R904 to R907, R913 to R916, R927: what is outside these rules, and what is asked before a cut."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.finding import Finding
from hatchwright.job.entry_words import help_of
from hatchwright.job.gate import Gate
from hatchwright.job.other_side import MirroredJob
from hatchwright.judged import Status
from hatchwright.layout.gaps import gap_to
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.remedy import ASK
from hatchwright.rules.answer import stated
from hatchwright.rules.rule import judged_by, rule
from hatchwright.said import Amount, Listed, Said, Value, said
from hatchwright.shapes.distance import distances
from hatchwright.shapes.profile import Profile
from hatchwright.tables.instructions import instruction, practised
from hatchwright.workings import Rests

_TO_ENGINEER = said("scope.to_engineer")

MEMBERS = ("rib", "spar", "stringer", "frame", "longeron")
"""Kinds of structure that are never cut, and that take a load up."""


_MOVABLE = practised("movable surfaces")
_TANK = practised("tank walls")
_LOAD_PATH = practised("primary load paths")
_CUT = practised("cut members")
_BEHIND = practised("hidden-hazard survey")
_GATE = practised("pre-cut gate")
_READING = practised("reading the mandate")


@rule("R901", Shelf.PLACE, reads=("gate", "skin"))
@judged_by(limits=("scope_weight_max",))
def pressurized(survey: Survey) -> Iterator[Finding]:
    """R901: pressurized skin."""
    job, scope = survey.layout.job, survey.limit("scope_weight_max")
    answer = True if job.skin.pressurized else job.gate.pressure_skin
    advice = _TO_ENGINEER, said("scope.without_pressure")
    yield from _answered(answer, "scope.pressurized", "scope.not_pressurized", scope, *advice)


@rule("R902", Shelf.PLACE, reads=("gate",))
@judged_by(limits=("scope_weight_max",))
def over_weight(survey: Survey) -> Iterator[Finding]:
    """R902: weight of the aircraft."""
    answer, scope = survey.layout.job.gate.over_12500_lb, survey.limit("scope_weight_max")
    if answer is None:
        return
    subject = said("scope.over_weight" if answer else "scope.not_over_weight", most=Amount(scope.value, "lb"))
    advice = (_TO_ENGINEER,) if answer else ()
    yield stated(
        Status.STOP if answer else Status.PASS, subject, scope, *advice, limit=scope.value, unit="lb"
    )


@rule("R904", Shelf.PLACE, reads=("gate",))
@judged_by(_MOVABLE)
def movable_surface(survey: Survey) -> Iterator[Finding]:
    """R904: movable surface."""
    answer, advice = survey.layout.job.gate.movable_surface, (said("scope.balance"), _TO_ENGINEER)
    yield from _answered(answer, "scope.movable", "scope.not_movable", _MOVABLE, *advice)


@rule("R905", Shelf.PLACE, reads=("gate",))
@judged_by(_TANK)
def tank_wall(survey: Survey) -> Iterator[Finding]:
    """R905: fuel tank wall."""
    answer, advice = survey.layout.job.gate.tank_wall, (_TO_ENGINEER, said("scope.fuel_and_vapor"))
    yield from _answered(answer, "scope.tank", "scope.no_tank", _TANK, *advice)


@rule("R906", Shelf.PLACE, reads=("gate",))
@judged_by(_LOAD_PATH)
def spar_or_fitting(survey: Survey) -> Iterator[Finding]:
    """R906: spar or fitting in the load path."""
    gate = survey.layout.job.gate
    for answer, yes, no in (
        (gate.spar_web_or_cap, "scope.in_spar", "scope.not_in_spar"),
        (gate.fitting_path, "scope.in_fitting_path", "scope.not_in_fitting_path"),
    ):
        yield from _answered(answer, yes, no, _LOAD_PATH, _TO_ENGINEER)


def _answered(answer: bool | None, yes: str, no: str, asked: Rests, *advice: Said) -> Iterator[Finding]:
    """A question of the gate: yes stops, no passes; one left open is spoken of by R915."""
    if answer is not None:
        status, subject = (Status.STOP, said(yes)) if answer else (Status.PASS, said(no))
        yield stated(status, subject, asked, *(advice if answer else ()))


@rule("R907", Shelf.PLACE, reads=("bay", "gate", "opening"))
@judged_by(_CUT)
def member_cut(survey: Survey) -> Iterator[Finding]:
    """R907: members are not cut."""
    layout = survey.layout
    bay = layout.job.bay
    cut: list[Value] = [said("scope.member_as_answered")] if layout.job.gate.member_cut else []
    for row in bay.rows:
        if row.member in MEMBERS and gap_to(layout.opening, row)[0] <= 0.0:
            cut.append(said("scope.member", name=row.name, member=said(f"member.{row.member}")))
    cut += [flange.name for flange in bay.flanges if gap_to(layout.opening, flange)[0] <= 0.0]
    if cut:
        subject = said("scope.cuts", what=Listed(tuple(cut)))
        yield stated(Status.STOP, subject, _CUT, _TO_ENGINEER)
    elif bay.rows or bay.flanges:
        yield stated(Status.PASS, said("scope.cuts_none"), _CUT)
    else:
        advice = said("scope.find_members")
        yield stated(
            Status.CAUTION, said("scope.no_member_entered"), _CUT, advice, enter=("bay.rows", "bay.flanges")
        )


@rule("R913", Shelf.SETTLE, reads=("gate",), step="doubler")
@judged_by("drain_holes")
def drains(survey: Survey) -> Iterator[Finding]:
    """R913: drain paths."""
    answer, advice = survey.layout.job.gate.drain_covered, said("drain.keep_it_open")
    yield from _answered(answer, "drain.covered", "drain.clear", instruction("drain_holes"), advice)


@rule("R914", Shelf.BEHIND, reads=("bay", "gate"))
@judged_by(_BEHIND)
def runs_behind(survey: Survey) -> Iterator[Finding]:
    """R914: fuel, controls or wiring behind."""
    job = survey.layout.job
    answer, entered = job.gate.fuel_or_controls_behind, [keep_out.name for keep_out in job.bay.keep_outs]
    if answer is None:
        return
    names, looked = Listed(tuple(entered)), "scope.looked" if job.bay.nothing_near else "scope.no_lines"
    status, subject, advice = {
        (True, False): (Status.STOP, said("scope.lines_not_entered"), "scope.enter_lines"),
        (True, True): (Status.PASS, said("scope.lines_entered", names=names), "scope.shield_lines"),
        (False, True): (Status.CAUTION, said("scope.no_lines_but_entered", names=names), "scope.look_again"),
        (False, False): (Status.PASS, said(looked), ""),
    }[answer, bool(entered)]
    yield stated(status, subject, _BEHIND, *((said(advice),) if advice else ()))


@rule("R915", Shelf.PLACE, reads=("aircraft", "gate"))
@judged_by(_GATE)
def open_questions(survey: Survey) -> Iterator[Finding]:
    """R915: questions that are still open."""
    job = survey.layout.job
    gate = job.gate
    questions = tuple(type(gate).model_fields)
    still_open = [name for name in questions if getattr(gate, name) is None]
    mirrored, side = isinstance(job, MirroredJob), said(f"side.{job.aircraft.side}")
    answer = said("ask_gate.answer_there", side=side) if mirrored else said("ask_gate.answer")
    status = Status.UNKNOWN if still_open else Status.PASS
    subject = said("ask_gate.open", n=len(still_open), total=len(questions))
    advice = (answer, *(help_of(Gate, name) for name in still_open)) if still_open else ()
    yield stated(status, subject, _GATE, *advice, enter=tuple(f"gate.{name}" for name in still_open))
    if mirrored:
        subject = said("ask_gate.not_surveyed")
        yield stated(Status.UNKNOWN, subject, _GATE, said("ask_gate.survey", side=side), cause="survey")


@rule("R916", Shelf.PLACE, reads=("mandate",))
@judged_by(_READING)
def mandate_revision(survey: Survey) -> Iterator[Finding]:
    """R916: revision of the mandate."""
    mandate = survey.layout.job.mandate
    if mandate.kind == "owner":
        return
    no_number, no_revision = (
        not mandate.reference.strip(),
        bool(mandate.bulletin) and not mandate.revision.strip(),
    )
    kind = said(f"mandate.{mandate.kind}")
    advice = (
        *((said("mandate.enter_number", kind=kind),) if no_number else ()),
        *((said("mandate.enter_revision", bulletin=mandate.bulletin),) if no_revision else ()),
    )
    subject = (
        said("mandate.without_number", kind=kind)
        if no_number
        else said("mandate.number", kind=kind, number=mandate.reference)
    )
    enter = (*(("mandate.reference",) if no_number else ()), *(("mandate.revision",) if no_revision else ()))
    yield stated(Status.UNKNOWN if advice else Status.PASS, subject, _READING, *advice, enter=enter)


_CHORD_IN = 1e-4


@rule("R927", Shelf.PLACE, reads=("opening", "parts", "skin"))
@judged_by("door_parts")
def load_path(survey: Survey) -> Iterator[Finding]:
    """R927: load path around the opening."""
    layout = survey.layout
    doubler = layout.part("doubler")
    if not layout.job.skin.stressed:
        status, subject = Status.PASS, said("load_path.unstressed")
    elif doubler is None:
        status, subject = Status.UNKNOWN, said("load_path.no_doubler")
    elif not bool(
        distances(Profile((doubler.edges[0].loop,)), layout.opening.points(_CHORD_IN)).inside.all()
    ):
        status, subject = Status.UNKNOWN, said("load_path.not_all_around")
    else:
        status, subject = Status.PASS, said("load_path.all_around")
    advice = () if status is Status.PASS else (said("load_path.sheds_load"), ASK)
    yield stated(status, subject, instruction("door_parts"), *advice)
