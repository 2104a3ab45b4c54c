"""S307, S817: hand analysis beside the circular's rule of the metal put back, and beside the finite elements."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from hatchwright.finding import Finding
from hatchwright.layout.cut_side import CountReading
from hatchwright.said import Amount, Numbered, Value, inch, said
from hatchwright.strength.checks.elements import NOT_A_MARGIN, hardest_rivet
from hatchwright.strength.checks.rivets import S202, Joints
from hatchwright.strength.checks.sheets import S302, S303, S306
from hatchwright.strength.doubler_section import doubler_section
from hatchwright.strength.factors import Factors
from hatchwright.strength.margin import Margin
from hatchwright.strength.opening_analysis import CaseAnalysis, OpeningAnalysis
from hatchwright.strength.site import Site
from hatchwright.strength.two_paths import (
    DOUBLER_PATHS,
    ELEMENT_PATHS,
    ORDER,
    Computed,
    Path,
    Reason,
    computed,
    governing,
    named,
    put_in,
    two_paths,
)


def doubler_paths(site: Site, margins: Sequence[Margin], findings: Sequence[Finding]) -> Iterator[Finding]:
    """The doubler's section by the metal put back, and by its margins.

    Args:
        site: with a doubler.
        margins: S302 and S303 among them.
        findings: S306 among them.
    Yields:
        Finding: S307 for each direction of load.
    Raises:
        HatchwrightError: a section lacks the size of a hole: its margin is a greatest strength, no path of its own.
    Method: docs/theory/two_paths.md, eq. 4.
    """
    for metal in findings:
        axis = named(metal, "axis")
        if metal.code != S306 or not metal.value or axis is None:
            continue
        straps = [one for one in margins if one.code in (S302, S303) and named(one, "axis") == axis]
        hand = governing(straps)
        missing = doubler_section(site, "XY".index(str(axis))).missing
        if missing is not None:
            raise missing
        if hand and (found := _doubler(site, str(axis), metal, hand)):
            yield found


def _doubler(site: Site, axis: str, metal: Finding, hand: Computed) -> Finding | None:
    assert site.doubler  # it has margins
    assert metal.value
    circular = Path(1.0 / metal.value, metal.source, metal.grade)
    width = put_in(hand.allowable, "w net")
    part = 1.0 if named(hand.margin, "leg") is None else 0.5  # half of the cut goes past each leg
    removed_in2 = site.skin.part.thickness_in * site.opening_in["YX".index(axis)] * part
    middle_in = part * doubler_section(site, "XY".index(axis)).width_in
    load_psi = hand.applied.value / removed_in2
    carried_psi = hand.allowable.value / (site.doubler.thickness_in * width["w net"])
    holes = said("two_paths.holes", width=inch(width["w"]), net=inch(width["w net"]))
    stress = said("two_paths.stress", load=Amount(load_psi, "psi"), carried=Amount(carried_psi, "psi"))
    return two_paths(
        DOUBLER_PATHS,
        circular,
        hand.path,
        (
            Reason("holes", width["w"] / width["w net"], holes),
            Reason("stress", load_psi / carried_psi, stress),
            Reason("section", middle_in / width["w"], said("two_paths.section", width=inch(width["w"]))),
        ),
        {"axis": axis, "circular": _percent(circular), "hand": _percent(hand.path)},
        advice=ORDER,
    )


def element_paths(
    site: Site, joints: Joints, margins: Sequence[Margin], analysis: OpeningAnalysis, factors: Factors
) -> Iterator[Finding]:
    """The hardest worked rivet at limit load, by hand and by the finite elements.

    Args:
        margins: S202 among them.
    Yields:
        Finding: S817 for each case.
    Method: docs/theory/two_paths.md, eq. 5.
    """
    for case in analysis.cases:
        hand = governing([one for one in margins if one.code == S202 and one.case == case.case.name])
        elements = computed(hardest_rivet(case, joints, factors))
        if hand and elements and (found := _rivet(site, case, hand, elements, factors)):
            yield found


def _rivet(
    site: Site, case: CaseAnalysis, hand: Computed, elements: Computed, factors: Factors
) -> Finding | None:
    side = next(side for side in site.sides if side.name == named(hand.margin, "side"))
    share = next(share for share in case.sides if share.side == side.name)
    counted_lbf = share.half_lbf if side.reading is CountReading.HALF else share.ahead_lbf
    drawn_lbf, load_lbf = counted_lbf * factors.joint.value, put_in(hand.applied)["P"]
    draw, weaker = drawn_lbf / load_lbf, hand.allowable.value / elements.allowable.value
    peak = elements.path.asks / hand.path.asks / draw / weaker
    rivet = Numbered("rivet", elements.margin.holes)
    told: dict[str, Value] = {"hand": _percent(hand.path), "elements": _percent(elements.path)}
    drawn = {"hand": Amount(load_lbf, "lbf"), "elements": Amount(drawn_lbf, "lbf")}
    yields = {
        "hand": Amount(hand.allowable.value, "lbf"),
        "elements": Amount(elements.allowable.value, "lbf"),
    }
    return two_paths(
        ELEMENT_PATHS,
        hand.path,
        elements.path,
        (
            Reason("draw", draw, said("two_paths.draw", side=side.name, **drawn)),
            Reason("peak", peak, said("two_paths.peak", rivet=rivet, times=Amount(round(peak, 2), ""))),
            Reason("yield", weaker, said("two_paths.rivet_yields", rivet=rivet, **yields)),
        ),
        {"case": case.name, "rivet": rivet, **told},
        advice=NOT_A_MARGIN if case.case.is_restored else said("two_paths.elements"),
        holes=elements.margin.holes,
    )


def _percent(path: Path) -> Amount:
    return Amount(100.0 * path.asks, "%", toward="up")
