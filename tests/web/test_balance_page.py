"""The page of a fleet's weight and balance: entered in two forms, worked out, and its sheet handed out."""

from __future__ import annotations

import io
import tomllib

import pypdfium2
import pytest

from web.job_pages import Document

FLEET = """schema = 1
title = "Wing openings"
pattern = "alder.toml"

[[aircraft]]
registration = "N101HW"
serial = "101"

[[aircraft.lines]]
side = "left"

[[aircraft.lines]]
side = "right"
"""
COMMON = {
    "what": "common",
    "datum": "firewall",
    "job_arm": "93.0",
    "mean_chord": "58.0",
    "limits": "weight; forward; aft\n2100; 82.0; 90\n2400; 84; 90\n",
    "loading": "pilot; crew; 85; 170; 170\nrear seats; passengers; 118; 340;; 170\nfuel; fuel; 95; 40 gal; 82.5\n",
}
WEIGHTS = {
    "what": "weights",
    "N101HW:empty_weight": "1438.0",
    "N101HW:empty_arm": "85.6",
    "N101HW:recorded": "2025-11-30",
}


@pytest.fixture
def fleet(folder):
    path = folder / "wings.fleet"
    path.write_text(FLEET, encoding="utf-8")
    return path


def page(client):
    return client.get("/fleet/wings.fleet/balance").content.decode()


def base(client):
    boxes = Document(page(client)).elements
    return next(one for one in boxes if one.attributes.get("name") == "base").attributes["value"]


def entered(client, sent, **more):
    return client.post("/fleet/wings.fleet/balance/enter", {"base": base(client), **sent, **more})


def test_what_is_entered_is_worked_out_and_printed(client, fleet):
    for sent in (COMMON, WEIGHTS):
        assert entered(client, sent).status_code == 302
    saved = tomllib.loads(fleet.read_text(encoding="utf-8"))
    assert [one["weight"] for one in saved["balance"]["limits"]] == ["2100", "2400"]
    assert saved["balance"]["loading"][1:] == [
        {"name": "rear seats", "kind": "passengers", "arm": "118", "most": "340", "each": "170"},
        {"name": "fuel", "kind": "fuel", "arm": "95", "volume": "40 gal", "least": "82.5"},
    ]
    assert saved["aircraft"][0]["lines"] == [{"side": "left"}, {"side": "right"}]
    rows = [one.text for one in Document(page(client)).elements if one.tag in ("th", "td")]
    at = rows.index("Empty, by the record of 2025-11-30")
    assert rows[at + 1 : at + 5] == ["1,438 lb", "", "85.600", "123,092.8 lb-in"]
    # rearward by hand: both wings, pilot, rear seats and full fuel, all but the empty aircraft behind the limit of 90
    weight_lb = 1438.0 + 2 * 0.2779 + 170 + 340 + 240
    cg_in = (1438.0 * 85.6 + 2 * 0.2779 * 97.5 + 170 * 85 + 340 * 118 + 240 * 95) / weight_lb
    assert f"worst loading rearward, rearward limit. Is {cg_in:.3f} in" in page(client)
    answer = client.get("/fleet/wings.fleet/balance/N101HW/right")
    assert answer["Content-Type"] == "application/pdf"
    with pypdfium2.PdfDocument(io.BytesIO(answer.content)) as pdf:
        assert "RIGHT" in pdf[0].get_textpage().get_text_range()
    before = fleet.read_text(encoding="utf-8")
    boxes = {one.attributes["name"]: one.attributes.get("value", "") for one in Document(page(client)).elements
             if one.tag == "input" and ":" in one.attributes.get("name", "")}  # fmt: skip
    assert entered(client, {"what": "weights", **boxes}).status_code == 302
    assert fleet.read_text(encoding="utf-8") == before  # what stands in the boxes changes nothing


def test_what_is_refused_stays_in_its_box_and_nothing_is_written(client, fleet):
    answer = entered(client, COMMON, job_arm="ninety")
    assert answer.status_code == 400
    told = answer.content.decode()
    assert "<strong>Arm of the job&#39;s origin</strong>: This is not a length." in told
    (box,) = (one for one in Document(told).elements if one.attributes.get("name") == "job_arm")
    assert (box.attributes["value"], box.attributes["aria-invalid"]) == ("ninety", "true")
    answer = entered(client, COMMON, limits="2400; 84; 90\n2100; 82; 90\n")
    assert "do not increase" in answer.content.decode()
    assert fleet.read_text(encoding="utf-8") == FLEET


def test_another_ones_change_is_not_overwritten(client, fleet):
    stale = base(client)
    fleet.write_text(FLEET.replace('"101"', '"102"'), encoding="utf-8")
    assert entered(client, WEIGHTS, base=stale).status_code == 409
    assert "weight" not in fleet.read_text(encoding="utf-8")


@pytest.mark.parametrize("of", ["N101HW/center", "N9/left", "..%2Falder/left"])
def test_a_sheet_that_is_not_there_is_refused(client, fleet, of):
    for sent in (COMMON, WEIGHTS):
        entered(client, sent)
    assert client.get(f"/fleet/wings.fleet/balance/{of}").status_code in (404, 409)
