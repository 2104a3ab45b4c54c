"""The whole of an example job entered by keyboard alone, from the first page to the last reading."""

from __future__ import annotations

import tomllib

import pytest

from web.conftest import EXAMPLES
from web.test_browser import chromium, entered, expect, folder, page, saved, server  # noqa: F401

pytestmark = pytest.mark.browser

HERE = """() => {
  const at = document.activeElement, fold = at.closest("details");
  return {
    id: at.id, tag: at.tagName, value: at.value ?? "", name: at.name ?? "", text: at.textContent.trim(),
    path: (at.closest("[data-path]") || {dataset: {}}).dataset.path ?? "",
    inside: Boolean(at.closest("#entries")), folded: at.tagName === "SUMMARY" && !fold.open,
    missing: Boolean(at.closest(".absent")),
  };
}"""
PARTS = (
    """() => [...document.querySelectorAll("#entries .stage > [data-path]")].map((one) => one.dataset.path)"""
)
MOST_STOPS = 400


def flat(value, path="") -> dict[str, str]:
    """Every entry of a job by its dotted path, as it stands in its box."""
    if isinstance(value, dict):
        return {at: one for name, inner in value.items() for at, one in flat(inner, f"{path}.{name}").items()}
    if isinstance(value, list):
        return {at: one for n, inner in enumerate(value) for at, one in flat(inner, f"{path}.{n}").items()}
    return {
        path.lstrip("."): {True: "yes", False: "no"}.get(value, str(value))
        if isinstance(value, bool)
        else str(value)
    }


class Keys:
    """Somebody who has a keyboard and nothing else."""

    def __init__(self, page, wanted: dict) -> None:  # noqa: F811
        self.page, self.entries = page, flat(wanted)
        self.sections = {path.rpartition(".")[0] for path in self.entries}

    def here(self) -> dict:
        """What has the focus."""
        return self.page.evaluate(HERE)

    def tab_to(self, is_it) -> dict:
        """Go on with Tab until something has the focus."""
        for _ in range(MOST_STOPS):
            at = self.here()
            if is_it(at):
                return at
            self.page.keyboard.press("Tab")
        raise AssertionError(f"no way by keyboard from {at}")

    def press_and_wait(self, key: str = "Enter") -> None:
        """Press something that opens a page."""
        with self.page.expect_navigation():
            self.page.keyboard.press(key)

    def open_list(self) -> None:
        """Turn to the list of all entries."""
        if self.page.locator("#to-all").is_visible():
            self.page.keyboard.press("Escape")
        elif self.page.locator("#bench").get_attribute("data-face") != "entries":
            self.tab_to(lambda at: at["text"] == "Entries" and at["tag"] == "BUTTON")
            self.page.keyboard.press("Enter")

    def open(self, part: str) -> None:
        """Open the tag of a part from the list."""
        self.open_list()
        self.tab_to(lambda at: at["tag"] == "SUMMARY" and at["path"] == part and at["inside"])
        self.page.keyboard.press("Enter")

    def lines(self, part: str) -> int:
        """How many lines a list has."""
        found = self.page.evaluate(PARTS.replace(".stage > [data-path]", "[data-path]"))
        return sum(one.rpartition(".")[0] == part and one.rpartition(".")[2].isdigit() for one in found)

    def fill(self, part: str) -> bool:
        """Go through a tag from its first box to its last; whether it has other boxes now, so that it is gone through
        again."""
        is_another = False
        for _ in range(MOST_STOPS):
            at = self.here()
            if not at["inside"]:
                return is_another
            name = at["name"].removeprefix("job.")
            if at["missing"] and at["value"].removeprefix("add:") in self.sections:
                self.press_and_wait()
                return True
            if at["folded"] and at["path"].startswith(part):
                self.page.keyboard.press("Enter")
            elif at["name"].startswith("job.") and at["value"] != (wanted := self.entries.get(name, "")):
                is_another |= self.enter(at, wanted) and at["tag"] == "SELECT"
            self.page.keyboard.press("Tab")
        raise AssertionError(f"the tag of {part} has no end")

    def enter(self, at: dict, wanted: str) -> bool:
        """Type into a box, or go through what a box offers; whether it takes what is wanted."""
        if at["tag"] == "SELECT":
            if wanted not in self.page.evaluate(
                "[...document.activeElement.options].map((one) => one.value)"
            ):
                return False  # a box of another form of the row
            self.page.keyboard.press("Home")
            while self.here()["value"] != wanted:
                before = self.here()["value"]
                self.page.keyboard.press("ArrowDown")
                assert self.here()["value"] != before, (at["name"], wanted)
        else:
            self.page.keyboard.press("ControlOrMeta+a")
            self.page.keyboard.insert_text(wanted) if wanted else self.page.keyboard.press("Delete")
        if at["tag"] == "SELECT":
            entered(self.page)  # its tag may have other boxes now
        return True

    def paste(self, part: str, rows: list[list]) -> None:
        """Paste the rows of a list, in place of what it holds."""
        self.tab_to(lambda at: at["tag"] == "A" and at["text"] == "Paste rows" and at["path"] in part)
        assert self.page.evaluate("document.activeElement.href").endswith(f"?list={part}")
        self.press_and_wait()
        self.tab_to(lambda at: at["tag"] == "TEXTAREA")
        self.page.keyboard.insert_text("\n".join("\t".join(map(str, row)) for row in rows))
        self.tab_to(lambda at: at["tag"] == "BUTTON" and at["text"] == "Enter these rows")
        self.press_and_wait()
        if self.page.locator(".laid").count():
            self.tab_to(lambda at: at["tag"] == "BUTTON" and at["text"] == "Enter these rows as shown")
            self.press_and_wait()
        self.tab_to(lambda at: at["tag"] == "A" and at["text"] == "Back to the job")
        self.press_and_wait()

    def press(self, button: str) -> bool:
        """Press a button of the tag, where it is there."""
        if not self.page.locator(f"#entries button[value='{button}']:visible").count():
            return False
        self.tab_to(lambda at: at["value"] == button)
        self.press_and_wait()
        return True


def wanted_lines(job: dict, part: str) -> int | None:
    """How many lines a list of the wanted job has, None for what is no list."""
    value: object = job
    for name in part.split("."):
        value = value.get(name) if isinstance(value, dict) else None
    return len(value) if isinstance(value, list) else None


def begun(page) -> None:  # noqa: F811
    """A new job of the same kind, by keyboard."""
    page.get_by_role("link", name="New job", exact=True).focus()
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    expect(page.locator("[name='kind'][value='flush-cover']")).to_be_focused()
    page.keyboard.press("Tab")
    for _ in range(3):
        if page.evaluate("document.activeElement.value") == "rectangular":
            break
        page.keyboard.press("ArrowRight")
    for _ in range(2):  # the page of the figures, then the job
        with page.expect_navigation():
            page.keyboard.press("Enter")


def test_a_whole_job_is_entered_by_keyboard_alone(page, server, folder):  # noqa: F811
    """Parts are opened from the list, boxes filled one after the other, lines added and taken, readings pasted."""
    wanted = tomllib.loads((EXAMPLES / "alder.toml").read_text(encoding="utf-8"))
    page.goto(f"{server.root}/")
    begun(page)
    keys = Keys(page, wanted)
    name = page.url.rstrip("/").rpartition("/")[2].partition("?")[0]
    keys.open_list()
    for part in page.evaluate(PARTS):
        if part in ("samples", "acknowledged"):
            continue
        many = wanted_lines(wanted, part)
        if part and not any(f"{entry}.".startswith(f"{part}.") for entry in keys.entries):
            if page.locator(f"#entries button[value='take:{part}']").count():
                keys.open(part)
                keys.press(f"take:{part}")
            continue
        keys.open_list()
        if keys.page.locator(f"#entries button[value='add:{part}']:visible").count() and many is None:
            keys.press(f"add:{part}")  # a part that a new job does without
        else:
            keys.open(part)
        while many is not None and keys.lines(part) > many:
            keys.press(f"take:{part}.{keys.lines(part) - 1}")
        while many is not None and keys.lines(part) < many:
            keys.press(f"add:{part}")
        for _ in range(3):
            if many is not None or keys.here()["path"] != part:
                keys.open(part)
            if not keys.fill(part):
                break
        keys.open(part)
        while held := page.locator("#entries .chosen button[value^='confirm:']:visible").all():
            keys.press(held[-1].get_attribute("value"))  # what stands is right, and nothing had to be typed
    keys.open("as_made")
    keys.paste("as_made.holes", wanted["as_made"]["holes"])
    held = saved(folder, name)
    assert held.pop("samples", []) == []
    assert held.pop("loads") == {"basis": "none"}  # says what leaving it out says
    assert flat(held) == flat(wanted)
