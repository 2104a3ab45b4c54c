"""Steps of the work card after the opening is finished: parts, holes, protection, rivets, cover, closing up."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.documents.hole_steps import hole_steps
from hatchwright.documents.mount_steps import form_bracket, prove_mount
from hatchwright.documents.nutplate_steps import nutplate_ears, nutplate_rivets
from hatchwright.documents.part_steps import part_steps
from hatchwright.documents.step import Step, cited, quoted
from hatchwright.drawings.figures import Unit, figure, unit_of
from hatchwright.errors import TableError
from hatchwright.job.fasteners import Screws
from hatchwright.layout.layout import Layout
from hatchwright.layout.survey import survey
from hatchwright.making.making import Making
from hatchwright.rules.rivet_length import heads_by_reading, lengths_needed
from hatchwright.said import said
from hatchwright.tables.driven_heads import DrivenHead, driven_head_limits
from hatchwright.tables.instructions import instruction
from hatchwright.tables.rivets import parse_rivet
from hatchwright.tables.screws import torque
from hatchwright.tables.table import ShopTables
from hatchwright.units import length_words
from hatchwright.words.tell import tell, tell_all


def fastening_steps(layout: Layout, making: Making | None = None) -> Iterator[Step]:
    """The steps after the opening is finished, those that apply to the job.

    Yields:
        Step: in the order of the work.
    """
    rivets = layout.holes_of("rivet")
    screws = layout.job.cover.screws if layout.job.cover else None
    yield from part_steps(layout)
    yield from hole_steps(layout, making)
    yield from nutplate_ears(layout)
    yield from form_bracket(layout)
    if layout.job.doubler or layout.job.cover:
        yield _protection(layout)
    yield from nutplate_rivets(layout)
    if rivets:
        yield _rivet(layout)
        yield _inspect(layout)
    if layout.job.cover is not None:
        yield _cover(layout, screws)
    yield from prove_mount(layout)
    yield Step(
        "Clean out and look in",
        (
            "Vacuum, magnet, borescope, hand sweep. Controls full and free; lines and wires where they were; "
            "drain holes open. "
            "Count out everything that was counted in; do not close while anything is missing. [common "
            "practice, no source]",
            quoted("inspect_adjacent_rivets"),
        ),
        ("counted out, all there", "looked in by a second person"),
    )


def _protection(layout: Layout) -> Step:
    job = layout.job
    outside = job.doubler is not None and job.doubler.face == "outside"
    has_steel = job.cover is not None and job.cover.screws is not None and job.cover.screws.steel
    return Step(
        "Clean, treat, prime, seal",
        (
            quoted("corrosion_step_1"),
            quoted("corrosion_step_2"),
            quoted("corrosion_step_3"),
            _primer(),
            *((quoted("corrosion_step_8"),) if outside else ()),
            *((quoted("corrosion_step_5"), tell(said("steel_screws.install_wet"))) if has_steel else ()),
            quoted("rivets_not_watertight"),
        ),
        ("primer, batch and expiry", "sealant, batch and expiry"),
    )


def _primer() -> str:
    """How many coats: documents differ, and the card names one number, the greater, that meets both."""
    two, one = instruction("corrosion_step_4"), instruction("corrosion_step_7")
    return tell_all(
        (
            said("prime.two_coats", source=cited(two.source, two.grade)),
            said("prime.one_coat_elsewhere", source=cited(one.source, one.grade)),
        )
    )


def _rivet(layout: Layout) -> Step:
    """Part numbers with every length that documents would choose, and the order of riveting."""
    unit, formula = unit_of(layout.job), layout.limit("upset_allowance")
    choice, lines = layout.job.choice("R501"), []
    for hole, length in lengths_needed(survey(layout)):
        chosen = heads_by_reading(length).get(choice.reading) if choice else None
        heads = "; ".join(
            f"{hole.fastener}-{head.dash:g} makes a head of {head.diameter_in / hole.diameter_in:.2f} D at "
            "half a D high"
            for head in ((chosen,) if chosen else length.candidates)
        )
        lines.append(
            f"Grip {length_words(length.grip_in, unit)}, calculated length {figure(length.calculated_in, unit)} {unit} "
            f"{cited(formula.source, formula.grade)}. "
            + (
                f"Chosen: {choice.reading} (R501; {choice.reason.rstrip('.')}). {heads}. "
                "Set two on scrap of the same stack first."
                if choice and chosen
                else f"{'Documents differ on rounding' if len(length.candidates) > 1 else 'However it is rounded'}: "
                f"{heads}. Set two on scrap of the same stack before choosing."
            )
        )
    lines.append(
        "Pin every other hole. Rivet from the middles of the sides outward, opposite sides in turn, corners "
        "last; move the pins "
        "ahead. [common practice, no source]"
    )
    lines.append(quoted("rivet_set_cup"))
    return Step("Rivet", tuple(lines), ("length chosen", "lot"))


def _inspect(layout: Layout) -> Step:
    """Shop heads, as each document limits them."""
    unit = unit_of(layout.job)
    lines = []
    for part, diameter_in in sorted({(hole.fastener, hole.diameter_in) for hole in layout.holes_of("rivet")}):
        try:
            heads = driven_head_limits(diameter_in, letters=parse_rivet(part).letters, shop=layout.shop)
        except TableError:
            lines.append(f"{part}: no limits of the shop head are listed.")
            continue
        lines += [f"{part}, {words}" for head in heads if (words := _head_words(head, unit))]
    spoilt, gap = layout.limit("oversize_repair_limit_fraction"), layout.limit("rivet_head_gap")
    feeler = layout.limit("head_gap_feeler")
    lines.append(quoted("no_cracks_in_driven_rivet"))
    lines.append(
        f"Head and tail touch the sheet all round {cited(gap.source, gap.grade)}: a feeler of "
        f"{figure(feeler.value, unit)} {unit} goes nowhere under {cited(feeler.source, feeler.grade)}."
    )
    lines.append(
        "Take out bad rivets without opening the hole. Next size only where edge distance and spacing hold, "
        "in at most "
        f"{spoilt.value:.0%} of the rivets or {layout.limit('oversize_repair_limit_count').value:g}, whichever is "
        "less, "
        f"{layout.limit('oversize_adjacent_limit').value:g} side by side at most. "
        f"{cited(spoilt.source, spoilt.grade)}"
    )
    return Step("Inspect every rivet", tuple(lines), ("rivets replaced, numbers",))


def _head_words(head: DrivenHead, unit: Unit) -> str:
    said = [
        f"{word} {length_words(value, unit)}"
        for word, value in (
            ("diameter aim", head.head_aim_in),
            ("diameter at least", head.head_min_in),
            ("at most", head.head_max_in),
            ("height aim", head.height_aim_in),
            ("height at least", head.height_min_in),
            ("at most", head.height_max_in),
        )
        if value is not None
    ]
    return f"{head.document}: {', '.join(said)} {cited(head.source, head.grade)}" if said else ""


def _cover(layout: Layout, screws: Screws | None) -> Step:
    cover, unit = layout.job.cover, unit_of(layout.job)
    assert cover is not None  # asked before
    lines = []
    if cover.gap is not None:
        lines.append(f"Gap {length_words(cover.gap.inch, unit)} all round.")
    if screws is not None:
        length = f" x {length_words(screws.length.inch, unit)}" if screws.length else ""
        lines.append(
            f"{len(layout.holes_of('screw'))} screws {screws.size}{length}, {screws.head} head, "
            f"{screws.nut}. "
            "Start all by hand, tighten crosswise. No screw may reach what lies behind."
        )
        if screws.nut == "clip nut":
            lines.append(f"{len(layout.holes_of('screw'))} clip nuts, each pushed on as far as its reach.")
        lines.append(_torque_words(screws, layout.shop))
        lines += [quoted(key) for key in ("torque_clean_dry", "torque_wrench_calibration", "lock_washers")]
        if "nutplate" in screws.nut:
            lines.append(tell(said("self_locking.not_each_flight")))
    return Step("Fit the cover", tuple(lines), ("drag torque measured", "torque set", "flat all round"))


def _torque_words(screws: Screws, shop: ShopTables | None) -> str:
    try:
        found = torque(screws.size, shop=shop)
    except TableError:
        return (
            f"No torque is published for {screws.size} here: take the maker's. "
            f"{quoted('torque_when_no_maker_value')}"
        )
    return (
        f"Torque {found.least_in_lbf:g} to {found.greatest_in_lbf:g} in-lbf plus drag "
        f"{cited(found.source, found.grade)}. "
        f"{quoted('torque_when_no_maker_value')}"
    )
