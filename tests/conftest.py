"""What holds for every test: fixed seeds for properties, nobody's own motifs, no silent skip on the build machine.

A test that needs an outside program (rsvg-convert, chromium, poppler) skips with the reason where it is absent. Under
CI=true everything is installed, so there a skip means that a check has silently gone: it is turned into a failure. Only
tables and drawings of others, which do not travel with the project, may be absent (FRAMEFORGE_OUTSIDE_DATA names their
folder); such a skip says "outside data".
"""

from __future__ import annotations

import os
from collections.abc import Generator
from typing import Any

import pytest
from hypothesis import settings

# The motifs of whoever runs the tests are none of theirs.
os.environ["XDG_DATA_HOME"] = os.path.join(os.path.dirname(__file__), "no-such-folder")

# FRAMEFORGE_EXAMPLES=1000 looks further than the default run has time to.
settings.register_profile(
    "same-every-run",
    derandomize=True,
    deadline=None,
    database=None,
    print_blob=True,
    max_examples=int(os.environ.get("FRAMEFORGE_EXAMPLES", "60")),
)
settings.load_profile("same-every-run")


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport() -> Generator[None, pytest.TestReport, pytest.TestReport]:
    """Judge the report of one test."""
    report = yield
    _refuse_skip(report)
    return report


@pytest.hookimpl(wrapper=True)
def pytest_make_collect_report() -> Generator[None, pytest.CollectReport, pytest.CollectReport]:
    """Judge the report of one file, which may skip as a whole."""
    report = yield
    _refuse_skip(report)
    return report


def _refuse_skip(report: Any) -> None:
    """Make a skip a failure where CI=true; the reason stays readable."""
    expected = hasattr(report, "wasxfail") or "outside data" in str(report.longrepr)
    if report.skipped and not expected and os.environ.get("CI") == "true":
        report.outcome = "failed"
        report.longrepr = f"skipped, and nothing may be skipped here: {report.longrepr}"
