"""Under a time control every point that was read must keep it.

FDA Food Code 2022 3-501.19(C): food that starts at 41 °F or below may stand for 6 h while its
warmest portion does not pass 70 °F; (B): hot food starts at 135 °F or above.
"""

from __future__ import annotations

from datetime import date
from typing import Literal

import pytest

from tempwitness.model.lot import TimeControlPlan
from tempwitness.model.vocabulary import Answer
from tests.support import ZERO, Readings, channel, found, judge, note, staged


def answer(option: Literal["4h", "6h"], step: str, requirement: str, *points: Readings) -> str:
    plan = TimeControlPlan(ZERO + 2 * 3600, option, date(2026, 7, 1), Answer.YES)
    channels = [channel(r, point=name) for name, r in zip("ab", points, strict=False)]
    steps = [note(0, step), note(2, "serve"), note(5, event="finished")]
    log = staged(channels, steps, time_control=[plan])
    return found(judge(log), requirement).verdict.value


COOL: Readings = [(0, 40), (2, 40), (4, 60), (5, 65)]
WARM: Readings = [(0, 40), (2, 40), (4, 75), (5, 80)]
HOT: Readings = [(0, 150), (2, 140), (5, 120)]
LUKEWARM: Readings = [(0, 150), (2, 120), (5, 110)]


@pytest.mark.parametrize("points", [(COOL, WARM), (WARM, COOL)])
def test_the_warmest_point_decides_the_ceiling(points: tuple[Readings, Readings]) -> None:
    assert answer("6h", "cold_hold", "tphc-end-6h", COOL) == "met"
    assert answer("6h", "cold_hold", "tphc-end-6h", *points) == "not_met"


@pytest.mark.parametrize("points", [(HOT, LUKEWARM), (LUKEWARM, HOT)])
def test_the_coldest_point_decides_the_start(points: tuple[Readings, Readings]) -> None:
    assert answer("4h", "hot_hold", "tphc-start-4h", HOT) == "met"
    assert answer("4h", "hot_hold", "tphc-start-4h", *points) == "not_met"


def test_a_point_that_was_read_before_the_last_stage_alone_counts_as_well() -> None:
    """75 °F in one point on the way; from then on only the other one was read."""
    plan = TimeControlPlan(ZERO, "6h", date(2026, 7, 1), Answer.YES)
    cool = channel([(0, 40), (1, 50), (3, 60), (4, 60)], point="a")
    warm = channel([(0, 40), (1, 75)], point="b")
    steps = [note(0, "transport"), note(2, "serve"), note(4, event="finished")]
    log = staged([cool, warm], steps, time_control=[plan])
    assert found(judge(log), "tphc-end-6h").verdict.value == "not_met"
