"""Tests that need a program of the system run where it is; where all are asked for, its lack is a failure."""

from __future__ import annotations

import os
import shutil

import pytest
from hypothesis import settings

from wirecheck import files

# The same examples in every run, so that a run judges the change and not the dice, and no clock,
# which judges the machine. The long tests take more of them; to look further: --hypothesis-profile=soak.
settings.register_profile("steady", derandomize=True, max_examples=40, deadline=None)
settings.register_profile("long", derandomize=True, max_examples=300, deadline=None)
settings.register_profile("soak", max_examples=2_000, deadline=None)
settings.load_profile("steady")

PROGRAMS = {
    "ngspice": ("ngspice",),
    "chromium": ("chromium", "chromium-browser", "google-chrome"),
    "neovim": ("nvim",),
}
FETCHED = "saved"
"""What needs files that a clone has after `.ci/browser`."""


# Of a test with many cases the quick tests take every so manieth, and the long tests all the others.
LARGE, OF_LARGE = 12, 10
SOME, OF_SOME = 4, 4


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Leave the most of many cases to the long tests, and leave out what this machine cannot run.

    Nothing is left out where WIRECHECK_ALL_TESTS=1 says that all must run.
    """
    _leave_to_the_long_tests(items)
    if os.environ.get("WIRECHECK_ALL_TESTS") == "1":
        return
    absent = {marker for marker, names in PROGRAMS.items() if not any(map(shutil.which, names))}
    if not files.has_browser_file("pyodide.asm.wasm"):
        absent.add(FETCHED)
    left_out = [item for item in items if any(item.get_closest_marker(marker) for marker in absent)]
    if left_out:
        config.hook.pytest_deselected(items=left_out)
        items[:] = [item for item in items if item not in left_out]


def _leave_to_the_long_tests(items: list[pytest.Item]) -> None:
    families: dict[str, list[pytest.Item]] = {}
    for item in items:
        if not item.get_closest_marker("slow"):
            families.setdefault(item.nodeid.partition("[")[0], []).append(item)
    for family in families.values():
        every = OF_LARGE if len(family) > LARGE else OF_SOME if len(family) > SOME else 1
        for number, item in enumerate(family):
            if number % every:
                item.add_marker("slow")


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """The tables of the mutation proof, of the mends and of the readings, of all workers together."""
    from tests.boards.proof import Proof
    from tests.mend.proof import MendProof
    from tests.troubles.proof import Counts

    proofs: dict[str, Proof | MendProof | Counts] = {
        "mutation proof": Proof(),
        "mend proof": MendProof(),
        "readings proof": Counts(),
    }
    told = set()
    for report in [*terminalreporter.getreports("passed"), *terminalreporter.getreports("failed")]:
        for name, figures in report.user_properties:
            if name in proofs and report.when == "call":
                proofs[name].add(figures)
                told.add(name)
    for name in sorted(told):
        terminalreporter.section(name)
        terminalreporter.write_line(proofs[name].table())
