"""Two people enter in one fleet or one text at once: neither takes back unseen what the other has entered."""

from __future__ import annotations

import pytest

from hatchwright.job.fleet.fleet import Fleet
from hatchwright.records.people import Role
from hatchwright.workflow.people import name_person, signer
from security.browsing import form_of
from security.shop import INSPECTOR, MECHANIC, NOW, PHRASES
from web.job_pages import Document

OTHER, OTHERS = "E. Mechanic", "anvil dimple forty larch"
FLEET = "/fleet/wing.fleet"


@pytest.fixture
def both(shop):
    """Two browsers in which two mechanics are logged in, before a fleet of two aircraft."""
    by = signer(shop.staff.people(), INSPECTOR, PHRASES[INSPECTOR])
    name_person(shop.folder, by=by, name=OTHER, role=Role.MECHANIC, pass_phrase=OTHERS, now=NOW)
    first, second = shop.browser(MECHANIC), shop.outside()
    assert shop.log_in(second, OTHER, OTHERS).status == 302
    new = {"title": "Wing", "pattern": "alder.toml", "aircraft": "N101HW 1001\nN102HW 1002\n"}
    assert shop.send(first, "/fleets", new).header("location").startswith(FLEET)
    return first, second


def form(page: str, what: str) -> dict[str, str]:
    """Everything that a form of the fleet pages sends as it stands."""
    forms: list[dict[str, str]] = []
    for one in Document(page).elements:
        of = one.attributes
        if one.tag == "form":
            forms.append({})
        elif one.tag in ("input", "select") and of.get("name") and of.get("type") != "checkbox":
            forms[-1][of["name"]] = of.get("value") or ""
    return next(one for one in forms if one.get("what") == what)


def fleet_of(shop) -> Fleet:
    return Fleet.read((shop.folder / "wing.fleet").read_text(encoding="utf-8"))


def test_a_board_that_is_sent_again_keeps_what_another_has_entered_meanwhile(shop, both):
    first, second = both
    mine, theirs = (form(one.ask(f"{FLEET}/").text, "board") for one in both)
    theirs |= {"who:N101HW-right": OTHER, "waiting_for:N101HW-left": "the shear"}
    assert second.ask(f"{FLEET}/enter", theirs).status == 302
    refused = first.ask(
        f"{FLEET}/enter", {**mine, "who:N101HW-left": MECHANIC, "waiting_for:N101HW-left": "bits"}
    )
    assert refused.status == 409
    assert f"{OTHER} has saved a change" in refused.text
    assert "Changed meanwhile to: the shear" in refused.text
    assert refused.text.count("Changed meanwhile") == 1
    again = form(refused.text, "board")
    assert again["who:N101HW-left"] == MECHANIC
    assert first.ask(f"{FLEET}/enter", again).status == 302
    left, right = fleet_of(shop).aircraft[0].lines
    assert (left.who, left.waiting_for, right.who) == (MECHANIC, "bits", OTHER)


def test_weights_that_are_sent_again_keep_what_another_has_weighed_meanwhile(shop, both):
    first, second = both
    mine, theirs = (form(one.ask(f"{FLEET}/balance").text, "weights") for one in both)
    weighed = {"N102HW:empty_weight": "1412.5 lb", "N102HW:empty_arm": "38.2 in"}
    assert second.ask(f"{FLEET}/balance/enter", theirs | weighed).status == 302
    own = {"N101HW:empty_weight": "1408.0 lb", "N101HW:empty_arm": "38.1 in"}
    refused = first.ask(f"{FLEET}/balance/enter", mine | own)
    assert refused.status == 409
    assert first.ask(f"{FLEET}/balance/enter", form(refused.text, "weights")).status == 302
    texts = [one.weight and one.weight.empty_weight.text for one in fleet_of(shop).aircraft]
    assert texts == ["1408.0 lb", "1412.5 lb"]


def test_who_took_a_step_of_a_fleet_back_is_told_by_name(shop, both):
    first, second = both
    second.ask(f"{FLEET}/enter", {**form(second.ask(f"{FLEET}/").text, "board"), "who:N101HW-left": OTHER})
    mine = form(first.ask(f"{FLEET}/").text, "board")
    assert second.ask(f"{FLEET}/enter", form(second.ask(f"{FLEET}/").text, "undo")).status == 302
    refused = first.ask(f"{FLEET}/enter", {**mine, "who:N102HW-left": MECHANIC})
    assert f"{OTHER} has saved a change" in refused.text


@pytest.mark.parametrize("page", [f"{FLEET}/text", "/job/dogwood.toml/text"])
def test_of_two_texts_both_are_shown_and_one_is_chosen(shop, both, page):
    """Neither is lost, and who was second is not left with a page that can never be saved."""
    first, second = both
    file = shop.folder / page.split("/")[2]
    held = file.read_text(encoding="utf-8")
    mine, theirs = (form_of(one.ask(page).text, "/text") for one in both)
    assert second.ask(page, {**theirs, "text": f"{held}# of the other\n"}).status == 302
    refused = first.ask(page, {**mine, "text": f"{held}# of the first\n"})
    assert refused.status == 409
    assert f"{OTHER} has saved a change" in refused.text
    assert "# of the first" in refused.text
    assert "# of the other" in refused.text
    assert file.read_text(encoding="utf-8").endswith("# of the other\n")
    assert (
        first.ask(page, {**form_of(refused.text, "/text"), "text": f"{held}# of the first\n"}).status == 302
    )
    assert file.read_text(encoding="utf-8").endswith("# of the first\n")
