"""Nutplates and clip nuts: what is known, from where, and what only the shop can tell."""

from __future__ import annotations

import pytest

from hatchwright.errors import TableError
from hatchwright.tables.clip_nuts import clip_nut, clip_nuts
from hatchwright.tables.nutplates import ear_holes, nutplate_families, nutplate_part
from hatchwright.workings import Grade


def test_families() -> None:
    families = nutplate_families()
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


def test_part_numbers() -> None:
    assert nutplate_part("MS21047", "6-32") == "MS21047L06"  # builder log
    assert nutplate_part("MS21059", "10-32") == "MS21059L3"  # public parts list
    with pytest.raises(TableError, match=r"no nutplate is listed for family MS99999.*MS21047"):
        nutplate_part("MS99999", "6-32")
    with pytest.raises(TableError, match=r"no nutplate is listed for thread 4-40.*6-32"):
        nutplate_part("MS21047", "4-40")


def test_ears_of_a_two_lug_nutplate_are_from_memory() -> None:
    found = ear_holes("two-lug", "8-32")
    assert found.offsets_in[0] - found.offsets_in[1] == pytest.approx(0.688)  # from memory, unverified
    assert found.offsets_in[0] == -found.offsets_in[1]
    assert found.grade is Grade.MEMORY


@pytest.mark.parametrize(
    ("kind", "thread"), [("one-lug", "8-32"), ("miniature", "6-32"), ("two-lug", "1/4-28")]
)
def test_other_ears_are_not_guessed(kind: str, thread: str) -> None:
    with pytest.raises(TableError, match="standard's drawing"):
        ear_holes(kind, thread)


def test_clip_nuts_are_the_shops_to_describe() -> None:
    assert clip_nuts() == {}
    with pytest.raises(TableError, match=r"'8-32 long'\. Nothing is listed\. Measure it.*shop's own"):
        clip_nut("8-32 long")
