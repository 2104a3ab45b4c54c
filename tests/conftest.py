"""What tests of every folder share: the example jobs."""

from __future__ import annotations

import os
import pickle

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # small blocks: threads only get in each other's way
os.environ.setdefault(
    "HATCHWRIGHT_NICE", "0"
)  # or a test waits for a process that yields to every other test

from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

from hatchwright.job.file import load_job
from hatchwright.job.text_file import load_text
from tests.made_once import MadeOnce

EXAMPLES = Path(__file__).parents[1] / "examples"

# A case may take as long as it takes: how fast the machine is says nothing about what is tested.
settings.register_profile(
    "any machine", settings(), deadline=None, suppress_health_check=[HealthCheck.too_slow]
)
settings.load_profile("any machine")


@pytest.fixture(scope="session", autouse=True)
def cache_of_these_tests(tmp_path_factory):
    """What is kept for the next start is kept for the next test, and not in the folders of who runs the tests."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("XDG_CACHE_HOME", str(tmp_path_factory.getbasetemp() / "cache"))
        yield


@pytest.fixture(scope="session")
def made_once(tmp_path_factory, request):
    """Papers of a job, made once for all tests of a session: `made_once(papers, job, stamp=STAMP)`."""
    base = tmp_path_factory.getbasetemp()
    is_one_of_many = hasattr(
        request.config, "workerinput"
    )  # then each process has its folder in the session's
    return MadeOnce((base.parent if is_one_of_many else base) / "made_once")


@pytest.fixture(scope="module")
def strength_once():
    """The strength of one layout is analyzed once for tests one after the other, whichever command asks for it; of the
    last four layouts, for each takes some 20 MB."""
    from hatchwright.search import strength_answer
    from hatchwright.workflow import strength

    analyze, kept = strength_answer.answer_of, {}

    def answer_of(layout, elements=strength_answer.WHOLE):
        asked = pickle.dumps((layout, elements))
        if asked not in kept:
            kept[asked] = analyze(layout, elements)
            for oldest in list(kept)[:-4]:
                del kept[oldest]
        return kept[asked]

    with pytest.MonkeyPatch.context() as patch:
        for module in (strength_answer, strength):
            patch.setattr(module, "answer_of", answer_of)
        yield


@pytest.fixture(scope="session")
def alder_text():
    return load_text(EXAMPLES / "alder.toml")


@pytest.fixture(scope="session")
def alder():
    return load_job(EXAMPLES / "alder.toml")


@pytest.fixture(scope="session")
def alder_drawn(alder):
    """The same job before anything was made."""
    return alder.model_copy(update={"as_made": None})


@pytest.fixture(scope="session")
def dogwood():
    return load_job(EXAMPLES / "dogwood.toml")
