"""Times written as counts of seconds or days."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tempwitness.readers.moments import Told, parse_all
from tempwitness.readers.zones import UnplacedTimeError
from tests.readers.build import bare, utc

if TYPE_CHECKING:
    from pathlib import Path


@pytest.mark.parametrize(
    ("texts", "moment", "offset"),
    [
        # 20,638 days lie between 1970-01-01 and 2026-07-04, and 18:10 is 65,400 s after midnight:
        # 20638 x 86400 + 65400 = 1783188600.
        (["1783188600"], "2026-07-04T18:10", 0.0),
        (["1783188600.5"], "2026-07-04T18:10:00.5", 0.0),
        (["1783188600000"], "2026-07-04T18:10", 0.0),
        # A spreadsheet counts 25,569 days to 1970-01-01, so 46,207 to 2026-07-04; 0.75 is 18:00.
        (["46207.75"], "2026-07-04T18:00", None),
        (["46207.5", "46207.756944444"], "2026-07-04T12:00", None),
    ],
)
def test_a_count_is_told_by_its_size(texts: list[str], moment: str, offset: float | None) -> None:
    found = parse_all(texts)
    assert found.column.seconds[0] == utc(moment)
    # A count of seconds is one of UTC; a spreadsheet shows the clock on the wall.
    assert bool(found.column.offset[0] == 0.0) is (offset is not None)
    assert found.understood != ()


@pytest.mark.parametrize(
    ("texts", "what"),
    [
        # Seconds counted from 2000-01-01: 1783188600 - 946684800 = 836503800, which is 1996.
        (["836503800"], "do not all lie in this century"),
        # Seconds counted from 1904-01-01, 24,107 days before 1970: 1783188600 + 2082844800.
        (["3866033400"], "from 1970, or from 1904"),
        (["46207", "46208"], "counts whole days"),
        (["46207.5", "46217.5", "46227.5"], "a day or more apart"),
        (["0", "60", "120"], "do not all lie in this century"),
        (["0.75", "0.76"], "do not all lie in this century"),
        (["1783188600", "1783188600000"], "do not all lie in this century"),
        (["1783188600000000"], "do not all lie in this century"),
    ],
)
def test_a_count_that_may_be_another_is_asked(texts: list[str], what: str) -> None:
    with pytest.raises(UnplacedTimeError, match=what) as caught:
        parse_all(texts)
    assert "2026-07-04 18:10" in caught.value.remedy


def test_the_count_from_1904_only_on_request() -> None:
    # It begins 1,462 days later (four years of 365 days, the 29th of
    # February 1900 that never was, and day 0: 1460 + 1 + 1): 46207 - 1462.
    found = parse_all(["44745.75"], Told("serial-1904"))
    assert found.column.seconds[0] == utc("2026-07-04T18:00")
    assert found.understood == (
        "times are days as other spreadsheets count them from 1904, to the second",
    )
    assert parse_all(["44745.75"]).column.seconds[0] == utc("2022-07-03T18:00")


def test_a_count_of_seconds_needs_no_zone(tmp_path: Path) -> None:
    log = bare(tmp_path, "time,temp_f\n1783188600,138\n1783188660,138\n")
    assert log.channels[0].at.tolist() == [1783188600.0, 1783188660.0]
    assert "times are seconds since 1970-01-01 UTC" in log.sources[0].understood


def test_a_word_among_counts_is_named(tmp_path: Path) -> None:
    from tempwitness.errors import InputError  # noqa: PLC0415 - one test needs it

    with pytest.raises(InputError, match="'soon' is not a count") as caught:
        bare(tmp_path, "time,temp_f\n1783188600,138\nsoon,138\n", time_format="epoch-s")
    assert caught.value.location is not None
    assert caught.value.location.line == 3
