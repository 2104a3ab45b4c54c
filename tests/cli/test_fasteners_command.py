"""`hatchwright fasteners` as it is read: in the job's own unit, nothing refused that can be given in part."""

from __future__ import annotations

import json
import re

import pytest
import tomlkit
from click.testing import CliRunner

from hatchwright.cli.fasteners import command
from rules.cases import FLUSH, LAPPED, changed


def said(job, tmp_path, *options):
    path = tmp_path / "job.toml"
    path.write_text(tomlkit.dumps(job), encoding="utf-8")
    done = CliRunner().invoke(command, [str(path), *options], catch_exceptions=False)
    assert done.exit_code == int("DO NOT CUT" in done.output), done.output
    return done.output


def test_a_flush_row_that_is_dimpled_is_given_in_the_order_of_the_work(tmp_path):
    """No. 32, dimpled, gives No. 30: [BUILDER-FORUMS], seen only restated."""
    flush = {"rows.0.rivet": "MS20426AD4", "rows.0.preparation": "dimple"}
    text = said(changed(FLUSH, flush), tmp_path)
    assert "MS20426AD4: 1 hole, order 6" in text
    assert "skin: dimple (as entered). In order: pilot #32, dimple, ream #30 where tight." in text


def test_what_no_table_lists_is_said_beside_what_is_given(tmp_path):
    flush = {"rows.0.rivet": "MS20426AD6", "rows.0.preparation": "dimple"}
    text = said(changed(FLUSH, flush), tmp_path)
    assert "NOT SHOWN skin + doubler: No drill sequence is listed for a dimpled hole" in text
    assert "Final drill #11" in text


def test_screws_nuts_and_the_rivets_of_nutplates_are_counted(tmp_path):
    text = said(FLUSH, tmp_path)
    assert "10-32 x 1/2 screws: 8 holes, order 13" in text
    assert "two-lug nutplate 10-32: 8, order 13" in text
    assert "MS20470AD3 for the nutplates, two each: 16, order 21" in text
    bare = said(changed(FLUSH, {"cover.screws.nut_rivet": None}), tmp_path)
    assert "Nutplate rivets: 16, order 21\n  NOT SHOWN which rivet: enter cover.screws.nut_rivet" in bare
    clips = said(LAPPED, tmp_path)
    assert "clip nut 8-32: 8, order 13" in clips
    assert "nutplate" not in clips


@pytest.mark.parametrize("height", [None, ".25"])
def test_the_length_of_the_screws_is_a_whole_sentence(tmp_path, height):
    nut = {} if height is None else {"cover.screws.nut_height": height}
    (line,) = [line for line in said(changed(FLUSH, nut), tmp_path).splitlines() if "Screw at least" in line]
    # .032 + .040 and one thread of 1/32 is .103
    if height is None:
        assert (
            "at least .103 in long plus the nut height (enter cover.screws.nut_height); entered .500 in"
            in line
        )
    else:
        assert "at least .353 in long with a .250 in nut and one thread; entered .500 in" in line


def test_a_job_in_millimeters_is_answered_in_millimeters(tmp_path):
    metric = changed(FLUSH, {"units": "mm", "skin.thickness": "0.8", "doubler.thickness": "1"})
    metric = json.loads(re.sub(r'"(-?(?:\d{1,3}|\d*\.\d+|\d+/\d+))"', r'"\1 in"', json.dumps(metric)))
    metric["skin"]["thickness"], metric["doubler"]["thickness"] = "0.8", "1"
    text = said(metric, tmp_path)
    assert "Grip 1.80 mm (skin 0.80 mm, doubler 1.00 mm)" in text
    assert "0.4536 kg" in text  # 1 lb, by the definition of the pound
    own = re.sub(r"\d+-\d+ x [\d/]+ in\b", "", text)  # the name of a screw is no length
    assert not re.search(r"\d (?:in|lb|lbf|psi)\b", own), own


def test_programs_are_told_the_same(tmp_path):
    told = json.loads(said(FLUSH, tmp_path, "--json"))
    assert told["schema"] == 3
    assert told["cover"]["nut_rivets"]["count"] == 16
    assert told["cover"]["nuts"] == {"name": "two-lug nutplate 10-32", "count": 8, "order": 13, "only": ""}
    assert told["cover"]["lacks"]
