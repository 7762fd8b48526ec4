"""The readings that a finished record lacked, judged again with each of them in place."""

from __future__ import annotations

from datetime import datetime

from tempwitness.model.finding import Evaluation
from tempwitness.planning import missing_readings
from tests.support import ZERO, Readings, channel, found, judge, note, staged

#: Cooked, rested in a closed box and found hours later; nothing was read in between.
STEPS = [
    note(0, "cook"),
    note(10, "rest"),
    note(15, "cool"),
    note(17, "cold_hold"),
    note(22, event="finished"),
]
READ: Readings = [(0, 38.0), (5, 150.0), (10, 203.0), (15, 180.0), (16, 100.0), (22, 38.0)]


def evaluation(readings: Readings) -> Evaluation:
    return judge(staged([channel(readings)], STEPS))


def test_one_reading_is_named_for_all_that_it_would_have_settled() -> None:
    missing = missing_readings(evaluation(READ))
    dated = [m for m in missing if m.at is not None]
    assert len(dated) == len({(m.piece, m.at) for m in dated})
    assert [m.at for m in dated] == sorted(m.at for m in dated if m.at)
    left_open = {
        f"{f.title} ({f.citation})"
        for f in evaluation(READ).binding
        if f.verdict.value == "not_shown" and f.settle is not None
    }
    assert left_open
    assert {title for m in missing for title in m.closes} == left_open


def test_a_reading_that_was_missing_settles_what_it_is_said_to() -> None:
    """FDA Food Code 2022, 3-501.14(A)(1): 135 to 70 °F within 2 h, read 100 °F after one."""
    before = evaluation(READ)
    fall = found(before, "cool-135-to-70")
    assert fall.verdict.value == "not_shown"
    named = next(m for m in missing_readings(before) if any(fall.title in c for c in m.closes))
    assert named.at is not None
    hours = (datetime.fromisoformat(named.at).timestamp() - ZERO) / 3600
    assert named.wanted == ("a reading of 70 °F or less",)
    taken = sorted([*READ, (hours, 70.0)], key=lambda pair: float(pair[0]))
    assert found(evaluation(taken), "cool-135-to-70").verdict.value == "met"


def test_nothing_is_missing_where_everything_is_shown_or_broken() -> None:
    cold: Readings = [(15, 180.0), (16, 60.0), (17, 40.0), (22, 38.0)]
    warm: Readings = [(0, 38.0), (4, 150.0), (7, 190.0), (10, 203.0), (12.5, 190.0)]
    missing = missing_readings(evaluation([*warm, *cold]))
    assert [m for m in missing if m.stage in ("rest", "cool", "cold_hold")] == []
