"""Nutplates and clip nuts: what is known, from where, and what only the shop can tell."""

from __future__ import annotations

import pytest

from hatchwright.errors import TableError
from hatchwright.tables.nutplates import CLIP_NUTS, NUTPLATE_EARS, NUTPLATE_FAMILIES
from hatchwright.workings import Grade


def test_families() -> None:
    families = {found.family: found for found in NUTPLATE_FAMILIES.all()}
    assert {found.kind for found in families.values()} == {"two-lug", "one-lug", "miniature"}
    assert families["MS21047"].kind == "two-lug"
    assert families["MS21051"].kind == "one-lug"
    assert families["MS21059"].is_floating
    assert not families["MS21047"].is_floating
    seen = {family for family, found in families.items() if found.grade is Grade.RESTATED}
    assert seen == {
        "MS21047",
        "MS21051",
        "MS21059",
    }  # in builder logs and a parts list; the others from memory


def test_ears_of_a_two_lug_nutplate_are_from_memory() -> None:
    found = NUTPLATE_EARS.one(kind="two-lug", thread="8-32")
    assert found.offsets_in[0] - found.offsets_in[1] == pytest.approx(0.688)  # from memory, unverified
    assert found.offsets_in[0] == -found.offsets_in[1]
    assert found.grade is Grade.MEMORY


@pytest.mark.parametrize(
    ("kind", "thread"), [("one-lug", "8-32"), ("miniature", "6-32"), ("two-lug", "1/4-28")]
)
def test_other_ears_are_not_guessed(kind: str, thread: str) -> None:
    with pytest.raises(TableError, match="standard's drawing"):
        NUTPLATE_EARS.one(kind=kind, thread=thread)


def test_clip_nuts_are_the_shops_to_describe() -> None:
    assert CLIP_NUTS.all() == ()
    with pytest.raises(TableError, match=r"'8-32 long'\. Nothing is listed\. Measure it.*shop's own"):
        CLIP_NUTS.one(name="8-32 long")
