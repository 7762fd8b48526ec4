"""Lists that look filled in afterwards: a question, never a flag.

What is asked about is common practice among inspectors, no source.
"""

from __future__ import annotations

from dataclasses import replace

from tempwitness.model.logs import RawLog
from tempwitness.model.lot import Lot, Piece
from tempwitness.quality import qualify
from tests.quality.made import LAMB, OK, channel, log

HALF_HOURS = [10.0 + 30 * i for i in range(10)]
FALLING = [150.0, 148, 147, 145, 144, 143, 142, 141, 140, 139]


def test_ten_readings_on_the_half_hour_are_asked_about() -> None:
    # T0 is 21:20 UTC, so that ten minutes later is half past nine.
    typed = replace(channel(FALLING, at=HALF_HOURS), source="record")
    found = log(typed)
    (question,) = found.questions
    assert question.startswith("All 10 times of the readings in the record are full or half hours")
    assert (found.flags[0].tolist(), found.doubts) == ([OK] * 10, ())
    one_off = replace(channel(FALLING, at=[*HALF_HOURS[:-1], 283]), source="record")
    assert log(one_off).questions == ()
    # A logger keeps to the half hour honestly.
    assert log(channel(FALLING, at=HALF_HOURS)).questions == ()
    nine = replace(channel(FALLING[:9], at=HALF_HOURS[:9]), source="record")
    assert log(nine).questions == ()


def test_six_readings_that_stand_there_twice_are_asked_about() -> None:
    first = channel([150, 148, 147, 145, 144, 143], at=[0, 33, 61, 92, 121, 152])
    second = replace(first, piece="B", at=first.at + 86400, line=first.line + 6)
    (question,) = log(first, second).questions
    assert question == (
        "pit.csv, core of piece B: 6 readings from line 8 on are, figure by figure, those of "
        "pit.csv, core of piece A from line 2 on. Was the food read both times?"
    )
    twice = channel([150, 148, 147, 145, 144, 143] * 2, at=[31.0 * i for i in range(12)])
    assert len(log(twice).questions) == 1
    # A cabinet that keeps its temperature reads the same all day.
    steady = replace(first, value=first.value * 0 + 150)
    assert log(steady, replace(steady, piece="B")).questions == ()
    # Instruments repeat themselves honestly.
    quick = channel([150, 148, 147, 145, 144, 143] * 2)
    assert log(quick).questions == ()


def test_readings_typed_in_later_are_asked_about() -> None:
    lot = Lot("lamb-1", LAMB, "us/food-code/2022", "UTC", (Piece("A"),))
    raw = RawLog(lot, (channel([150]),), (), (), (), typed_later=(2, 3))
    found = qualify(raw)
    (question,) = found.questions
    assert question.startswith("Readings 2, 3 of the record were typed in later.")
    assert found.doubts == ()
