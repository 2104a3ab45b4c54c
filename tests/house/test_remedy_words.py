"""No advice orders a change of the design by itself: that is said by what was tried on the job, or by nobody."""

from __future__ import annotations

import re

from tests.house.test_words import ENTRIES, plain

ORDERS = (
    "Widen", "Narrow", "Move", "Shift", "Close up", "Put", "Lay out", "Enlarge", "Shrink", "Use", "Choose", "Extend",
    "Trim", "Respace", "Space", "Stagger", "Add", "Make", "Dimple", "Countersink", "Run", "Turn", "Change", "Pick up",
    "Thicken", "Lengthen", "Shorten", "Aim for",
)  # fmt: skip
"""Verbs that begin an order to change what is drawn."""

OF_RULES = (
    "rules.po",
    "rules_count.po",
    "rules_cover.po",
    "rules_edge.po",
    "rules_place.po",
    "rules_rivets.po",
)
NO_ADVICE = re.compile(r"\.(?:title|asks|passes|fails|boundary)$")

MAY_STAND = {
    "behind.move_it": "a line behind the skin is no part of the design",
    "depth.too_near": "the same",
    "scope.shield_lines": "how to work, with which tools",
    "screw_torque.where_none_is_given": "which figure to work to",
    "screw_torque.take_manufacturers": "the same",
    "screw_hole.no_drills": "which figure to work to, and a row of the shop's own table",
    "dimple.tight_die": "a tool",
    "dimple.try_on_scrap": "a trial",
    "flush.enter_preparation": "what to enter",
    "choice.choose_one": "a reading of the documents",
    "cover_over.screws_into_member": "the words of the document itself, told of what passes",
    "square.from_one_corner": "how to mark out, not what",
}
"""Advice that begins with such a verb and changes nothing that is drawn, with why."""


def orders(text: str) -> list[str]:
    """Every order at the beginning of a sentence, or after "or"."""
    verbs = "|".join(ORDERS)
    return re.findall(rf"(?:^|[.;:] |\bor )({verbs})\b", text) + re.findall(
        rf", or ({verbs.lower()})\b", text, re.IGNORECASE
    )


def test_no_advice_of_a_rule_orders_a_change_of_the_design():
    found = {
        one.id: orders(plain(form))
        for one in ENTRIES
        for form in one.forms
        if one.file in OF_RULES and not NO_ADVICE.search(one.id) and orders(plain(form))
    }
    assert {id: told for id, told in found.items() if id not in MAY_STAND} == {}
    assert set(MAY_STAND) <= set(found), "allowed and not there any more"


def test_nobody_is_told_to_check_again_what_nobody_tried():
    assert [one.id for one in ENTRIES for form in one.forms if "then check again" in form] == []


def test_a_remedy_tells_two_numbers_and_that_it_was_tried():
    """Every change is a noun phrase with an old and a new value, and only the sentences about it are told."""
    changes = [one for one in ENTRIES if one.file == "remedies.po" and one.id.startswith("remedy.")]
    assert len(changes) > 20
    sentences = {one.id for one in changes for form in one.forms if form.endswith(".")}
    assert sentences == {"remedy.tried", "remedy.same"}
    parts = {"remedy.size", "remedy.diameter"} | sentences
    for one in changes:
        for form in one.forms:
            if one.id not in parts and "stagger" not in one.id:
                assert "{old" in form, one.id
                assert "{new" in form, one.id


def test_the_orders_that_stood_here_are_found():
    """What the issue found: each of these stood in the catalog."""
    assert orders("The land is too narrow here for 2D. Widen it or move the screws, then check again.")
    assert orders("Close up the pitch before drilling, then check again.")
    assert orders("Don't drill: the head can't seat on a flange edge. Move the row clear.")
    assert orders("The screw end hits it. Use shorter screws, or move the screws.")
    assert not orders("Ask the design approval holder (TC or STC) or a DER for a disposition.")
