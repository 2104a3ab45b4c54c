"""`papers --card-language`: the card alone is made in another language, read back by another reader (pypdfium2)."""

from __future__ import annotations

from pathlib import Path

import pypdfium2
import pytest

EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.mark.parametrize(
    ("options", "said", "not_said"),
    [
        ((), "CARRY CARD", "TRAGEKARTE"),
        (("--card-language", "de_DE"), "TRAGEKARTE", "CARRY CARD"),
        (("--card-language", "en"), "CARRY CARD", "Center X"),
    ],
)
def test_the_card_is_made_in_the_language_that_is_asked_for(options, said, not_said, shell, tmp_path):
    status, _, _ = shell("papers", EXAMPLES / "dogwood.toml", "--out", tmp_path, *options)
    assert status in (0, 1)
    (card,) = tmp_path.glob("*_CARRY_CARD_CENTER_*.pdf")
    with pypdfium2.PdfDocument(card) as pdf:
        words = " ".join(page.get_textpage().get_text_range() for page in pdf)
    assert said in words
    assert not_said not in words


def test_a_language_that_there_is_not_is_refused_with_those_that_there_are(shell, tmp_path):
    status, _, err = shell(
        "papers", EXAMPLES / "dogwood.toml", "--out", tmp_path / "out", "--card-language", "xx"
    )
    assert status == 2
    assert "de_DE" in err
    assert not (tmp_path / "out").exists()
