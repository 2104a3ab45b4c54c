"""A shop server with three people, asked as from outside over TLS, with a clock that only the test moves."""

from __future__ import annotations

import shutil
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path

from hatchwright.records.people import Role
from hatchwright.workflow.people import Signer, name_first, name_person
from security.browsing import HOST, Answer, Browser, form_of

INSPECTOR, MECHANIC, VIEWER = "A. Inspector", "B. Mechanic", "C. Viewer"
PHRASES = {
    INSPECTOR: "rivet gauge hangar nine",
    MECHANIC: "doubler flange seven oak",
    VIEWER: "window rib eleven birch",
}
NOW = datetime(2026, 3, 9, 14, 5, tzinfo=UTC)
EXAMPLES = Path(__file__).parents[2] / "examples"


class Clock:
    """Seconds that rise when the test says so."""

    def __init__(self) -> None:
        self.now_s = 1000.0

    def __call__(self) -> float:
        return self.now_s


def name_everybody(folder: Path) -> Signer:
    """Make a folder of two jobs and name the three; the inspector's key is open."""
    folder.mkdir()
    for name in ("alder.toml", "dogwood.toml"):
        shutil.copy(EXAMPLES / name, folder)
    by = name_first(folder, name=INSPECTOR, pass_phrase=PHRASES[INSPECTOR], now=NOW)
    for name, role in ((MECHANIC, Role.MECHANIC), (VIEWER, Role.VIEWER)):
        name_person(folder, by=by, name=name, role=role, pass_phrase=PHRASES[name], now=NOW)
    return by


@dataclass
class Shop:
    """The server, and browsers that come to it."""

    folder: Path
    clock: Clock = field(default_factory=Clock)

    def __post_init__(self) -> None:
        from hatchwright.web.server import application
        from hatchwright.web.staff import Staff

        self.staff = Staff(self.folder, fingerprint="AB:CD", clock=self.clock)
        self.app, self.site = application(self.folder, hosts=[HOST], staff=self.staff)

    def outside(self, address: str = HOST) -> Browser:
        """A browser that has not logged in."""
        return Browser(self.app, scheme="https", address=address)

    def log_in(
        self, browser: Browser, name: str, phrase: str | None = None, to: str = "/", **headers: str
    ) -> Answer:
        """Send the login as its page does."""
        form = form_of(browser.ask("/login").text, "/login")
        typed = {"name": name, "pass_phrase": PHRASES[name] if phrase is None else phrase, "next": to}
        return browser.ask("/login", {**form, **typed}, **headers)

    def browser(self, name: str, address: str = HOST) -> Browser:
        """A browser in which somebody has logged in."""
        shown = self.outside(address)
        assert self.log_in(shown, name).status == 302
        return shown

    def send(self, browser: Browser, path: str, form: dict[str, str], page: str = "/people") -> Answer:
        """Send a form with the token of an open page."""
        token = form_of(browser.ask(page).text, "/leave")
        return browser.ask(path, {**token, **form})
