"""Steps of the work card after the opening is finished: holes, protection, rivets, cover, closing up."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.documents.mount_steps import form_bracket, prove_mount
from hatchwright.documents.step import Step, cited, quoted
from hatchwright.drawings.figures import Unit, figure, unit_of
from hatchwright.drawings.hole_table import drills_of, fastener_words
from hatchwright.errors import TableError
from hatchwright.job.fasteners import Screws
from hatchwright.layout.layout import Hole, Layout
from hatchwright.layout.survey import survey
from hatchwright.rules.rivet_length import heads_by_reading, lengths_needed
from hatchwright.tables.driven_heads import DrivenHead, driven_head_limits
from hatchwright.tables.rivets import hole_range, parse_rivet
from hatchwright.tables.screws import torque
from hatchwright.tables.table import ShopTables


def fastening_steps(layout: Layout) -> Iterator[Step]:
    """The steps after the opening is finished, those that apply to the job.

    Args:
        layout: as derived.
    Yields:
        Step: in the order of the work.
    """
    rivets, kinds = layout.holes_of("rivet"), _kinds(layout)
    screws = layout.job.cover.screws if layout.job.cover else None
    if layout.holes:
        yield from _holes(layout, kinds)
    if any(_is_flush(hole, layout) for hole in kinds.values()):
        yield Step(
            "Dimple or countersink",
            (
                f"{_flush_words(layout, kinds)}. {quoted('rule_head_vs_sheet')}",
                quoted("depth_check"),
                quoted("dimple_cracks"),
                quoted("flush_head_level"),
                *((quoted("hot_dimple_materials"),) if any(p.alloy == "7075" for p in layout.parts) else ()),
            ),
        )
    yield from form_bracket(layout)
    if layout.job.doubler or layout.job.cover:
        yield _protection(layout)
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


def _kinds(layout: Layout) -> dict[str, Hole]:
    """One hole of each fastener, drill and stack."""
    kinds: dict[str, Hole] = {}
    for hole in layout.holes:
        kinds.setdefault(fastener_words(hole, layout), hole)
    return kinds


def _count(layout: Layout, words: str) -> int:
    return sum(fastener_words(hole, layout) == words for hole in layout.holes)


def _holes(layout: Layout, kinds: dict[str, Hole]) -> Iterator[Step]:
    """Transfer, pilot, match-drill, and open to the final size."""
    unit, deburr = unit_of(layout.job), layout.limit("deburr_depth_max_fraction")
    if layout.job.doubler is not None:
        yield Step(
            "Mark and pilot the skin first, then transfer to the doubler",
            (
                "Mark each hole on the skin from both datums, look at its distance to the edge that is "
                "there, pilot it, and "
                "transfer it to the doubler; a doubler can be made again. [common practice, no source]",
                quoted("centre_punch"),
            ),
        )
    yield Step(
        "Pin and match-drill outward",
        (
            *(f"{_count(layout, words)} x {words}." for words in kinds),
            quoted("pilot_practice"),
            quoted("drill_from_centre_out"),
            f"A temporary fastener in one of {layout.limit('temporary_fastener_every_min').value:g} to "
            f"{layout.limit('temporary_fastener_every_max').value:g} holes, no screws as clamps. "
            f"{quoted('backing_block')}",
        ),
    )
    yield Step(
        "Open to the final size, take apart, deburr",
        (
            *(words for words in (_final_words(hole, layout, unit) for hole in kinds.values()) if words),
            f"{quoted('hole_round_straight_crack_free')} Deburr no deeper than {deburr.value:.0%} of the sheet, nor "
            f"than {figure(layout.limit('deburr_depth_max_abs').value, unit)} {unit}. "
            f"{cited(deburr.source, deburr.grade)}",
        ),
        ("holes over size, numbers",),
    )


def _final_words(hole: Hole, layout: Layout, unit: Unit) -> str:
    """The final drill of a fastener, and between what the hole must lie."""
    final = drills_of(hole, layout).final
    drill = (
        f"{hole.fastener}: final drill {final.words(unit)}" if final else f"{hole.fastener}: drill not listed"
    )
    if hole.kind == "screw":
        return f"{drill}."
    try:
        found = hole_range(hole.diameter_in, layout.shop)
    except TableError:
        return f"{drill}; no hole limits are listed for this rivet."
    low, high = figure(found.least_in, unit), figure(found.greatest_in, unit)
    return f"{drill}, finished hole {low} to {high} {unit} {cited(found.source, found.grade)}."


def _is_flush(hole: Hole, layout: Layout) -> bool:
    if hole.kind == "rivet":
        return parse_rivet(hole.fastener).is_flush
    screws = layout.job.cover.screws if layout.job.cover else None
    return screws is not None and screws.head == "100 degree flush"


def _flush_words(layout: Layout, kinds: dict[str, Hole]) -> str:
    return "; ".join(
        f"{hole.fastener}, flush, through {' + '.join(hole.stack)}"
        for hole in kinds.values()
        if _is_flush(hole, layout)
    )


def _protection(layout: Layout) -> Step:
    outside = layout.job.doubler is not None and layout.job.doubler.face == "outside"
    return Step(
        "Clean, treat, prime, seal",
        (
            quoted("corrosion_step_1"),
            quoted("corrosion_step_2"),
            quoted("corrosion_step_3"),
            quoted("corrosion_step_4"),
            quoted("corrosion_step_8") if outside else quoted("corrosion_step_7"),
            quoted("rivets_not_watertight"),
        ),
        ("primer, batch and expiry", "sealant, batch and expiry"),
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
            f"Grip {figure(length.grip_in, unit)}, calculated length {figure(length.calculated_in, unit)} {unit} "
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
        f"{word} {figure(value, unit)}"
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
        lines.append(f"Gap {figure(cover.gap.inch, unit)} all round.")
    if screws is not None:
        length = f" x {figure(screws.length.inch, unit)}" if screws.length else ""
        lines.append(
            f"{len(layout.holes_of('screw'))} screws {screws.size}{length}, {screws.head} head, "
            f"{screws.nut}. "
            "Start all by hand, tighten crosswise. No screw may reach what lies behind."
        )
        if "nutplate" in screws.nut:
            lines.append(quoted("nutplate_pilot_first"))
        lines.append(_torque_words(screws, layout.shop))
        lines += [quoted(key) for key in ("torque_clean_dry", "torque_wrench_calibration", "lock_washers")]
        lines.append(quoted("self_locking_nut_access_panels"))
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
