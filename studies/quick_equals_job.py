"""Whether each quick answer equals the full job: random questions, each asked of a job that was built to ask the same.

A job file is written, read, laid out and judged by its rules, and every judgement and number that both have is held to
the quick answer's. What the full job has no answer for (center of gravity) is held to exact fractions.

Run: python studies/quick_equals_job.py [questions of each kind, 1000 by default] [seed]
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from fractions import Fraction
from pathlib import Path
from random import Random
from typing import Any

sys.path.insert(0, str(Path(__file__).parents[1] / "tests"))

from hatchwright.documents.rivet_lengths import first_lengths
from hatchwright.errors import GeometryError, JobError
from hatchwright.finding import Finding
from hatchwright.job.file import read_job
from hatchwright.layout.flat_pattern import flat_doubler
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.layout import Layout
from hatchwright.layout.mass import sheet_masses
from hatchwright.making.template.findings import template_findings
from hatchwright.recipe.fastener_choice import rivet_choices
from hatchwright.recipe.sheet_work import LayerWork
from hatchwright.said import Amount, Said
from hatchwright.words.tell import tell
from hatchwright.workflow.quick.answer import Answer
from hatchwright.workflow.quick.book import quick, work_out
from job_text import job_text
from rules.cases import CLAD, FLUSH, PLAIN, RING, changed, judged, rivets

PROTRUDING = ("MS20470AD3", "MS20470AD4", "MS20470AD5", "MS20470AD6")
FLUSH_HEADS = ("MS20426AD3", "MS20426AD4", "MS20426AD5", "MS20426AD6")
SHEETS = (".016", ".020", ".025", ".032", ".040", ".050", ".063", ".080")
THREADS = ("6-32", "8-32", "10-32", "10-24", "1/4-28")

Answered = dict[str, Any]
"""What is compared, by name: statuses, numbers and names; of the quick answer and of the job."""
Asked = tuple[Answered, Answered]


def laid_out(job: dict[str, Any], **changes: Any) -> Layout:
    """The layout of a job with fields changed by their dotted place, dots written as two underscores."""
    whole = changed(job, {place.replace("__", "."): value for place, value in changes.items()})
    return lay_out(read_job(job_text(whole)))


def answer(name: str, **typed: str) -> Answer:
    """A quick answer."""
    return work_out(quick(name), typed)


def length(random: Random, least: float, most: float, places: int = 4) -> str:
    """A length as one types it."""
    return f"{random.uniform(least, most):.{places}f}"


def of(findings: tuple[Finding, ...] | list[Finding], code: str) -> Answered:
    """The worst of a code, by what is compared of it."""
    found = [one for one in findings if one.code == code]
    if not found:
        return {}
    worst = max(found, key=lambda one: (one.status.rank, -abs(one.value or 0.0)))
    return {f"{code} {what}": getattr(worst, what) for what in ("status", "value", "limit")}


def told(answered: Answer, id: str) -> Any:
    """A number of a quick answer, by the end of its id."""
    value = next(one.value for one in answered.told if one.what.id.endswith(id))
    return value.value if isinstance(value, Amount) else value


def edge(random: Random) -> Asked:
    """One hole beside the straight edge of an opening, measured or drawn, its size measured or not; or a screw's."""
    if random.random() < 0.25:
        return _screw_edge(random)
    rivet, e = random.choice(PROTRUDING + FLUSH_HEADS), length(random, 0.03, 0.7)
    diameter_in = int(rivet[-1]) / 32.0
    u, hole = length(random, 0.001, 0.02), length(random, 0.97 * diameter_in, 1.4 * diameter_in)
    is_measured, is_sized = random.random() < 0.7, random.random() < 0.6
    x = f"{2 + Fraction(e)}"
    at = f"{float(Fraction(x)):.4f}"
    changes: dict[str, Any] = {"rows.0.rivet": rivet, "rows.0.points": [[at, "0"]]}
    typed = {"fastener": rivet, "distance": e}
    if is_measured:
        reading = [1, at, "0", hole] if is_sized else [1, at, "0"]
        changes |= {"rows.0.points": [["2.3", "0"]], "as_made": {"uncertainty": u, "holes": [reading]}}
        typed |= {"uncertainty": u} | ({"hole": hole} if is_sized else {})
    quickly = answer("edge", **typed)
    code = "R102" if "426" in rivet else "R101"
    mine, theirs = of(quickly.findings, code), of(judged(code, PLAIN, changes), code)
    at_next = judged("R105", PLAIN, changes)
    mine |= _next_size(quickly, "R105", "next")
    theirs |= _next_size_of(at_next, "R105", holds=1)
    if random.random() < 0.5:
        return _spacing(rivet, at, length(random, 0.8 * diameter_in, 4.4 * diameter_in))
    if is_measured and is_sized:
        mine |= of(quickly.findings, "R404")
        theirs |= of(judged("R404", PLAIN, changes), "R404")
    return mine, theirs


def _screw_edge(random: Random) -> Asked:
    """The screws of a flush cover, as far inside its edge all round; one hole measured."""
    thread, inset, u = random.choice(THREADS), length(random, 0.12, 0.33), length(random, 0.0005, 0.004)
    screws = {"cover.screws.size": thread, "cover.screws.inset": inset}
    number = lay_out(read_job(job_text(changed(FLUSH, screws)))).holes_of("screw")[0].number
    hole = length(random, 0.13, 0.28)
    made = screws | {"as_made": {"uncertainty": u, "sizes": [[number, hole]]}}
    drawn = answer("edge", fastener=thread, distance=inset)
    measured = answer("edge", fastener=thread, distance=inset, uncertainty=u, hole=hole)
    return (
        of(drawn.findings, "R103") | of(measured.findings, "R815"),
        of(judged("R103", FLUSH, screws), "R103") | of(judged("R815", FLUSH, made), "R815"),
    )


def _spacing(rivet: str, at: str, apart: str) -> Asked:
    """Two rivets beside each other, as drawn; a job asks nothing of those farther apart than 4.5 diameters."""
    quickly = answer("edge", fastener=rivet, distance=f"{float(at) - 2:.4f}", spacing=apart)
    changes = {"rows.0.rivet": rivet, "rows.0.points": [[at, "0"], [f"{float(at) + float(apart):.4f}", "0"]]}
    mine = of(quickly.findings, "R201") | _next_size(quickly, "R214", "spacing_next")
    at_next = _next_size_of(judged("R214", PLAIN, changes), "R214", holds=2)
    return mine, of(judged("R201", PLAIN, changes), "R201") | at_next


def _next_size(answered: Answer, code: str, id: str) -> Answered:
    """What is asked of an oversize hole, else whether the next size holds."""
    if asked := of(answered.findings, code):
        return asked
    (one,) = (one for one in answered.told if one.what.id == f"quick.edge.{id}")
    assert isinstance(one.value, Said)
    return {code: one.value.id == "quick.edge.spare"}


def _next_size_of(found: list[Finding], code: str, *, holds: int) -> Answered:
    """The same of a job, where so many holes of it hold the next size."""
    (count,) = (one.value for one in found if one.judged.unit == "holes")
    asked = [one for one in found if one.judged.unit != "holes"]
    return of(asked, code) or {code: count == float(holds)}


def rivet(random: Random) -> Asked:
    """A rivet through skin and doubler."""
    name, skin, doubler = (
        random.choice(PROTRUDING + FLUSH_HEADS),
        random.choice(SHEETS),
        random.choice(SHEETS),
    )
    quickly = answer("rivet", rivet=name, sheets=f"{skin} + {doubler}")
    changes = {"rows.0.rivet": name, "skin.thickness": skin, "doubler.thickness": doubler}
    layout = lay_out(read_job(job_text(changed(RING, changes))))
    (first,) = first_lengths(layout)
    mine, theirs = of(quickly.findings, "R501"), of(judged("R501", RING, changes), "R501")
    mine |= of(quickly.findings, "R401")
    theirs |= of(judged("R401", RING, changes), "R401")
    heads = [
        one.working[0].result.value for one in quickly.told if one.what.id.startswith("quick.rivet.head")
    ]
    mine |= {"first": told(quickly, ".first"), "L": told(quickly, ".calculated"), "heads": heads}
    theirs |= {
        "first": str(first.head.rivet),
        "L": first.length.calculated_in,
        "heads": [head.diameter_in for head in first.length.candidates],
    }
    return mine, theirs


def template(random: Random) -> Asked:
    """A cutter in hand and an opening; some do not fit."""
    width, height = length(random, 3, 12), length(random, 3, 12)
    typed = {
        "width": width,
        "height": height,
        "radius": length(random, 0.05, 1.4),
        "template": random.choice(("female", "male")),
        "cut_width": length(random, 0.1, 0.3),
        "guide": length(random, 0.1, 0.8),
        "filing_allowance": random.choice(("0", ".015", ".030")),
        "end_mill": length(random, 0.06, 0.5),
    }
    cutter = {name: typed[name] for name in ("template", "cut_width", "guide", "filing_allowance")}
    refused = False
    findings: tuple[Finding, ...] = ()
    try:
        layout = laid_out(
            {name: part for name, part in PLAIN.items() if name != "rows"},
            opening__width=width,
            opening__height=height,
            opening__radius=typed["radius"],
            cutter={"kind": "router", **cutter},
            template={
                "material": "plywood",
                "thickness": "1/4",
                "end_mill": typed["end_mill"],
                "border": "1.5",
            },
        )
        findings = template_findings(layout)
        refused = findings[0].code == "T100"
    except JobError:
        refused = True
    try:
        quickly = answer("template", **typed)
    except JobError:
        return {"refused": True}, {"refused": refused}
    codes = ("T105", "T101", "T102", "T103")
    return (
        {name: value for code in codes for name, value in of(quickly.findings, code).items()},
        {name: value for code in codes for name, value in of(findings, code).items()},
    )


def radius(random: Random) -> Asked:
    """A curved skin with a doubler that is rolled to lie inside or outside it; some rises are none of an arc."""
    chord, rise = length(random, 2, 14), length(random, 0.05, 2.2)
    skin, sheet, face = random.choice(SHEETS), random.choice(SHEETS), random.choice(("inside", "outside"))
    curved = {"along": "x", "chord": chord, "rise": rise}
    changes = {"skin__curvature": curved, "skin__thickness": skin, "doubler__face": face}
    try:
        pattern = flat_doubler(laid_out(RING, doubler__thickness=sheet, **changes))
    except (GeometryError, JobError):
        pattern = None
    try:
        quickly = answer("radius", chord=chord, rise=rise, skin=skin, sheet=sheet)
    except JobError:
        return {"refused": True}, {"refused": pattern is None}
    assert pattern is not None
    outer_in, inner_in = pattern.roll_in
    radius_in = outer_in + float(Fraction(skin)) if face == "inside" else inner_in
    mine = {"R": told(quickly, ".radius"), "rolled": told(quickly, f".roll_{face}")}
    return mine, {"R": radius_in, "rolled": inner_in}


def screw(random: Random) -> Asked:
    """A cover screw through cover and doubler."""
    thread, cover, doubler = random.choice(THREADS), random.choice(SHEETS), random.choice(SHEETS)
    typed = {"size": thread, "sheets": f"{cover} + {doubler}"}
    changes = {
        "cover.screws.size": thread,
        "cover.screws.head": "pan",
        "cover.screws.preparation": None,
        "cover.thickness": cover,
        "doubler.thickness": doubler,
        "cover.screws.length": None,
    }
    if random.random() < 0.8:
        typed["length"] = changes["cover.screws.length"] = length(random, 0.1, 1.0)
    if random.random() < 0.7:
        typed["nut_height"] = changes["cover.screws.nut_height"] = length(random, 0.1, 0.4)
    quickly = answer("screw", **typed)
    mine = of(quickly.findings, "R802") | of(quickly.findings, "R808")
    return mine, of(judged("R802", FLUSH, changes), "R802") | of(judged("R808", FLUSH, changes), "R808")


def ring(random: Random) -> Asked:
    """A doubler larger than its opening."""
    width, height = random.uniform(3, 9), random.uniform(3, 9)
    corner = random.uniform(0.1, min(width, height) / 2.2)
    over, over_corner = random.uniform(0.8, 3.5), random.uniform(0, 1)
    opening = [f"{value:.3f}" for value in (width, height, corner)]
    outer = [f"{value:.3f}" for value in (width + over, height + over, over_corner)]
    names = ("width", "height", "radius")
    typed = dict(zip(names, opening, strict=True)) | dict(
        zip((f"ring_{n}" for n in names), outer, strict=True)
    )
    changes: dict[str, Any] = {f"opening.{n}": value for n, value in zip(names, opening, strict=True)}
    changes |= {f"doubler.outer.{n}": value for n, value in zip(names, outer, strict=True)}
    changes |= {"rows.0.points": [[f"{width / 2 + over / 4:.3f}", "0"]]}
    quickly = answer("ring", **typed, thickness=RING["doubler"]["thickness"])
    (mine,), (theirs,) = quickly.findings, judged("R304", RING, changes)
    # what to do is not compared: a job knows the sheet, what lies behind, and other ways in
    return (
        of([mine], "R304") | {"subject": tell(mine.subject)},
        of([theirs], "R304") | {"subject": tell(theirs.subject)},
    )


def land(random: Random) -> Asked:
    """Rows beside the straight side of an opening, as far from both edges of the doubler."""
    name, rows = random.choice(PROTRUDING + FLUSH_HEADS), random.choice((1, 2, 3))
    diameter_in = int(name[-1]) / 32.0
    edge_in, spacing_in = (round(random.uniform(1.5, 3.5) * diameter_in, 4) for _ in range(2))
    typed = {"rivet": name, "rows": str(rows), "edge": f"{edge_in:.4f}", "spacing": f"{spacing_in:.4f}"}
    quickly = answer("land", **typed)
    across_in = 2 * edge_in + (rows - 1) * spacing_in
    beside = [
        rivets(
            *((2 + edge_in + k * spacing_in, y * 5 * diameter_in) for y in (-0.5, 0.5)),
            name=f"row {k}",
            rivet=name,
        )
        for k in range(rows)
    ]
    outer = {"shape": "rounded rectangle", "width": f"{4 + 2 * across_in:.4f}", "radius": "1"}
    changes = {"rows": beside, "doubler.outer": {**outer, "height": outer["width"]}}
    code = "R102" if "426" in name else "R101"
    codes = (code, "R204", "R208") if rows > 1 else (code,)
    return (
        {what: value for one in codes for what, value in of(quickly.findings, one).items()},
        {what: value for one in codes for what, value in of(judged(one, RING, changes), one).items()},
    )


def hand(random: Random) -> Asked:
    """A clear opening."""
    width, height = length(random, 2, 6), length(random, 2, 6)
    corner = length(random, 0.05, 0.9)
    changes = {"opening.width": width, "opening.height": height, "opening.radius": corner}
    changes["rows.0.points"] = [["4", "0"]]
    quickly = answer("hand", width=width, height=height, radius=corner)
    return of(quickly.findings, "R303"), of(judged("R303", PLAIN, changes), "R303")


def drills(random: Random) -> Asked:
    """A rivet through skin and doubler, prepared in every way."""
    name, skin, doubler = (
        random.choice(PROTRUDING + FLUSH_HEADS),
        random.choice(SHEETS),
        random.choice(SHEETS),
    )
    entered: dict[str, str] = {}
    if random.random() < 0.7:
        entered["preparation"] = random.choice(("dimple", "countersink", "dimple over countersink"))
    if random.random() < 0.3:
        entered["pilot"] = random.choice(("#40", "#42", "#50"))
    if random.random() < 0.2:
        entered["final"] = random.choice(("#30", "#21", "#11"))
    quickly = answer("drills", rivet=name, sheets=f"{skin} + {doubler}", **entered)
    changes = {"rows.0.rivet": name, "skin.thickness": skin, "doubler.thickness": doubler}
    changes |= {f"rows.0.{what}": value for what, value in entered.items()}
    (choice,) = rivet_choices(lay_out(read_job(job_text(changed(RING, changes)))))
    mine = {"sheets": [one.working for one in quickly.told if one.what.id == "quick.drills.sheet"]}
    theirs: Answered = {"sheets": [_steps(layer) for layer in choice.layers]}
    mine = {"sheets": [[(step.formula, step.result.value) for step in steps] for steps in mine["sheets"]]}
    if "final" in entered:
        final = [
            one for one in judged("R419", RING, changes) if one.judged.working[0].result.symbol == "drill"
        ]
        mine, theirs = mine | of(quickly.findings, "R419"), theirs | of(final, "R419")
    if "preparation" in entered and "426" in name:
        codes = ["R408", "R409", "R412", "R429"] + (
            ["R410"] if entered.get("pilot") == _pilot(choice.layers) else []
        )
        for code in codes:
            found = [one for one in judged(code, RING, changes) if code != "R412" or one.value is not None]
            mine, theirs = mine | of(quickly.findings, code), theirs | of(found, code)
    return mine, theirs


def _pilot(layers: tuple[LayerWork, ...]) -> str:
    """The drill of the hole that is dimpled, where all sheets have the same."""
    drills = {str(layer.before_dimple) for layer in layers if layer.before_dimple}
    return drills.pop() if len(drills) == 1 else "none"


def _steps(layer: LayerWork) -> list[tuple[str, float]]:
    return [
        (step.operation, step.drill.diameter_in if step.drill else float(number))
        for number, step in enumerate(layer.steps, start=1)
    ]


def cg(random: Random) -> Asked:
    """A doubler with a window, put in or taken out."""
    outer, inner = (
        [f"{random.uniform(6, 12):.2f}" for _ in "xy"],
        [f"{random.uniform(1, 3):.2f}" for _ in "xy"],
    )
    sheet, weight, arm = random.choice(SHEETS), f"{random.uniform(900, 4900):.1f}", length(random, 20, 140, 2)
    at, change = length(random, -20, 300, 2), random.choice(("put in", "taken out"))
    quickly = answer(
        "cg",
        empty_weight=weight,
        empty_arm=arm,
        arm=at,
        change=change,
        alloy=CLAD["alloy"],
        temper=CLAD["temper"],
        thickness=sheet,
        width=outer[0],
        height=outer[1],
        window_width=inner[0],
        window_height=inner[1],
    )
    square = {"shape": "rounded rectangle", "radius": "0"}
    changes = {
        "opening.width": ".9",
        "opening.height": ".9",
        "opening.radius": ".1",
        "rows.0.points": [["2.5", "0"]],
        "doubler.thickness": sheet,
        "doubler.outer": {**square, "width": outer[0], "height": outer[1]},
        "doubler.inner": {**square, "width": inner[0], "height": inner[1]},
    }
    masses = sheet_masses(lay_out(read_job(job_text(changed(RING, changes)))))
    (part_lb,) = (one.mass_lb for one in masses if one.name == "doubler")
    added = Fraction(part_lb) * (1 if change == "put in" else -1)
    moment = Fraction(weight) * Fraction(arm) + added * Fraction(at)
    after_arm = float(moment / (Fraction(weight) + added))
    return (
        {"part": told(quickly, ".part"), "CG": told(quickly, ".arm")},
        {"part": part_lb, "CG": after_arm},
    )


KINDS: dict[str, Callable[[Random], Asked]] = {
    "edge": edge, "rivet": rivet, "template": template, "radius": radius, "screw": screw, "ring": ring, "land": land,
    "hand": hand, "drills": drills, "cg": cg,
}  # fmt: skip


def differences(name: str, questions: int, seed: int) -> Iterator[str]:
    """Every question of one kind whose quick answer is not that of the job."""
    for number in range(questions):
        mine, theirs = KINDS[name](Random(f"{name} {seed} {number}"))
        assert mine, "nothing is compared"
        for what in mine.keys() | theirs.keys():
            if not same(mine.get(what), theirs.get(what)):
                yield f"{name} {number}: {what} is {mine.get(what)} quickly, {theirs.get(what)} in the job"


def same(one: Any, other: Any) -> bool:
    """Whether two values are the same, numbers within the rounding of the arithmetic."""
    if isinstance(one, list | tuple) and isinstance(other, list | tuple):
        return len(one) == len(other) and all(map(same, one, other))
    if isinstance(one, float) and isinstance(other, float):
        return abs(one - other) <= 1e-7 + 1e-9 * abs(other)
    return bool(one == other)


if __name__ == "__main__":
    count, first = (int(text) for text in (*sys.argv[1:], *("1000", "0")[len(sys.argv) - 1 :]))
    for kind in KINDS:
        found = list(differences(kind, count, first))
        print(f"{kind}: {count} questions, {len(found)} differences", flush=True)
        for line in found[:5]:
            print(f"    {line}")
