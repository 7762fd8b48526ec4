"""The totals of the published rows stand at the end of a run that asked about them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tests.published.rows.tables import read_tables
from tests.published.rows.totals import totals

if TYPE_CHECKING:
    import pytest

_ASKED = "test_published_rows.py"


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Print one line for each region."""
    reports = [r for group in terminalreporter.stats.values() for r in group]
    if any(_ASKED in getattr(report, "nodeid", "") for report in reports):
        terminalreporter.section("published rows")
        for region in read_tables():
            terminalreporter.write_line(totals(region))
