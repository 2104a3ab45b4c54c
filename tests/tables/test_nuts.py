"""Nutplates and clip nuts: what is known, from where, and what only the shop can tell."""

from __future__ import annotations

import pytest

from hatchwright.errors import TableError
from hatchwright.tables.nutplates import (
    CLIP_NUTS,
    NUTPLATE_EARS,
    NUTPLATE_FAMILIES,
    NUTPLATE_KINDS,
    nutplate_kind,
)
from hatchwright.workings import Grade


def test_families() -> None:
    families = {found.family: found for found in NUTPLATE_FAMILIES.all()}
    kinds = {kind.kind: kind for kind in NUTPLATE_KINDS.all()}
    assert {found.kind for found in families.values()} <= set(kinds)
    assert families["MS21047"].kind == "two-lug"
    assert families["MS21051"].kind == "one-lug"
    assert kinds[families["MS21059"].kind].is_floating
    assert not kinds[families["MS21047"].kind].is_floating
    seen = {family for family, found in families.items() if found.grade is Grade.RESTATED}
    assert seen == {
        "MS21047",
        "MS21051",
        "MS21059",
    }  # in builder logs and a parts list; the others from memory


def test_only_a_countersunk_nutplate_takes_a_dimple() -> None:
    """A regular nutplate on a dimple is not correct, a countersunk one is: a builder log of Nov 2018, restated."""
    nested = {kind.called for kind in NUTPLATE_KINDS.all() if kind.nests_dimple}
    assert nested == {f"100-degree {lugs} nutplate" for lugs in ("two-lug", "one-lug", "miniature")}
    assert nutplate_kind("clip nut") is None


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
