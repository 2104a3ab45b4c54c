"""The reinforced opening against CalculiX (Debian package calculix-ccx), a program from outside Python.

Method and recorded result: studies/calculix_reinforced_opening.py and docs/theory/fem.md, section 9. Forces and
displacements agree to the digits that CalculiX prints (seven) and its expansion of plane elements into solids; the peak
differs more because CalculiX averages at nodes where the strain of the edge itself is used here.
"""

from __future__ import annotations

import importlib.util
import shutil
import sys
from pathlib import Path

import pytest

STUDY = Path(__file__).parents[2] / "studies" / "calculix_reinforced_opening.py"


@pytest.mark.outside
@pytest.mark.skipif(shutil.which("ccx") is None, reason="needs CalculiX: apt-get install calculix-ccx")
def test_calculix_agrees_on_the_reinforced_opening():
    spec = importlib.util.spec_from_file_location("calculix_reinforced_opening", STUDY)
    study = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = study
    spec.loader.exec_module(study)
    found = study.compare()
    assert found.fastener.max() < 5e-4
    assert found.edge_shift.max() < 1e-4
    assert found.peak.max() < 5e-3
