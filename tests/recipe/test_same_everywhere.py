"""Every hole of a job has the same operations on every surface, and none without a known drill shows a number.

Three hundred random jobs. Of each the printed words are read again: the steps of the work card, the titles of the hole
table, the list of fasteners and its values for programs; and the circles of layout and page, the pilot holes of the
template and the tools of its machine files. What must stand there is not asked of the program: 1/8 and 3/32 protruding
rivets end at No. 30 and No. 40 [TRADE-2001] table of drills and holes; a die for a No. 8 or No. 10 screw does not enter
a No. 40 hole; drills only grow; what no table lists has no drill but those of the job.
"""

from __future__ import annotations

import random
import re
from collections import defaultdict
from copy import deepcopy
from fractions import Fraction
from itertools import pairwise
from math import dist

import pytest
from msgspec.structs import replace

from hatchwright.cli.fasteners import fastener_lines
from hatchwright.documents.card_steps import card_steps
from hatchwright.documents.step import Work
from hatchwright.drawings.bay_view import bay_picture, bay_sheet
from hatchwright.drawings.hole_table import hole_tables
from hatchwright.drawings.ink import Circle, Layer
from hatchwright.drawings.template_holes_view import template_holes_sheet
from hatchwright.drawings.template_view import template_sheet
from hatchwright.judged import Status
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.mass import weight_change
from hatchwright.layout.unlisted import what_of
from hatchwright.making.guide import job_recipe
from hatchwright.making.making import making_of
from hatchwright.making.template.findings import pilot_findings
from hatchwright.making.template.holes import through_which
from hatchwright.making.template.part import drilled_through, template_part
from hatchwright.making.toolpath.ngc import ngc_of
from hatchwright.making.toolpath.retrace import DrilledHole, retrace
from hatchwright.making.toolpath.toolpath import toolpath
from hatchwright.recipe.cover_hardware import cover_hardware
from hatchwright.recipe.fastener_choice import rivet_choices, unlisted_rivets
from hatchwright.tables.drills import drill_sizes
from hatchwright.units import parse_length
from hatchwright.workflow.examine import Examination
from hatchwright.workflow.fasteners import FastenerReport, fastener_values
from making.machines import machine
from rules.cases import FLUSH, LAPPED, PATCH, PLAIN, RING, changed, job_of
from tests.cards import told_step

JOBS, CHUNKS = 300, 6
RIVETS = ("MS20470AD3", "MS20470AD4", "MS20470AD5", "MS20470AD6", "3.2 mm universal 2117")
FLUSH_RIVETS = ("MS20426AD3", "MS20426AD4", "MS20426AD5", "MS20426AD6", "NAS1097AD4", "3.2 mm flush 2117")
UNLISTED = "XY123"
PREPARATIONS = (None, "dimple", "countersink", "dimple over countersink")
PILOTS = (None, None, None, "#42", "3/32 in", "2.5 mm", ".112 in", "#33")
FINALS = (None, None, None, None, "#29", "3.3 mm", ".129 in", "4.3 mm")
SHEETS = (".025", ".032", ".040", ".045", ".063")
NUTS = (
    "two-lug nutplate",
    "one-lug nutplate",
    "miniature nutplate",
    "100-degree two-lug nutplate",
    "floating two-lug nutplate",
)
CUTTER = {
    "name": "nibbler",
    "kind": "round-punch nibbler",
    "cut_width": ".197",
    "guide": ".625",
    "filing_allowance": ".020",
    "advance": "1/16",
    "capacity": ".063",
    "behind": ".45",
    "body": "2",
    "starter": "11/16",
    "reach": "30",
    "eccentricity": "0",
}
TEMPLATE = {
    "material": "polycarbonate",
    "thickness": ".093",
    "end_mill": "1/8",
    "border": "1.5",
    "blank": ["14", "14"],
    "pin_body": ".281",
    "pin_clearance": ".004",
}


def random_job(seed):
    """A job of any kind, its rows, sheets, screws and template at random."""
    rng = random.Random(seed)
    base = rng.choice((PLAIN, RING, RING, RING, FLUSH, FLUSH, FLUSH, LAPPED, LAPPED, PATCH))
    has_doubler, has_cover = "doubler" in base, "cover" in base
    change = {"skin.thickness": rng.choice(SHEETS)}
    if has_doubler:
        change["doubler.thickness"] = rng.choice(SHEETS)
        change["doubler.face"] = "inside" if has_cover or base is PATCH else rng.choice(("inside", "outside"))
        if rng.random() < 0.25:
            change |= {"doubler.holes_from": "doubler", "doubler.holes_reason": "formed on the bench"}
    for number in range(len(base.get("rows", ()))):
        change |= random_row(rng, f"rows.{number}")
    if "rows" in base and base is not PATCH and rng.random() < 0.6:
        more = {"name": "other", "lay": "points", "points": [["-2.3", "0"], ["-2.3", "1"], ["0", "2.3"]]}
        row = {key.removeprefix("rows.1."): value for key, value in random_row(rng, "rows.1").items()}
        change["rows"] = [
            *deepcopy(base["rows"]),
            {**more, **{key: value for key, value in row.items() if value}},
        ]
        change = {"rows": change.pop("rows"), **change}
    if has_cover:
        change |= random_screws(rng, is_flush_cover=base is FLUSH)
        if rng.random() < 0.3:
            change |= {"cover.holes_from": "inside", "cover.holes_reason": "holes that are there already"}
            change["bay.way_in"] = rng.choice(("port in the next bay", None))
    if rng.random() < 0.6:
        change["cutter"] = {**CUTTER, "template": rng.choice(("female", "male"))}
        pin = rng.choice((None, None, None, "3/32", "1/8"))
        change["template"] = {**TEMPLATE, **({"pin": pin} if pin else {})}
    job = changed(base, {place: value for place, value in change.items() if value is not None})
    return in_millimeters(job) if rng.random() < 0.3 else job


def random_row(rng, row):
    rivet = rng.choice((*RIVETS, *FLUSH_RIVETS, *FLUSH_RIVETS, UNLISTED))
    return {
        f"{row}.rivet": rivet,
        f"{row}.preparation": rng.choice(PREPARATIONS) if rivet not in RIVETS else None,
        f"{row}.pilot": rng.choice(PILOTS),
        f"{row}.final": rng.choice(FINALS),
    }


def random_screws(rng, *, is_flush_cover):
    change = {"cover.screws.size": rng.choice(("6-32", "8-32", "10-32", "M4", "1/4-28", "XX-9"))}
    change["cover.screws.head"] = rng.choice(("100 degree flush", "100 degree flush", "pan", "odd head"))
    if change["cover.screws.head"] == "100 degree flush":
        change["cover.screws.preparation"] = rng.choice(PREPARATIONS)
    change |= {f"cover.screws.{key}": rng.choice(of) for key, of in (("pilot", PILOTS), ("final", FINALS))}
    if is_flush_cover or rng.random() < 0.5:
        change["cover.screws.nut"] = rng.choice(NUTS)
        change["cover.screws.nut_rivet"] = rng.choice(("MS20470AD3", "MS20426AD3", "NAS1097AD3"))
        change["cover.screws.nut_ears"] = rng.choice((None, "dimple", "countersink"))
        if rng.random() < 0.3:
            change["cover.screws.strap"] = {"alloy": "2024", "temper": "T3", "thickness": ".064"}
    return change


def in_millimeters(job):
    """The same job, its lengths still in inches but told in millimeters."""

    def typed(value, key=""):
        if isinstance(value, dict):
            return {key: typed(one, key) for key, one in value.items()}
        if isinstance(value, list):
            return [typed(one, key) for one in value]
        is_length = isinstance(value, str) and re.fullmatch(r"-?(\d*\.?\d+|\d+/\d+)", value)
        return f"{value} in" if is_length and key not in ("alloy", "size") else value

    return {**typed(job), "units": "mm"}


def size_of(words, unit="in"):
    """The diameter of a drill as it is printed, by name, by size or both [in]; None where it is not known."""
    if "NOT KNOWN" in words:
        return None
    if named := re.match(r"#(\d+)|([A-Z])(?= |$)", words):
        return drill_sizes()[named[1] or named[2]]
    if fraction := re.match(r"\d+/\d+", words):
        return float(Fraction(fraction[0]))
    if metric := re.match(r"(\d+\.\d) mm", words):
        return float(metric[1]) / 25.4
    size, own = re.fullmatch(r"([\d.]+) ?(in|mm|)", words).groups()
    return float(size) / (25.4 if (own or unit) == "mm" else 1.0)


def operation(words, unit):
    """What is done and with which drill [in], of words such as ``FINAL #30 .1285`` or ``dimple``."""
    words = words.strip()
    if words.lower() in ("dimple", "countersink"):
        return words.lower(), None
    if "NOT KNOWN" in words:
        does = words.split()[0].lower()
        return (does if does in ("pilot", "open", "final", "ream") else "not known"), None
    does, drill = words.split(" ", 1)
    return does.lower(), size_of(drill.replace(" WHERE TIGHT", "").replace(" where tight", ""), unit)


def numbers_of(words):
    """Hole numbers, such as ``1 to 3, 7``."""
    found = set()
    for span in words.split(", "):
        first, _, last = span.partition(" to ")
        found |= set(range(int(first), int(last or first) + 1))
    return found


def parts_of(words):
    """The parts of a list such as ``skin + patch doubler``, as the layout has them."""
    return [part.removeprefix("patch ") for part in words.split(" + ")]


PART = r"(?:skin|(?:patch )?doubler|cover|plug|strap)"
MADE = re.compile(
    rf"(?P<what>\S+), (?P<parts>{PART}(?: \+ {PART})*): (?P<does>.+?), no\. (?P<numbers>[\d, to]+)\."
)
HEAD = re.compile(rf"({PART}) [\d.]+ (?:in |mm )?(dimpled|countersunk)")
KIND = re.compile(rf"^(\S.*?)(?: \((.*?)\))?: {PART} [\d.]+ ")


def card_operation(words, unit):
    if ream := re.match(r"the dimple opens the hole\. Ream (.+?) only where", words):
        return "ream", size_of(ream[1], unit)
    if words.startswith("the dimple opens"):
        return "ream", None
    if words.startswith("open to the size proved on the coupon"):
        return "open", None
    return operation(words.replace("final drill", "final"), unit)


def on_card(work):
    """By hole and part, what the steps of the card say, in their order."""
    layout, found = work.layout, defaultdict(list)
    for step in card_steps(work):
        for line in told_step(step, layout.job.unit)["lines"]:
            for made in MADE.finditer(line):
                for number in numbers_of(made["numbers"]):
                    for part in parts_of(made["parts"]):
                        found[number, part].append(card_operation(made["does"], layout.job.unit))
            if kind := KIND.match(line):
                rows = kind[2].removeprefix("row ").removeprefix("rows ").split(", ") if kind[2] else None
                for hole in layout.holes:
                    if hole.fastener == kind[1] and (rows is None or hole.row in rows):
                        for part, how in HEAD.findall(line):
                            found[hole.number, *parts_of(part)].append(
                                ({"dimpled": "dimple"}.get(how, "countersink"), None)
                            )
    return dict(found)


def on_table(layout, tables):
    """By hole and part, what the titles of the hole tables say."""
    found, unit = {}, layout.job.unit
    for table in tables:
        title = re.match(r"(?:RIVET|SCREW) (.+?) IN (.+)$", table.title)
        numbers = {int(row[0]) for row in table.rows if row[0].isdigit()} if title else set()
        for group in title[2].split("; ") if title else ():
            parts, steps = group.split(": ", 1)
            for part in parts_of(parts):
                for number in numbers:
                    found[number, part] = [operation(step, unit) for step in steps.split(", ")]
    return found


def on_list(report):
    """By hole and part, what the list says: in its values for programs, and in its printed lines."""
    values, unit = fastener_values(report), report.job.unit
    kinds = [(one["holes"], one["layers"]) for one in (*values["rivets"], *values["unlisted_rivets"])]
    if values["cover"]:
        kinds.append((values["cover"]["holes"], values["cover"]["layers"]))
    printed = iter([line for line in _own_lines(report) if re.match(rf"  {PART}: .*In order: ", line)])
    in_values, in_lines = {}, {}
    for holes, layers in kinds:
        for layer in layers:
            steps = [
                (step["operation"], size_of(step["drill"]) if step["drill"] else None)
                for step in layer["steps"]
            ]
            line = next(printed)
            part, told = re.match(rf"  ({PART}): .*In order: (.*)\.$", line).groups()
            for number in holes:
                in_values[number, layer["part"]] = steps
                in_lines[number, *parts_of(part)] = [
                    operation(one.replace("final drill", "final"), unit) for one in told.split(", ")
                ]
    assert next(printed, None) is None
    return in_values, in_lines


def _own_lines(report):
    """The printed lines without those of the rivets of the nutplates."""
    return fastener_lines(replace(report, cover=replace(report.cover, rivets=None) if report.cover else None))


def drawn(parts):
    """By hole, the layer and the diameter of its circle, without the ring round a short one."""
    return {
        part.hole: (part.layer, part.diameter_in)
        for part in parts
        if isinstance(part, Circle) and "hole" in part.css.split() and "ring" not in part.css.split()
    }


def report_of(layout, making):
    """The list of fasteners, without a verdict."""
    made = rivet_choices(layout), unlisted_rivets(layout), cover_hardware(layout), weight_change(layout)
    examination = Examination(layout.job, layout, (), making)
    return FastenerReport(examination, *made, (), layout.limit("mass_negligible_light"))


def machine_for(sizes_in):
    """A machine with a drill of each size and the end mill of the template."""
    shop = machine()
    drill, *others = shop.tools
    drills = (
        drill.model_copy(update={"number": 10 + number, "diameter": parse_length(f"{size_in:.9f} in")})
        for number, size_in in enumerate(sorted(sizes_in))
    )
    return shop.model_copy(update={"tools": (*drills, *others)})


def on_machine(making, sizes_in):
    """The tools that the files of the machine drill each pilot hole of the template with [in]."""
    shop = machine_for(sizes_in)
    path, found = toolpath(making, shop), {}
    names = {hole.center: hole.name for hole in path.blank.part.holes}
    for run in path.runs:
        trace = retrace(ngc_of(run, unit=shop.units, safe_in=shop.safe_height.inch, remarks=()))
        tool = next(one for one in shop.tools if one.number == trace.tool)
        for action in trace.actions:
            if isinstance(action, DrilledHole):
                name = next(name for at, name in names.items() if dist(at, action.at) < 1e-3)
                found[name] = tool.diameter.inch
    return found


def close(one, other):
    """The same operations with the same drills, to what the papers print."""
    return [does for does, _ in one] == [does for does, _ in other] and all(
        (a is None) == (b is None) and (a is None or abs(a - b) < 6e-4)
        for (_, a), (_, b) in zip(one, other, strict=True)
    )


@pytest.mark.parametrize("chunk", range(CHUNKS))
def test_every_hole_is_the_same_everywhere(chunk):
    for seed in range(chunk, JOBS, CHUNKS):
        data = random_job(seed)
        layout = lay_out(job_of(data))
        making = making_of(layout)
        work = Work(layout, making, job_recipe(layout, making))
        sheet = bay_sheet(layout, (), date="")
        card, table = on_card(work), on_table(layout, sheet.tables)
        assert on_table(layout, hole_tables(layout, {})) == table
        values, lines = on_list(report_of(layout, making))
        for hole in layout.holes:
            parts = [part for number, part in card if number == hole.number]
            assert {*hole.stack} <= {*parts} <= {*hole.stack, "strap"}, (seed, hole.number)
            for part in parts:
                place = hole.number, part
                for other in (table, values, lines):
                    assert close(card[place], other[place]), (seed, place, card[place], other[place])
                holds_alone(hole, part, card[place], data, seed)
        assert card.keys() == table.keys() == values.keys() == lines.keys()
        circles_tell_the_same(layout, card, sheet, seed)
        if making is not None:
            template_drills_the_same(layout, making, card, seed)


def holds_alone(hole, part, chain, data, seed):
    """What must be so whatever the surfaces say."""
    row = next((row for row in data.get("rows", ()) if row["name"] == hole.row), None)
    entered = row if row is not None else data["cover"]["screws"]
    does, sizes = [one for one, _ in chain], [size for _, size in chain if size]
    at = seed, hole.number, part, chain
    if not entered.get("pilot") and not entered.get("final"):
        assert all(small <= large + 1e-9 for small, large in pairwise(sizes)), at
    drills = [size for one, size in chain if one not in ("dimple", "countersink")]
    if what_of(hole) is not None and not entered.get("pilot") and not entered.get("final"):
        assert chain == [("not known", None)], at
    if "dimple" in does:
        before = chain[does.index("dimple") - 1]
        assert before[0] in ("pilot", "open"), at
        if hole.kind == "screw" and not entered.get("pilot"):
            assert before == ("open", None), at
    if "countersink" in does:
        assert does[-2:] == ["final", "countersink"], at
    ends = {"MS20470AD3": 0.098, "MS20470AD4": 0.1285}
    if hole.fastener in ends and not entered.get("final"):
        assert drills[-1] == pytest.approx(ends[hole.fastener], abs=6e-4), at
    if entered.get("final") and does != ["not known"]:
        assert drills[-1] is not None, at


def first_of(hole, card):
    """The drill that begins a hole, by the card; the same in all of its parts."""
    firsts = [chain[0] for (number, _), chain in card.items() if number == hole.number]
    assert all(close([firsts[0]], [one]) or one[1] == firsts[0][1] for one in firsts), (hole.number, firsts)
    return firsts[0][1]


def circles_tell_the_same(layout, card, sheet, seed):
    circles = drawn(sheet.parts())
    assert circles == drawn(bay_picture(layout, ()).parts())
    for hole in layout.holes:
        first = first_of(hole, card)
        if first is None:
            assert hole.number not in circles, (seed, hole.number)
            continue
        layer, size_in = circles[hole.number]
        assert size_in == pytest.approx(first, abs=6e-4), (seed, hole.number)
        is_final = all(card[hole.number, part][0][0] == "final" for part in hole.stack)
        assert layer is (Layer.DRILL_FINAL if is_final else Layer.DRILL_PILOT), (seed, hole.number)


def template_drills_the_same(layout, making, card, seed):
    pilots = {hole.name: hole.diameter_in for hole in template_part(making).pilots}
    pin = layout.job.template.pin
    for hole in layout.holes:
        first, pilot = first_of(hole, card), pilots.get(f"{hole.kind} {hole.number}")
        if first is None:
            assert pilot is None, (seed, hole.number)
        elif pilot is not None and not (pin and pin.inch > first + 6e-4):
            assert pilot == pytest.approx(first, abs=6e-4), (seed, hole.number)
        elif pilot is not None:
            stops = [one for one in pilot_findings(making) if one.status is Status.STOP]
            assert any(hole.number in one.holes for one in stops), (seed, hole.number)
    made = on_machine(making, set(pilots.values()))
    assert {name: made[name] for name in pilots} == pytest.approx(pilots)
    on_paper = sorted(
        part.diameter_in
        for part in template_sheet(making, (), date="").parts()
        if isinstance(part, Circle) and part.layer is Layer.DRILL_PILOT
    )
    assert on_paper == pytest.approx(sorted(pilots.values())), seed


def test_the_jobs_are_of_every_kind():
    """Whatever a change of the tables may do, the jobs keep holes with every operation, and holes that nobody knows."""
    seen = set()
    for seed in range(0, JOBS, 5):
        layout = lay_out(job_of(random_job(seed)))
        for chain in on_table(layout, hole_tables(layout, {})).values():
            seen |= {(does, drill is not None) for does, drill in chain}
    every = {(does, True) for does in ("pilot", "open", "final", "ream")}
    assert seen >= every | {(does, False) for does in ("open", "final", "dimple", "countersink", "not known")}


@pytest.mark.parametrize(
    ("entered", "parts", "lead"),
    [
        ({}, ("cover", "skin"), "template"),
        (
            {"cover.holes_from": "inside", "cover.holes_reason": "no clamp reaches the blank"},
            ("skin",),
            "skin",
        ),
    ],
)
def test_the_template_drills_only_the_sheets_that_the_card_drills_through_it(entered, parts, lead):
    on = {"cutter": {**CUTTER, "template": "female"}, "template": TEMPLATE}
    layout = lay_out(job_of(changed(LAPPED, {**entered, **on})))
    making = making_of(layout)
    ((_, of), numbers), *others = through_which(drilled_through(making)).items()
    assert (of, others) == (parts, [])
    assert len(numbers) == len(layout.holes)
    recipe = job_recipe(layout, making)
    assert {kind.leads for kind in recipe.kinds} == {(lead, "template")}
    table = template_holes_sheet(making, date="").tables[0]
    led = {part: through for part, through, _ in table.rows}
    assert (led["cover"] == "none") is ("cover" not in parts)
