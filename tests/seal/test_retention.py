"""How long a record is kept: days of the calendar, and the words of the codes."""

from __future__ import annotations

from datetime import UTC, date, datetime
from typing import TYPE_CHECKING

import pytest
from dateutil.relativedelta import relativedelta
from hypothesis import given, settings
from hypothesis import strategies as st

from tempwitness.sealing.retention import after_span
from tempwitness.sealing.seal import seal
from tests.cli.records import MET, write_record

if TYPE_CHECKING:
    from pathlib import Path

AT = datetime(2026, 7, 5, tzinfo=UTC)


@settings(max_examples=300, deadline=None, derandomize=True)
@given(
    st.dates(date(1990, 1, 1), date(2090, 1, 1)),
    st.integers(1, 60),
    st.sampled_from(["days", "weeks", "months", "years"]),
)
def test_spans_of_the_calendar_agree_with_dateutil(day: date, number: int, unit: str) -> None:
    """dateutil's relativedelta clips a day that a month lacks to its last one, as we do."""
    parts = {unit: number}
    assert after_span(day, f"{number} {unit}") == day + relativedelta(**parts)


@pytest.mark.parametrize(
    ("day", "span", "until"),
    [
        ("2028-02-29", "1 year", "2029-02-28"),
        ("2027-02-28", "1 year", "2028-02-28"),
        ("2026-11-30", "3 months", "2027-02-28"),
        ("2026-12-25", "2 weeks", "2027-01-08"),
    ],
)
def test_spans_across_leap_days_and_ends_of_years(day: str, span: str, until: str) -> None:
    # Counted on a calendar by hand.
    assert after_span(date.fromisoformat(day), span).isoformat() == until


def keep(tmp_path: Path, *, code: str, facts: str = "") -> tuple[str, ...]:
    record = write_record(tmp_path, MET)
    text = record.read_text(encoding="utf-8").replace("us/food-code/2022", code)
    record.write_text(text.replace('cured = "no"', f'cured = "no"{facts}'), encoding="utf-8")
    return seal([record], at=AT).keep


def test_where_the_rules_print_no_time_the_authority_is_asked(tmp_path: Path) -> None:
    (line,) = keep(tmp_path, code="us/food-code/2022")
    assert "print no time" in line
    assert "Ask the authority" in line


def test_three_months_under_standard_3_2_2a(tmp_path: Path) -> None:
    """FSANZ Standard 3.2.2A, clause 12(3): records are kept for at least 3 months."""
    (line,) = keep(tmp_path, code="au/3.2.2")
    assert line.startswith("Keep: 3 months, until 2026-10-04 at least")
    assert "au/3.2.2" in line


def test_six_months_for_cook_chill_bags(tmp_path: Path) -> None:
    """FDA Food Code 2022 3-502.12(D)(2)(e): records of cook-chill bags are held for 6 months."""
    facts = ', vacuum_packed = "yes", rop_way = "cook_chill_41f_7d"'
    lines = keep(tmp_path, code="us/food-code/2022", facts=facts)
    assert any("6 months, until 2027-01-04" in line and "3-502.12(D)" in line for line in lines)
