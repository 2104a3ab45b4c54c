"""R416 to R419: alloy and head of the rivets, what may take their place, and the drills as entered."""

from __future__ import annotations

import math
from collections.abc import Iterator

from hatchwright.errors import TableError
from hatchwright.finding import Finding
from hatchwright.judged import FLOAT_NOISE, Status
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.rules.answer import against, in_words
from hatchwright.rules.rule import rule
from hatchwright.rules.wording import inch, over_text, sentence, short_text
from hatchwright.tables.catalog import (
    RIVET_HEADS,
    RIVET_HOLE_RANGES,
    RIVET_SUBSTITUTIONS,
    SCREW_CLEARANCE_DRILLS,
    SCREW_SIZES,
)
from hatchwright.tables.cited import Cited
from hatchwright.tables.instructions import Instruction, instruction
from hatchwright.tables.rivets import RivetPart, hole_drill, hole_range, parse_rivet, substitution
from hatchwright.tables.screws import clearance_drills, screw_size
from hatchwright.words.tell import tell
from hatchwright.workings import Grade, Quantity, Source

_COLD_FROM_IN = {"D": 0.1875, "DD": 0.0}
"""2017 rivets above this and all 2024 rivets are kept cold [in]; see the instruction `icebox_rivets`."""


def _rivets(survey: Survey) -> dict[str, RivetPart]:
    return {
        text: parse_rivet(text) for text in dict.fromkeys(h.fastener for h in survey.layout.holes_of("rivet"))
    }


_PILOT = Cited(0.0, "in", Source("PRACTICE", "pilot, then final drill"), Grade.PRACTICE)


@rule("R416", Shelf.KNOW, rests_on=(instruction("material_1100_nonstructural"),), reads=("holes", "skin"))
def rivet_alloy(survey: Survey) -> Iterator[Finding]:
    """R416: rivet alloy."""
    stressed = survey.layout.job.skin.stressed
    for text, part in _rivets(survey).items():
        soft = part.alloy.alloy.startswith("1100")
        yield in_words(
            "R416",
            Status.PASS if not soft else Status.STOP if stressed else Status.CAUTION,
            f"{text} of {part.alloy.alloy} on {'stressed' if stressed else 'unstressed'} skin",
            instruction("material_1100_nonstructural"),
            advice="Take 2117 (AD) rivets." if soft else "",
        )


@rule("R417", Shelf.HOLDS, rests_on=(RIVET_HEADS,), reads=("holes",))
def rivet_head(survey: Survey) -> Iterator[Finding]:
    """R417: rivet head."""
    for text, part in _rivets(survey).items():
        head = part.head
        reduced = "reduced" in head.head
        if reduced:
            advice = "Not where the rivet is pulled in tension, such as under a cover that carries pressure or suction."
        elif head.replaced_by:
            advice = f"Replaced by {head.replaced_by}: check which of the two the data name."
        else:
            advice = ""
        yield in_words(
            "R417",
            Status.CAUTION if advice else Status.PASS,
            f"{text}, {head.head} head",
            Instruction(head.note or head.head, head.source, head.grade),
            advice=advice,
        )


@rule("R418", Shelf.KNOW, rests_on=(instruction("icebox_rivets"), RIVET_SUBSTITUTIONS), reads=("holes",))
def kept_cold(survey: Survey) -> Iterator[Finding]:
    """R418: rivets kept cold, and what may take their place."""
    for text, part in _rivets(survey).items():
        cold = instruction("icebox_rivets")
        from_in = _COLD_FROM_IN.get(part.letters, math.inf)
        if part.diameter_in <= from_in + FLOAT_NOISE:
            yield in_words("R418", Status.PASS, f"{text} of {part.alloy.alloy}, driven as it comes", cold)
            continue
        try:
            other = substitution(part.letters, diameter_in=part.diameter_in)
            said = f"Or take {part.family}{other.letters}{round(other.diameter_in * 32)} ({other.source}), "
            said += "if edge distance and spacing hold for it (R105, R214)."
        except TableError as error:
            said = sentence(f"{tell(error.what)}.")
        yield in_words(
            "R418",
            Status.CAUTION,
            f"{text} of {part.alloy.alloy}",
            cold,
            advice=f"Heat-treat, keep cold and drive within the time of the maker's process. {said}",
        )


@rule(
    "R419",
    Shelf.SETTLE,
    rests_on=(RIVET_HOLE_RANGES, SCREW_SIZES, SCREW_CLEARANCE_DRILLS, _PILOT),
    reads=("cover", "rows"),
    step="drill",
)
def drills_as_entered(survey: Survey) -> Iterator[Finding]:
    """R419: drills as entered."""
    for row in survey.layout.job.rows:
        diameter_in = parse_rivet(row.rivet).diameter_in
        usual_in = hole_drill(diameter_in, shop=survey.shop).diameter_in if row.pilot else None
        if row.final:
            allowed = hole_range(diameter_in, survey.shop)
            yield _final(
                f"row '{row.name}', final drill {row.final.text} for {row.rivet}",
                row.final.inch,
                least=Cited(allowed.least_in, "in", allowed.source, allowed.grade),
                most=Cited(allowed.greatest_in, "in", allowed.source, allowed.grade),
            )
            usual_in = row.final.inch
        if row.pilot and usual_in and row.preparation is None:
            yield _pilot(f"row '{row.name}', pilot {row.pilot.text}", row.pilot.inch, usual_in)
    cover = survey.layout.job.cover
    if cover and cover.screws and cover.screws.final:
        screws, final = cover.screws, cover.screws.final
        size = screw_size(screws.size, survey.shop)
        listed = clearance_drills(screws.size, survey.shop).values()
        largest = max(listed, key=lambda drill: drill.diameter_in, default=None)
        over_screw = Cited(size.major_diameter_in, "in", size.source, size.grade)
        yield _final(
            f"cover screws, final drill {final.text} for {screws.size}",
            final.inch,
            least=over_screw,
            most=Cited(largest.diameter_in, "in", largest.source, largest.grade) if largest else over_screw,
        )


def _final(subject: str, drill_in: float, *, least: Cited, most: Cited) -> Finding:
    small, large = drill_in < least.value - FLOAT_NOISE, drill_in > most.value + FLOAT_NOISE
    bound = most if large else least
    if small:
        advice = f"{short_text(least.value - drill_in)} The fastener does not go in: a larger final drill."
    elif large:
        advice = f"{over_text(drill_in - most.value)} A smaller final drill, or ask for data."
    else:
        advice = ""
    return against(
        "R419",
        Status.UNKNOWN if small or large else Status.PASS,
        f"{subject}, {inch(least.value)} to {inch(most.value)} in",
        value=drill_in,
        limit=bound.value,
        unit="in",
        cited=bound,
        formula="least <= final drill <= greatest",
        values=(Quantity("least", least.value, "in"), Quantity("greatest", most.value, "in")),
        advice=advice,
        shortfall=max(least.value - drill_in, drill_in - most.value),
    )


def _pilot(subject: str, pilot_in: float, final_in: float) -> Finding:
    fits = pilot_in < final_in - FLOAT_NOISE
    return against(
        "R419",
        Status.PASS if fits else Status.CAUTION,
        subject,
        value=pilot_in,
        limit=final_in,
        unit="in",
        cited=_PILOT,
        formula="pilot < final drill",
        values=(Quantity("final", final_in, "in"),),
        advice="" if fits else "No smaller than the final drill: nothing is left to open.",
        shortfall=pilot_in - final_in,
    )
