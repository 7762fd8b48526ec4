"""Times: what is accepted, offsets, the two nights of the clock change, and midnight.

Expected moments are written in UTC and computed by the standard library; the dates of the clock
change are those of the United States' rule (second Sunday of March, first Sunday of November).
"""

from __future__ import annotations

from datetime import UTC, datetime
from zoneinfo import ZoneInfo

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tempwitness.readers.moments import check_pattern, parse_all, parse_moment
from tempwitness.readers.stamps import parse_column
from tempwitness.readers.zones import UnplacedTimeError, find_zone, to_utc
from tests.readers.build import utc

CHICAGO = ZoneInfo("America/Chicago")


@pytest.mark.parametrize(
    ("text", "moment"),
    [
        ("2026-07-04 18:10", "2026-07-04T18:10"),
        ("2026-07-04T18:10:05", "2026-07-04T18:10:05"),
        ("2026-07-04 18:10:05.25", "2026-07-04T18:10:05.25"),
        ("2028-02-29 00:00", "2028-02-29T00:00"),
    ],
)
def test_accepted_forms(text: str, moment: str) -> None:
    found = parse_moment(text)
    assert found.seconds == utc(moment)
    assert found.dated
    assert found.offset is None


@pytest.mark.parametrize(
    ("text", "offset"), [("Z", 0.0), ("+02:00", 7200.0), ("-0530", -19800.0), (" -05:00", -18000.0)]
)
def test_offsets(text: str, offset: float) -> None:
    assert parse_moment(f"2026-07-04 18:10{text}").offset == offset


@pytest.mark.parametrize(
    "text",
    [
        "7/4/2026 18:10",
        "04.07.2026 18:10",
        "2026-07-04",
        "2026-02-29 10:00",
        "2026-13-01 10:00",
        "2026-07-04 24:00",
        "2026-07-04 18:60",
        "18:10Z",
        "noon",
        "",
    ],
)
def test_everything_else_is_refused_with_what_is_accepted(text: str) -> None:
    with pytest.raises(ValueError, match="write it as 2026-07-04 18:10"):
        parse_moment(text)


def test_a_declared_pattern_is_followed_strictly() -> None:
    assert parse_moment("7/4/2026 18:10", "%m/%d/%Y %H:%M").seconds == utc("2026-07-04T18:10")
    with pytest.raises(ValueError, match="does not follow the time format"):
        parse_moment("2026-07-04 18:10", "%m/%d/%Y %H:%M")


@settings(deadline=None)
@given(
    st.lists(
        st.datetimes(min_value=datetime(1900, 1, 1), max_value=datetime(2199, 12, 31)),  # noqa: DTZ001
        min_size=64,
        max_size=80,
    ),
    st.sampled_from([" ", "T"]),
    st.sampled_from(["", "Z", "+05:30"]),
)
def test_a_column_read_at_once_is_the_same_as_one_by_one(
    moments: list[datetime], between: str, zone: str
) -> None:
    texts = [m.strftime(f"%Y-%m-%d{between}%H:%M:%S") + zone for m in moments]
    texts = [t if len(t) == 19 + len(zone) else t.zfill(19 + len(zone)) for t in texts]
    swift = parse_column(texts)
    assert swift is not None
    # The standard library is the reference.
    expected = [m.replace(microsecond=0, tzinfo=UTC).timestamp() for m in moments]
    assert swift[0].tolist() == expected


@pytest.mark.parametrize(
    "bad", ["2026-02-29 10:00", "2026-00-10 10:00", "2026-07-04 24:00", "2026-07-04 1x:00"]
)
def test_a_column_with_a_bad_stamp_names_it(bad: str) -> None:
    texts = ["2026-07-04 10:00"] * 70 + [bad]
    found = parse_all(texts)
    wrong = found.wrong
    assert list(wrong) == [70]
    assert bad in wrong[70]


def place(*local: str, fold: str | None = None) -> list[float]:
    seconds = np.array([utc(text) for text in local])
    groups = [np.arange(len(seconds))]
    found: list[float] = to_utc(seconds, CHICAGO, fold=[fold], groups=groups).tolist()
    return found


def test_an_ordinary_summer_evening_is_five_hours_behind() -> None:
    assert place("2026-07-04T18:10") == [utc("2026-07-04T23:10")]


def test_the_offset_changes_within_a_log() -> None:
    # 2026-11-01, 02:00 CDT (-5 h) becomes 01:00 CST (-6 h).
    assert place("2026-11-01T00:30", "2026-11-01T03:00") == [
        utc("2026-11-01T05:30"),
        utc("2026-11-01T09:00"),
    ]


def test_a_repeated_hour_is_told_by_one_step_back() -> None:
    found = place("2026-11-01T00:50", "2026-11-01T01:20", "2026-11-01T01:50", "2026-11-01T01:20")
    assert found == [
        utc("2026-11-01T05:50"),
        utc("2026-11-01T06:20"),
        utc("2026-11-01T06:50"),
        utc("2026-11-01T07:20"),
    ]


def test_hourly_readings_repeat_their_clock_time() -> None:
    found = place("2026-11-01T00:30", "2026-11-01T01:30", "2026-11-01T01:30", "2026-11-01T02:30")
    assert found == [utc(f"2026-11-01T0{h}:30") for h in (5, 6, 7, 8)]


@pytest.mark.parametrize(
    "local",
    [
        ("2026-11-01T01:20",),
        ("2026-11-01T01:20", "2026-11-01T01:25"),
        ("2026-11-01T01:20", "2026-11-01T01:20"),
        ("2026-11-01T01:20", "2026-11-01T01:10", "2026-11-01T01:20", "2026-11-01T01:15"),
        # Newest first: the step back between the two proves nothing.
        ("2026-11-01T03:00", "2026-11-01T01:50", "2026-11-01T01:20", "2026-11-01T00:30"),
    ],
)
def test_a_repeated_hour_that_nothing_tells_is_asked_for(local: tuple[str, ...]) -> None:
    with pytest.raises(UnplacedTimeError, match="came twice in America/Chicago") as caught:
        place(*local)
    assert 'fold = "first"' in caught.value.hint


@pytest.mark.parametrize(("fold", "hour"), [("first", 6), ("second", 7)])
def test_a_repeated_hour_that_is_told(fold: str, hour: int) -> None:
    assert place("2026-11-01T01:20", fold=fold) == [utc(f"2026-11-01T0{hour}:20")]


def test_a_skipped_hour_is_refused() -> None:
    # 2026-03-08, 02:00 CST becomes 03:00 CDT.
    with pytest.raises(UnplacedTimeError, match="2026-03-08 02:30:00 did not exist") as caught:
        place("2026-03-08T01:30", "2026-03-08T02:30")
    assert caught.value.row == 1
    assert place("2026-03-08T01:59", "2026-03-08T03:00") == [
        utc("2026-03-08T07:59"),
        utc("2026-03-08T08:00"),
    ]


@settings(deadline=None)
@given(
    st.datetimes(min_value=datetime(2020, 1, 1), max_value=datetime(2030, 1, 1)),  # noqa: DTZ001
    st.sampled_from(["America/Chicago", "Europe/London", "Australia/Lord_Howe", "Asia/Kolkata"]),
)
def test_placing_agrees_with_the_standard_library(moment: datetime, name: str) -> None:
    zone = ZoneInfo(name)
    first, second = (moment.replace(tzinfo=zone, fold=f).timestamp() for f in (0, 1))
    local = np.array([moment.replace(tzinfo=UTC).timestamp()])
    real = datetime.fromtimestamp(first, zone).replace(tzinfo=None, fold=0)
    if abs((real - moment).total_seconds()) > 1:
        with pytest.raises(UnplacedTimeError):
            to_utc(local, zone, fold=["first"], groups=[np.array([0])])
        return
    for fold, expected in (("first", first), ("second", second)):
        placed = to_utc(local, zone, fold=[fold], groups=[np.array([0])])
        assert placed[0] == pytest.approx(expected, abs=1e-5)


def test_the_edges_of_the_two_hours() -> None:
    # 02:00 comes once in November (08:00 UTC) and 01:00 twice; 02:00 is skipped in March.
    assert place("2026-11-01T02:00") == [utc("2026-11-01T08:00")]
    assert place("2026-11-01T00:59:59") == [utc("2026-11-01T05:59:59")]
    with pytest.raises(UnplacedTimeError, match="came twice"):
        place("2026-11-01T01:00")
    with pytest.raises(UnplacedTimeError, match="did not exist"):
        place("2026-03-08T02:00")


@pytest.mark.parametrize(
    ("year", "leap"), [(1900, False), (2000, True), (2024, True), (2100, False)]
)
def test_leap_days_of_the_gregorian_calendar(year: int, leap: bool) -> None:
    # Years of a full century are leap years only if 400 divides them.
    texts = [f"{year}-02-28 10:00"] * 70 + [f"{year}-02-29 10:00"]
    assert (parse_column(texts) is not None) is leap
    wrong = parse_all(texts).wrong
    assert bool(wrong) is not leap


def test_an_unknown_zone_is_refused() -> None:
    with pytest.raises(ValueError, match="write its IANA name"):
        find_zone("Central")


@pytest.mark.parametrize(
    "pattern", ["%m/%d %H:%M", "%m/%d/%Y", "%m/%d/%Y %I:%M", "%H", "%Y %H:%M", "hh:mm"]
)
def test_a_pattern_that_leaves_the_moment_open_is_refused(pattern: str) -> None:
    with pytest.raises(ValueError, match="leaves the moment open"):
        check_pattern(pattern)


@pytest.mark.parametrize(
    "pattern", ["%m/%d/%Y %H:%M", "%d.%m.%y %I:%M %p", "%H:%M", "%Y-%j %H:%M:%S", "%d %b %Y %H:%M"]
)
def test_a_full_pattern_is_accepted(pattern: str) -> None:
    check_pattern(pattern)
