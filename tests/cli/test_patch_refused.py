"""A flush patch that cannot be is refused by every command that would write: each fault named, nothing written."""

from __future__ import annotations

import pytest

from tests.cli.test_bad_inputs import SHOP, changed, refused
from tests.conftest import EXAMPLES

COVER = '[cover]\nalloy = "2024"\ntemper = "T3"\nthickness = ".032"\nfit = "flush"\ngap = "1/32"\n\n[gate]'
INNER = '[doubler.inner]\nshape = "circle"\ndiameter = "1"\n\n[[rows]]\nname = "skin inner row"'


@pytest.mark.parametrize("command", SHOP)
@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        pytest.param('at = ["7.30", "5.58"]', 'at = ["73.0", "5.58"]', ("patch.extent.1.at",), id="far off"),
        pytest.param("[gate]", COVER, ("cover", "no cover"), id="cover"),
        pytest.param(
            'thickness = ".032"\ngap', "gap", ("patch.plug.thickness",), id="plug without thickness"
        ),
        pytest.param(
            '[[rows]]\nname = "skin inner row"', INNER, ("doubler.inner", "solid"), id="inner outline"
        ),
        pytest.param(
            'length = "6.20"', 'length = "13.20"', ("doubler.outer", "larger than the bay"), id="bay"
        ),
    ],
)
def test_it_is_named_and_nothing_is_written(shell, tmp_path, monkeypatch, command, old, new, words):
    job = tmp_path / "finch.toml"
    text = (EXAMPLES / "finch.toml").read_text(encoding="utf-8")
    job.write_text(changed(text, (old, new)), encoding="utf-8")
    refused(shell, tmp_path, monkeypatch, (command, job, *SHOP[command]), words)
