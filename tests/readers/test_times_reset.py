"""Rows of an instrument whose clock had lost its time.

That clocks begin again at 1970-01-01 or 2000-01-01 is common practice, no source. What is expected
follows from one rule: such a reading was taken at some moment between its neighbours in the file.
Chicago in July is five hours behind UTC.
"""

from __future__ import annotations

from datetime import UTC, datetime
from typing import TYPE_CHECKING

import numpy as np
import pytest

from tempwitness.errors import InputError
from tempwitness.model.vocabulary import Flag, Verdict
from tempwitness.pipeline import check
from tempwitness.quality import qualify
from tempwitness.readers import BareOptions
from tests.readers.build import LAMB, bare, utc

if TYPE_CHECKING:
    from pathlib import Path

GOOD = [f"2026-07-04 18:{m}0" for m in range(6)]


def table(*rows: tuple[str, str], head: str = "time,temp_f") -> str:
    return "\n".join([head, *(f"{at},{rest}" for at, rest in rows)]) + "\n"


def held(*lost: str, at: int = 3, cell: str = "120") -> str:
    """Six good rows of 140 °F, ten minutes apart, with some of a lost clock among them."""
    rows = [(moment, "140") for moment in GOOD]
    return table(*rows[:at], *((moment, cell) for moment in lost), *rows[at:])


@pytest.mark.parametrize("lost", ["1970-01-01 00:05", "2000-01-01 00:05", "2017-03-01 00:05"])
def test_the_reading_stands_between_its_neighbours_and_says_nothing(
    tmp_path: Path, lost: str
) -> None:
    log = bare(tmp_path, held(lost))
    (channel,) = log.channels
    assert channel.low is not None
    assert channel.high is not None
    assert channel.line.tolist() == [2, 3, 4, 5, 6, 7, 8]
    # Between 18:20 and 18:30, which are 23:20 and 23:30 UTC.
    assert channel.at[3] == utc("2026-07-04T23:25")
    assert channel.value[3] == 120.0
    assert (channel.low[3], channel.high[3]) == (-np.inf, np.inf)
    (change,) = log.changes
    assert (change.line, change.column, change.written, change.rows) == (5, "time", lost, 1)
    assert change.used == "some moment after 2026-07-04 18:20:00 and before 2026-07-04 18:30:00"
    qualified = qualify(log)
    assert qualified.flags[0][3] == Flag.SUSPECT
    assert any("lost its time" in doubt.reason for doubt in qualified.doubts)


def test_a_run_keeps_its_order_and_rows_of_one_stamp_their_moment(tmp_path: Path) -> None:
    text = held("1970-01-01 00:05", "1970-01-01 00:05", "1970-01-01 00:06")
    log = bare(tmp_path, text)
    # Two stamps part the ten minutes from 18:20 to 18:30 in three.
    assert np.diff(log.channels[0].at[2:7]).tolist() == pytest.approx([200.0, 0.0, 200.0, 200.0])
    assert [c.rows for c in log.changes] == [3]


@pytest.mark.parametrize(("at", "row", "used"), [(0, 0, "before"), (6, 6, "after")])
def test_a_run_at_either_end_stays_there(tmp_path: Path, at: int, row: int, used: str) -> None:
    log = bare(tmp_path, held("1970-01-01 00:05", at=at))
    (channel,) = log.channels
    assert channel.value[row] == 120.0
    assert log.changes[0].used.startswith(f"some moment {used} 2026-07-04 18:")


@pytest.mark.parametrize(
    ("text", "what"),
    [
        (
            table(*[(f"1970-01-01 0{h}:00", "140") for h in range(5)]),
            "all times lie before 2000-01-02",
        ),
        (held("1970-01-01 00:05") + "2026-07-04 18:05,140\n", "not in order"),
        (held(*[f"1970-01-01 00:0{m}" for m in range(7)]), "not plain which of them are right"),
        (table(("2024-01-01 10:00", "140"), ("2026-07-04 18:00", "140")), "not plain which"),
        (
            table(
                *[(f"{m}", "140,") for m in GOOD],
                ("1970-01-01 00:05", "140,cool"),
                head="time,temp_f,step",
            ),
            "says what was done, but its clock had lost the time",
        ),
    ],
)
def test_what_nothing_tells_is_refused(tmp_path: Path, text: str, what: str) -> None:
    with pytest.raises(InputError, match=what) as caught:
        bare(tmp_path, text)
    assert caught.value.location is not None
    assert caught.value.location.line is not None
    assert caught.value.hint


def test_a_lost_reading_that_may_break_the_limit_is_not_bridged(tmp_path: Path) -> None:
    # 140 °F all the time keeps 135 °F (FDA Food Code 2022, 3-501.16(A)(1)); a reading of 120 °F at
    # an unknown moment leaves room for a break.
    head, *rows = held("1970-01-01 00:05").splitlines()
    said = {GOOD[0]: "hot_hold,", GOOD[-1]: ",finished"}
    steps = [said.get(row.split(",")[0], ",") for row in rows]
    whole = [f"{row},{step}" for row, step in zip(rows, steps, strict=True)]
    verdicts = {}
    for name, kept in (("with", whole), ("without", [r for r in whole if "1970" not in r])):
        path = tmp_path / f"{name}.csv"
        path.write_text("\n".join([f"{head},step,event", *kept]) + "\n", encoding="utf-8")
        asked = datetime(2026, 7, 5, 12, tzinfo=UTC)
        found = check(path, BareOptions(**LAMB), at=asked).evaluation
        verdicts[name] = next(
            f.verdict for f in found.findings if f.requirement.endswith("hot-hold")
        )
    assert verdicts == {"with": Verdict.NOT_SHOWN, "without": Verdict.MET}


def test_a_whole_log_of_one_year_is_no_lost_clock(tmp_path: Path) -> None:
    text = table(("2025-08-01 10:00", "140"), ("2026-07-04 18:00", "140"))
    assert bare(tmp_path, text).changes == ()
