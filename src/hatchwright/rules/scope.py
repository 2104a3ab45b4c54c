"""R901 to R907, R914 to R916: what is outside the handbook's rules, and what must be asked before anything is cut."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.finding import Finding, Grade, Source, Status
from hatchwright.job.bay import Region
from hatchwright.layout.gaps import gap_to_region
from hatchwright.layout.survey import Survey
from hatchwright.rules.answer import against, stated
from hatchwright.rules.rule import rule
from hatchwright.tables.instructions import Instruction, instruction
from hatchwright.tables.limits import limit

_TO_ENGINEER = "Stop. This goes to the holder of the data or an engineer before anything is drilled or cut."

MEMBERS = ("rib", "spar", "stringer", "frame", "longeron")


def _practice(place: str) -> Instruction:
    return Instruction(place, Source("PRACTICE", place), Grade.PRACTICE)


@rule("R901", "Pressurised skin", "scope_weight_max")
def pressurised(survey: Survey) -> Iterator[Finding]:
    """Skin that holds cabin pressure is outside the circulars' rules for alterations; a job on it is refused."""
    job = survey.layout.job
    if job.skin.pressurised or job.gate.pressure_skin:
        scope = limit("scope_weight_max")
        yield against(
            "R901",
            Status.STOP,
            "the skin holds cabin pressure",
            value=None,
            limit=None,
            unit="",
            cited=scope,
            advice=f"The circulars are for areas without pressure. {_TO_ENGINEER}",
        )


@rule("R902", "Weight of the aircraft", "scope_weight_max")
def over_weight(survey: Survey) -> Iterator[Finding]:
    """The circulars' rules are for aircraft of no more than 12,500 lb gross weight."""
    if survey.layout.job.gate.over_12500_lb:
        scope = limit("scope_weight_max")
        yield against(
            "R902",
            Status.STOP,
            "the aircraft is over the weight of the circulars",
            value=None,
            limit=scope.value,
            unit="lb",
            cited=scope,
            advice=_TO_ENGINEER,
        )


@rule("R903", "The maker's own data")
def maker_data(survey: Survey) -> Iterator[Finding]:
    """Where the maker's data cover a job they come first; the circular is for what they leave open, and only if it is
    appropriate, directly applicable and not contrary to them."""
    if survey.layout.job.gate.maker_data:
        yield stated(
            "R903",
            Status.STOP,
            "the maker's data cover this job",
            instruction("approved_data_conditions"),
            advice="Work to the maker's data. Where this job departs from them, their holder must accept it.",
        )


@rule("R904", "Movable surface")
def movable_surface(survey: Survey) -> Iterator[Finding]:
    """A control surface, tab or flap is balanced: no mass is added or taken away without its balance being worked out,
    recorded, and restored by the maker's method."""
    if survey.layout.job.gate.movable_surface:
        yield stated(
            "R904",
            Status.STOP,
            "the opening is in a movable surface",
            _practice("movable surfaces"),
            advice="Added or removed mass changes balance and flutter speed. Do not start without the maker's limits, "
            f"and rebalance by the maker's method. {_TO_ENGINEER}",
        )


@rule("R905", "Fuel tank wall")
def tank_wall(survey: Survey) -> Iterator[Finding]:
    """The wall of a fuel tank is never opened by handbook rules."""
    if survey.layout.job.gate.tank_wall:
        yield stated(
            "R905",
            Status.STOP,
            "the skin is the wall of a fuel tank",
            _practice("tank walls"),
            advice=f"Fuel, vapour and sealing need the maker's data. {_TO_ENGINEER}",
        )


@rule("R906", "Spar or fitting in the load path")
def spar_or_fitting(survey: Survey) -> Iterator[Finding]:
    """An opening in the web or a cap of a spar, or in the load path of a strut or fitting, goes to an engineer."""
    gate = survey.layout.job.gate
    for answer, what in (
        (gate.spar_web_or_cap, "the opening is in the web or a cap of a spar"),
        (gate.fitting_path, "the opening is in the load path of a strut or fitting"),
    ):
        if answer:
            yield stated("R906", Status.STOP, what, _practice("primary load paths"), advice=_TO_ENGINEER)


@rule("R907", "Members are not cut")
def member_cut(survey: Survey) -> Iterator[Finding]:
    """No stringer, frame, rib, spar or longeron is cut: no landmark row of one runs through the opening, and no flange
    lies in it."""
    layout = survey.layout
    bay = layout.job.bay
    cut = ["a member, as answered"] if layout.job.gate.member_cut else []
    for row in bay.rows:
        line = Region(name=row.name, x_from=row.x, x_to=row.x, y_from=row.y, y_to=row.y)
        if row.member in MEMBERS and gap_to_region(layout.opening, line)[0] <= 0.0:
            cut.append(f"{row.name} ({row.member})")
    cut += [flange.name for flange in bay.flanges if gap_to_region(layout.opening, flange)[0] <= 0.0]
    judged = bool(bay.rows or bay.flanges)
    if cut or judged:
        yield stated(
            "R907",
            Status.STOP if cut else Status.PASS,
            f"the opening cuts {', '.join(cut)}"
            if cut
            else "no member that was entered runs through the opening",
            _practice("cut members"),
            advice=f"Move or shrink the opening. {_TO_ENGINEER}" if cut else "",
        )


@rule("R914", "Fuel, controls or wiring behind")
def runs_behind(survey: Survey) -> Iterator[Finding]:
    """Where fuel, controls, wiring or instrument lines run behind the skin, they are entered with their depth, moved or
    shielded before anything is drilled."""
    job = survey.layout.job
    if not job.gate.fuel_or_controls_behind:
        return
    entered = [keep_out.name for keep_out in job.bay.keep_outs]
    yield stated(
        "R914",
        Status.CAUTION if entered else Status.STOP,
        f"lines behind: {', '.join(entered)}" if entered else "lines run behind, but none has been entered",
        _practice("hidden-hazard survey"),
        advice="Look from inside, shield or move each of them, set a drill stop, and cut with air tools near fuel."
        if entered
        else "Enter each as a keep-out with its place and depth before anything is drilled.",
    )


@rule("R915", "Questions that are still open")
def open_questions(survey: Survey) -> Iterator[Finding]:
    """Each question of the gate is answered yes or no before the job goes on; one left open counts as unknown."""
    gate = survey.layout.job.gate
    fields = type(gate).model_fields
    still_open = [fields[name].description or name for name in fields if getattr(gate, name) is None]
    yield stated(
        "R915",
        Status.UNKNOWN if still_open else Status.PASS,
        f"{len(still_open)} of {len(fields)} questions of the gate are open",
        _practice("pre-cut gate"),
        advice=f"Answer in [gate]: {' '.join(still_open)}" if still_open else "",
    )


@rule("R916", "Revision of the mandate")
def mandate_revision(survey: Survey) -> Iterator[Finding]:
    """A directive is worked to the revision of the bulletin that it names; without the revision nothing can be said to
    have been done by it."""
    mandate = survey.layout.job.mandate
    if mandate.kind == "owner":
        return
    missing = [
        word
        for word, value in (("its number", mandate.reference), ("the bulletin's revision", mandate.revision))
        if not value.strip() and (word == "its number" or mandate.bulletin)
    ]
    yield stated(
        "R916",
        Status.UNKNOWN if missing else Status.PASS,
        f"the {mandate.kind} {mandate.reference or 'without a number'}",
        _practice("reading the mandate"),
        advice=f"Enter {' and '.join(missing)} as the {mandate.kind} names it." if missing else "",
    )
