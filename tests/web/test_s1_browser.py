"""Scenario S1 in one journey through the real browser, from the directive to the signed record, and what it left.

A directive with its due line, the layout, the weight, nine hold points with a second person, the count, readings that
stop it and readings that don't, the finished work signed with its papers; then chain and PDFs are read without the
page.
"""

from __future__ import annotations

import re
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime
from io import BytesIO

import pytest
from pypdf import PdfReader

from hatchwright.records.people import Role
from hatchwright.records.store import Store
from hatchwright.records.verify import verify
from hatchwright.workflow.people import name_person, signer
from tests.signing import AS_FILED, AS_MENDED, DRAWN, INSPECTOR, MECHANIC, OTHER_PHRASE, PHRASE
from web.test_axe import faults
from web.test_browser import chromium, expect, folder, page, server  # noqa: F401

pytestmark = pytest.mark.browser

REGISTRATION, SERIAL = "N101HW", "1001"
FLEET = """\
schema = 1
title = "Rear spar, lower skin"

[balance]
datum = "front face of the firewall"
job_arm = "93.0"
mean_chord = "58.0"
power = "165"

[[balance.limits]]
weight = "2400"
forward = "82.0"
aft = "94.0"

[[balance.loading]]
name = "pilot"
kind = "crew"
arm = "85"
most = "170"
least = "170"

[[mandates]]
number = "M-101"
effective = "2026-01-05"
revision = "C"
applies_to = "serials 1001 to 1050"
read_by = "A. Mechanic"
checked_by = "B. Inspector"

[[mandates.actions]]
paragraph = "g"
asks = "Inspect the rear spar between ribs 3 and 4"
first = { hours = "100" }
repeat = { hours = "500" }

[[aircraft]]
registration = "N101HW"
serial = "1001"
weight = { empty_weight = "1438.0", empty_arm = "85.6" }
readings = [{ date = "2026-01-05", hours = "3790.0" }, { date = "2026-03-09", hours = "3812.4" }]
applies = [{ mandate = "M-101", applies = true, reason = "serial listed", by = "A. Mechanic", hours = "3790.0" }]
lines = [{ side = "left", job = "alder.toml" }]
"""
DONE = """
[[aircraft.done]]
mandate = "M-101"
paragraph = "g"
date = "2026-03-09"
hours = "3812.4"
method = "B-7"
revision = "C"
by = "A. Mechanic"
"""
FIRST_DUE, NEXT_DUE = "3890.0", "4312.4"
"""3790.0 + 100 hours from the effective date, and 3812.4 + 500 from the hour at which it was done (case C-09: never
from the hour at which it was due)."""
INITIALS = {MECHANIC: "AM", INSPECTOR: "BI"}
PHRASES = {MECHANIC: PHRASE, INSPECTOR: OTHER_PHRASE}


def of_aircraft(text: str) -> str:
    return text.replace("EXAMPLE-1", REGISTRATION).replace('serial = "0001"', f'serial = "{SERIAL}"')


def words_in(pdf: bytes) -> str:
    pages = PdfReader(BytesIO(pdf)).pages
    return re.sub(r"\s+", " ", " ".join(one.extract_text() for one in pages))


class Records:
    """The page of the records in a person's hands."""

    def __init__(self, page, root):  # noqa: F811
        self.page, self.address = page, f"{root}/job/alder.toml/records"

    def open(self) -> None:
        self.page.goto(self.address)

    def press(self, who: str, button) -> str:
        """Type who signs and press a button; what the page says then."""
        self.page.get_by_label("Name", exact=True).fill(who)
        self.page.get_by_label("Pass phrase", exact=True).fill(PHRASES[who])
        self.page.get_by_label("Initials", exact=True).fill(INITIALS[who])
        with self.page.expect_navigation():
            button.click()
        return self.page.locator(".record-done, .faults").inner_text()

    def button(self, named: str):
        return self.page.get_by_role("button", name=named, exact=True)

    def hold(self, name: str, who: str) -> str:
        return self.press(who, self.page.locator(f'[data-hold="left:{name}"] button'))

    def count(self, way: str, n: int) -> str:
        self.page.get_by_label("What", exact=True).fill("drill bits")
        self.page.get_by_label("How many").fill(str(n))
        return self.press(MECHANIC, self.button(f"Count {way}"))


def text_entered(page, root: str, text: str) -> None:  # noqa: F811
    """The job as somebody types it into its text."""
    page.goto(f"{root}/job/alder.toml/text")
    page.locator("#job-text").fill(text)
    with page.expect_navigation():
        page.get_by_role("button", name="Save").click()


def test_s1_from_the_directive_to_the_signed_record(page, server, folder, capsys):  # noqa: F811
    (folder / "rear-spar.fleet").write_text(FLEET, encoding="utf-8")
    root, records = server.root, Records(page, server.root)
    due = [sys.executable, "-m", "hatchwright", "due", str(folder / "rear-spar.fleet"), "--on", "2026-03-09"]
    assert FIRST_DUE in subprocess.run(due, capture_output=True, text=True, check=False).stdout

    # The layout: the drawn job of this aircraft, with nothing that stops it.
    text_entered(page, root, of_aircraft(DRAWN))
    page.goto(f"{root}/job/alder.toml/")
    expect(page.locator("#headlines")).to_contain_text("No STOP found")
    expect(page.locator("#headlines")).not_to_contain_text("DO NOT CUT")

    # The plan is signed: who signs first is named by it.
    records.open()
    assert faults(page) == []
    page.get_by_label("Pass phrase again").fill(OTHER_PHRASE)
    page.get_by_label("Certificate, kind and number").fill("IA 7654321")
    assert "in the records" in records.press(INSPECTOR, records.button("Sign the plan"))
    with ThreadPoolExecutor(1) as thread:  # the browser's loop runs in this one
        thread.submit(named, folder).result()

    # Work: holds in their order, by two where two are asked; a wrong person and an early signature are refused.
    records.open()
    assert "in the records" in records.count("in", 6)
    for name in ("data", "pilot", "opening", "inspection", "doubler", "fasteners", "hidden"):
        assert "in the records" in records.hold(name, MECHANIC), name
    assert "a second person has to" in records.hold("hidden", MECHANIC)
    assert "in the records" in records.hold("hidden", INSPECTOR)
    assert "An inspector passes this hold" in records.hold("final", MECHANIC)
    assert "Final inspection: not initialed." in records.press(
        INSPECTOR, records.button("Sign the finished work")
    )
    assert "in the records" in records.hold("final", INSPECTOR)
    assert "in the records" in records.hold("release", INSPECTOR)

    # As it was drilled three rivets are short: nobody signs that. Then it is read as it was mended.
    text_entered(page, root, of_aircraft(AS_FILED))
    records.open()
    told = records.press(INSPECTOR, records.button("Sign the finished work"))
    assert all(f"Rivet {number} " in told for number in (4, 6, 15))
    assert "drill bits: 6 in, not counted out." in told
    text_entered(page, root, of_aircraft(AS_MENDED))
    (folder / "rear-spar.fleet").write_text(FLEET + DONE, encoding="utf-8")
    records.open()
    assert "in the records" in records.count("out", 6)
    assert "in the records" in records.press(INSPECTOR, records.button("Sign the finished work"))
    for width in (1280, 390):
        page.set_viewport_size({"width": width, "height": 844})
        assert page.evaluate("document.documentElement.scrollWidth") <= width
    assert faults(page) == []

    # A signed revision can be read and not changed; its files come out as they were signed.
    page.get_by_role("link", name=re.compile("the finished work, SIGNED by B. Inspector")).click()
    expect(page.locator("textarea")).to_have_attribute("readonly", "")
    files = {}
    for link in page.locator(".record-files a").all():
        answer = page.request.get(link.evaluate("(one) => one.href"))
        assert answer.status == 200
        assert answer.headers["content-disposition"].startswith("attachment")
        files[link.inner_text()] = answer.body()
    assert len(page.troubles) == 4  # the refusals above, which a browser calls so
    assert all("409 (Conflict)" in one for one in page.troubles)
    left_behind(folder, files)


def named(folder) -> None:  # noqa: F811
    """The inspector names the mechanic, as the command for the shop does."""
    store = Store.opened(folder)
    by = signer(store.people(), INSPECTOR, OTHER_PHRASE)
    how = {"name": MECHANIC, "role": Role.MECHANIC, "pass_phrase": PHRASE, "certificate": "A&P 1234567"}
    name_person(folder, by=by, now=datetime.now(UTC), **how)
    store.close()


def left_behind(folder, files: dict[str, bytes]) -> None:  # noqa: F811
    """What lies on disk and came out of the browser, without the page."""
    assert files["alder.toml"] == (folder / "alder.toml").read_bytes()
    pdfs = {name: words_in(content) for name, content in files.items() if name.endswith(".pdf")}
    record = next(words for name, words in pdfs.items() if "_RECORD_" in name)
    assert NEXT_DUE in record
    assert "IA 7654321" in record
    assert re.search(r"empty 1,?438(\.0+)? lb at 85\.60", record), record[-9000:]
    head = re.search(r"[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}", record)[0]

    def checked():
        store = Store.opened(folder)
        try:
            return verify(store, printed=head), [one.kind for one in store.entries(about="alder.toml")]
        finally:
            store.close()

    with ThreadPoolExecutor(1) as thread:
        found, kinds = thread.submit(checked).result()
    assert found.is_sound, found.faults
    assert found.printed_seq == found.entries - 1  # printed on the papers before the last signature stood
    assert kinds.count("hold") == 12
    assert kinds.count("signed") == 2
