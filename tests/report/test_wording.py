"""Words, durations and moments that all outputs share."""

from __future__ import annotations

from itertools import combinations

import pytest

from tempwitness.model.figures import duration_words
from tempwitness.model.vocabulary import Confirmed, Verdict, Weight, worst
from tempwitness.report.localtime import LocalTime
from tempwitness.report.wording import (
    CONFIRMED,
    MEANING,
    WEIGHT,
    WORST_FIRST,
    duration,
    duration_span,
    plain,
)

_NEW_YORK = LocalTime("America/New_York")


def test_every_term_has_its_words() -> None:
    assert set(MEANING) == set(Verdict)
    assert set(WEIGHT) == set(Weight)
    assert set(CONFIRMED) == set(Confirmed)


def test_the_order_of_printing_is_the_order_that_decides() -> None:
    assert set(WORST_FIRST) == set(Verdict)
    for first, second in combinations(WORST_FIRST, 2):
        assert worst([second, first]) is first


@pytest.mark.parametrize(
    ("seconds", "words"),
    [
        # By hand: 2 × 3600 + 5 × 60 = 7500; 25 × 3600 + 60 + 1 = 90061.
        (0, "0 s"),
        (15, "15 s"),
        (60, "1 min"),
        (300, "5 min"),
        (3600, "1 h"),
        (7500, "2 h 5 min"),
        (90061, "25 h 1 min 1 s"),
        (59.6, "1 min"),
    ],
)
def test_durations(seconds: float, words: str) -> None:
    assert duration(seconds) == words
    # The same words as in the rules, which the texts of findings use.
    assert duration_words(seconds) == words


@pytest.mark.parametrize(
    ("least", "most", "words"),
    [
        (None, None, ""),
        (60.0, None, "at least 1 min, how much more is not known"),
        (None, 60.0, "at most 1 min"),
        (60.0, 60.0, "1 min"),
        (60.0, 120.0, "1 min to 2 min"),
    ],
)
def test_bounds_of_durations(least: float | None, most: float | None, words: str) -> None:
    assert duration_span(least, most) == words


def test_a_moment_is_written_in_the_zone_of_the_lot() -> None:
    # New York is 4 h behind UTC in June; 14 June 2025 was a Saturday.
    assert _NEW_YORK.full("2025-06-14T18:05:00+00:00") == "Sat 14 Jun 2025 14:05"
    assert _NEW_YORK.short(1749924300.0) == "Sat 14 Jun 14:05"


@pytest.mark.parametrize(
    ("utc", "words"),
    [
        # US clocks went back from 02:00 EDT to 01:00 EST on the first Sunday of November, the
        # 2nd in 2025 (15 U.S.C. 260a): 05:30 UTC is 01:30 EDT and 06:30 UTC is 01:30 EST.
        ("2025-11-02T05:30:00+00:00", "Sun 2 Nov 2025 01:30 EDT"),
        ("2025-11-02T06:30:00+00:00", "Sun 2 Nov 2025 01:30 EST"),
        ("2025-11-02T07:30:00+00:00", "Sun 2 Nov 2025 02:30"),
    ],
)
def test_the_hour_that_occurs_twice_is_named(utc: str, words: str) -> None:
    assert _NEW_YORK.full(utc) == words


def test_a_deadline_names_its_day_only_if_it_is_not_the_day_of_asking() -> None:
    due = "2025-06-14T22:45:00-04:00"
    assert _NEW_YORK.due(due, "2025-06-14T21:00:00-04:00") == "BY 22:45"
    # 03:30 UTC on the 15th is 23:30 on the 14th in New York: still the same day there.
    assert _NEW_YORK.due(due, "2025-06-15T03:30:00+00:00") == "BY 22:45"
    assert _NEW_YORK.due(due, "2025-06-13T21:00:00-04:00") == "BY SAT 14 JUN 22:45"
    assert _NEW_YORK.due(due, None) == "BY SAT 14 JUN 22:45"
    # In the hour that comes twice the deadline says which of the two.
    twice = _NEW_YORK.due("2025-11-02T06:30:00+00:00", "2025-11-02T05:30:00+00:00")
    assert twice == "BY 01:30 EST"


def test_a_row_of_the_list_names_that_hour_apart() -> None:
    # 1762061400 s is 2025-11-02 05:30 UTC, the first of the two half past ones.
    assert _NEW_YORK.row(1762061400.0) == ("2 Nov 01:30", "EDT")
    assert _NEW_YORK.row(1749924300.0) == ("14 Jun 14:05", "")


def test_a_span_names_the_day_of_its_end_only_where_it_differs() -> None:
    same = _NEW_YORK.span("2025-06-14T10:00:00-04:00", "2025-06-14T12:05:00-04:00")
    assert same == "Sat 14 Jun 2025 10:00 to 12:05"
    night = _NEW_YORK.span("2025-06-14T23:00:00-04:00", "2025-06-15T01:00:00-04:00")
    assert night == "Sat 14 Jun 2025 23:00 to Sun 15 Jun 2025 01:00"
    assert _NEW_YORK.span(None, None) == ""


@pytest.mark.parametrize("zone", ["", "No/Such_Zone", "../etc"])
def test_an_unknown_zone_leaves_the_moment_in_its_own_offset(zone: str) -> None:
    assert LocalTime(zone).full("2025-06-14T14:05:00-04:00") == "Sat 14 Jun 2025 14:05"


def test_what_is_not_a_moment_is_printed_as_it_stands() -> None:
    assert _NEW_YORK.full("some time") == "some time"


def test_accents_pass_and_controls_do_not() -> None:
    assert plain("jalapeño – 57 °C ≤ 羊") == "jalapeño – 57 °C ≤ 羊"
    assert plain("a\tb\n c\x1b") == "a b c\ufffd"
