"""Two people of an invented shop, and the example as it is before anybody cuts: one side, with a plan that can be
signed."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

from hatchwright.records.people import Role
from hatchwright.records.store import Store
from hatchwright.workflow.job_folder import JobFolder
from hatchwright.workflow.people import Signer, name_first, name_person, signer

EXAMPLES = Path(__file__).parents[1] / "examples"
NAME = "alder.toml"
NOW = datetime(2026, 3, 9, 14, 5, tzinfo=UTC)
PHRASE, OTHER_PHRASE = "rivet lantern oak seven", "harbor velvet nine maple"
MECHANIC, INSPECTOR = "A. Mechanic", "B. Inspector"
AS_MADE = "# What was really made on the left wing"

TEXT = (EXAMPLES / NAME).read_text(encoding="utf-8").replace("both_sides = true", "both_sides = false")
DRAWN = TEXT[: TEXT.index(AS_MADE)]
"""The left wing of scenario S1 as drawn: nothing stops it."""
AS_FILED = TEXT
"""The same as it was drilled: rivets 6 and 15 are short, and 4 can't be shown (scenario S1, expected 7)."""
AS_MENDED = (
    TEXT.replace('"8.260"', '"8.281"')
    .replace('"8.255", "5.118"', '"8.281", "5.118"')
    .replace('"8.757"', '"8.720"')
)
"""The same with rivets 4, 6 and 15 where the drawing has them."""


def job_of(folder: Path, text: str = DRAWN) -> JobFolder:
    """A folder that holds the job."""
    (folder / NAME).write_text(text, encoding="utf-8")
    return JobFolder(folder)


def crew(folder: Path) -> tuple[Store, Signer, Signer]:
    """The records of a folder with a mechanic and an inspector: the inspector came first and named the other."""
    inspector = name_first(
        folder, name=INSPECTOR, pass_phrase=OTHER_PHRASE, now=NOW, certificate="IA 7654321"
    )
    name_person(
        folder,
        by=inspector,
        name=MECHANIC,
        role=Role.MECHANIC,
        pass_phrase=PHRASE,
        now=NOW,
        certificate="A&P 1234567",
    )
    store = Store.opened(folder)
    return store, signer(store.people(), MECHANIC, PHRASE), inspector
