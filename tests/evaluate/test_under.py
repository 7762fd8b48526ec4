"""One lot under many codes: each answer is the one that the code gives by itself."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tempwitness.evaluate import Asking
from tempwitness.evaluate.under import under_codes
from tempwitness.model.vocabulary import Verdict
from tempwitness.rulebook.files import code_ids
from tempwitness.rulebook.load import load_code
from tempwitness.stages import monitoring_intervals
from tests.support import LATER, channel, judge, note, staged

if TYPE_CHECKING:
    from tempwitness.model.logs import StagedLog
    from tempwitness.model.under import UnderCode

IDS = code_ids()
DAY = [(0, 40.0), (1, 90.0), (4, 170.0), (6, 203.0), (7, 180.0), (8, 150.0), (9, 140.0)]
COOLING = [(9.5, 120.0), (10, 100.0), (11, 68.0), (12, 55.0), (13, 44.0), (14, 40.0), (20, 38.0)]
STEPS = {0: "cook", 6: "rest", 8: "serve", 9: "cool", 14: "cold_hold"}


def lot() -> StagedLog:
    steps = [note(hour, name) for hour, name in STEPS.items()]
    return staged([channel([*DAY, *COOLING])], [*steps, note(20, event="finished")])


def answers(log: StagedLog, ids: list[str]) -> dict[str, UnderCode]:
    codes = [load_code(code_id) for code_id in ids]
    asking = Asking(LATER)
    found = under_codes(log, codes, intervals=monitoring_intervals(), asking=asking)
    return {u.id: u for u in found}


@pytest.mark.parametrize("code_id", IDS)
def test_answer_is_the_one_the_code_gives_alone(code_id: str) -> None:
    together, alone = answers(lot(), IDS)[code_id], judge(lot(), code=load_code(code_id))
    law = [f for f in alone.findings if f.weight.binds]
    if law and together.verdict is not Verdict.NOT_APPLICABLE:
        assert together.verdict is alone.verdict
    if together.requirement:
        rows = [f for f in alone.findings if f.requirement == f"{code_id}#{together.requirement}"]
        assert together.verdict in {f.verdict for f in rows}
        assert together.reason in {f.reason for f in rows}
        assert together.citation in {f.citation for f in rows}


def test_the_same_lot_is_answered_differently_where_the_codes_differ() -> None:
    found = answers(lot(), ["us/food-code/2022", "us/ny/14-1"])
    # 140 °F at 9:00 and 68 °F at 11:00: 135 to 70 °F within 2 h (Food Code 3-501.14(A)).
    assert found["us/food-code/2022"].verdict is Verdict.MET
    # Served from 150 down to 140 °F: New York asks for 140 °F (10 NYCRR 14-1.40(a)).
    assert found["us/ny/14-1"].weight is not None


def test_guidance_that_fails_is_not_called_law() -> None:
    advice = answers(lot(), ["au/large-cuts"])["au/large-cuts"]
    assert advice.weight is not None
    assert not advice.weight.binds


def test_a_code_that_was_not_in_force_is_named_as_such() -> None:
    """WAC 246-215 as it stood until 28 February 2022, and as it stands; the lot is of 2026."""
    found = answers(lot(), ["us/wa/246-215", "us/wa/246-215-2019"])
    assert found["us/wa/246-215"].dated == ""
    assert found["us/wa/246-215-2019"].dated == "in force until 2022-02-28"
