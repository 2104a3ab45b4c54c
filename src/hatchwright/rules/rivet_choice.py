"""R416 to R419: alloy and head of the rivets, what may take their place, and the drills as entered."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec.structs import replace

from hatchwright.errors import TableError
from hatchwright.finding import Finding
from hatchwright.judged import FLOAT_NOISE, Judgement, Measure, Status, bound, lengths
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.remedy import ASK, Change
from hatchwright.rules.answer import held, stated, worse
from hatchwright.rules.rule import judged_by, mended_by, rule
from hatchwright.said import Said, inch, said
from hatchwright.tables.cited import Cited
from hatchwright.tables.instructions import Instruction, instruction
from hatchwright.tables.rivet_part import RIVET_HEADS, RivetPart, parse_rivet
from hatchwright.tables.rivets import (
    RIVET_HOLE_RANGES,
    RIVET_SUBSTITUTIONS,
    hole_drill,
    hole_range,
    substitution,
)
from hatchwright.tables.screws import SCREW_CLEARANCE_DRILLS, SCREW_SIZES, clearance_drills, screw_size
from hatchwright.workings import Grade, Source

_COLD = ("D", "DD")
"""Letters of 2017 and 2024 rivets, which are kept cold; see the instruction `icebox_rivets`."""

_AS_RECEIVED_IN = 0.1875
"""2017 rivets up to this are said to be driven as received [in]; from memory, [AC43.13-1B], par. 4-57e."""


def _rivets(survey: Survey) -> dict[str, RivetPart]:
    return {
        text: parse_rivet(text) for text in dict.fromkeys(h.fastener for h in survey.layout.holes_of("rivet"))
    }


_PILOT = Cited(0.0, "in", Source("PRACTICE", "pilot, then final drill"), Grade.PRACTICE)


@rule("R416", Shelf.KNOW, reads=("holes", "skin"))
@judged_by("material_1100_nonstructural")
@mended_by(Change.ROW_RIVET)
def rivet_alloy(survey: Survey) -> Iterator[Finding]:
    """R416: rivet alloy."""
    stressed = survey.layout.job.skin.stressed
    for text, part in _rivets(survey).items():
        soft = part.alloy.alloy.startswith("1100")
        subject = said("R416.stressed" if stressed else "R416.unstressed", rivet=text, alloy=part.alloy.alloy)
        status = Status.PASS if not soft else Status.STOP if stressed else Status.CAUTION
        advice = (said("R416.not_structural"), ASK) if soft else ()
        yield stated(status, subject, instruction("material_1100_nonstructural"), *advice)


@rule("R417", Shelf.HOLDS, reads=("holes",))
@judged_by(RIVET_HEADS)
def rivet_head(survey: Survey) -> Iterator[Finding]:
    """R417: rivet head."""
    for text, part in _rivets(survey).items():
        head = part.head
        told: tuple[Said, ...] = ()
        if head.is_reduced:
            told = (said("R417.not_in_tension"),)
        elif head.replaced_by:
            told = (said("R417.replaced", family=part.family, by=head.replaced_by),)
        status = Status.CAUTION if told else Status.PASS
        subject = said("R417.head", rivet=text, head=head.head)
        yield stated(
            status,
            subject,
            Instruction("", head.note or head.head, source=head.source, grade=head.grade),
            *told,
        )


@rule("R418", Shelf.KNOW, reads=("holes",), step="rivet")
@judged_by("icebox_rivets", RIVET_SUBSTITUTIONS)
def kept_cold(survey: Survey) -> Iterator[Finding]:
    """R418: rivets kept cold, and what may take their place."""
    cold = instruction("icebox_rivets")
    for text, part in _rivets(survey).items():
        alloy = part.alloy.alloy
        if part.letters not in _COLD:
            yield stated(Status.PASS, said("R418.as_received", rivet=text, alloy=alloy), cold)
            continue
        is_small = part.letters == "D" and part.diameter_in <= _AS_RECEIVED_IN + FLOAT_NOISE
        up_to = (said("R418.may_be_as_received", largest=inch(_AS_RECEIVED_IN)),) if is_small else ()
        subject = said("R418.icebox", rivet=text, alloy=alloy)
        yield stated(Status.CAUTION, subject, cold, said("R418.keep_cold"), *up_to, _substitute(part))


def _substitute(part: RivetPart) -> Said:
    try:
        other = substitution(part.letters, diameter_in=part.diameter_in)
    except TableError:
        return said("R418.no_substitute", rivet=str(part))
    rivet = replace(part, letters=other.letters).of_diameter(other.diameter_in)
    return said("R418.substitute", rivet=str(rivet), source=str(other.source))


@rule("R419", Shelf.SETTLE, reads=("cover", "rows"), step="drill")
@judged_by(RIVET_HOLE_RANGES, SCREW_SIZES, SCREW_CLEARANCE_DRILLS, _PILOT)
def drills_as_entered(survey: Survey) -> Iterator[Finding]:
    """R419: drills as entered."""
    for row in survey.layout.job.rows:
        diameter_in = parse_rivet(row.rivet).diameter_in
        usual_in = hole_drill(diameter_in, shop=survey.shop).diameter_in if row.pilot else None
        if row.final:
            allowed = hole_range(diameter_in, survey.shop)
            least = Cited(allowed.least_in, "in", allowed.source, allowed.grade)
            most = Cited(allowed.greatest_in, "in", allowed.source, allowed.grade)
            subject = said(
                "R419.final",
                row=row.name,
                drill=row.final.text,
                rivet=row.rivet,
                least=inch(least.value),
                most=inch(most.value),
            )
            yield final_held(subject, row.final.inch, least=least, most=most)
            usual_in = row.final.inch
        if row.pilot and usual_in and row.preparation is None:
            subject = said("R419.pilot", row=row.name, drill=row.pilot.text)
            yield _pilot(subject, row.pilot.inch, usual_in)
    cover = survey.layout.job.cover
    if cover and cover.screws and cover.screws.final:
        screws, final = cover.screws, cover.screws.final
        size = screw_size(screws.size, survey.shop)
        listed = clearance_drills(screws.size, survey.shop).values()
        largest = max(listed, key=lambda drill: drill.diameter_in, default=None)
        least = Cited(size.major_diameter_in, "in", size.source, size.grade)
        most = Cited(largest.diameter_in, "in", largest.source, largest.grade) if largest else least
        subject = said(
            "R419.screws", drill=final.text, size=screws.size, least=inch(least.value), most=inch(most.value)
        )
        yield final_held(subject, final.inch, least=least, most=most)


def final_held(subject: Said, drill_in: float, *, least: Cited, most: Cited) -> Finding:
    """Hold the last drill of a hole, as entered, to the least and greatest hole of its fastener [in]."""
    drill = Measure("drill", drill_in)
    small = Judgement(drill, (bound(least),), fails_as=Status.UNKNOWN)
    large = Judgement(drill, (bound(most),), at_least=False, fails_as=Status.UNKNOWN)
    advice = "R419.too_small" if small.status is not Status.PASS else "R419.too_large"
    return held(worse(small, large), subject, said(advice))


def _pilot(subject: Said, pilot_in: float, final_in: float) -> Finding:
    left = Measure("left to open", final_in - pilot_in, with_=lengths(pilot=pilot_in, final=final_in))
    judged = Judgement(left, (bound(_PILOT),), strict=True, fails_as=Status.CAUTION)
    return held(judged, subject, said("R419.nothing_to_open"))
