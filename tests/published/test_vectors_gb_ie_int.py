"""Worked examples of the laws of England, Wales, Northern Ireland and Scotland.

Sources: Schedule 4 of SI 2013/2996, WSI 2006/31, SR 2006/3 and SSI 2006/3; Regulation (EC)
852/2004. Each test names the paragraph that its expected side follows from.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tempwitness.model.lot import Approval
from tempwitness.rulebook.load import load_code
from tests.published.traces import answer, finding, judged
from tests.support import Readings, channel, found, judge, note, prepared_on, staged

if TYPE_CHECKING:
    from tempwitness.model.rule import Code

ENGLAND, WALES, NORTHERN_IRELAND, SCOTLAND = (
    load_code(name) for name in ("gb/eng/2013", "gb/wls/2006", "gb/nir/2006", "gb/sct/2006")
)
SAME_SCHEDULE = pytest.mark.parametrize(
    "code", [ENGLAND, WALES, NORTHERN_IRELAND], ids=["england", "wales", "northern-ireland"]
)
HOT, COLD = {"served": "hot"}, {"served": "cold"}
COUNTER = {"display": "exposed_for_sale"}


def said(
    requirement: str,
    stage: str,
    readings: Readings,
    code: Code,
    facts: dict[str, str] | None = None,
) -> str:
    return answer(requirement, stage, readings, code=code, celsius=True, facts=facts)


def steady(value: float, hours: float = 6.0) -> Readings:
    return [(0, value), (hours / 2, value), (hours, value)]


def below(limit: float, away: str, *, by: float = 5.0) -> Readings:
    """Food at a limit that leaves it at 1:00, and is back after a time that is read at both ends.

    It is beyond the limit from the first reading to the last, which makes that time certain.
    """
    hours, minutes = (int(p) for p in away.split(":"))
    last = f"{1 + hours}:{minutes:02}"
    back = f"{1 + hours}:{minutes:02}:01"
    start: Readings = [(0, limit), ("0:59:59", limit), ("1:00", limit - by), ("1:15", limit - by)]
    return [*start, (last, limit - by), (back, limit)]


@SAME_SCHEDULE
@pytest.mark.parametrize(
    ("requirement", "stage", "facts", "value", "expected"),
    [
        # Sch. 4 para 6: the offence is to keep it below 63 °C.
        ("hot-hold", "hot_hold", None, 63.1, "met"),
        ("hot-hold", "hot_hold", None, 63.0, "met"),
        ("hot-hold", "hot_hold", None, 62.9, "not_met"),
        ("serve-hot", "serve", HOT, 63.0, "met"),
        ("serve-hot", "serve", HOT, 62.9, "not_met"),
        # Sch. 4 para 2(1): the offence is to keep it above 8 °C.
        ("cold-hold", "thaw", {"raw_for_cooking": "no"}, 8.1, "not_met"),
        ("cold-hold", "cold_hold", {"raw_for_cooking": "no"}, 7.9, "met"),
        ("cold-hold", "cold_hold", {"raw_for_cooking": "no"}, 8.0, "met"),
        ("cold-hold", "cold_hold", {"raw_for_cooking": "no"}, 8.1, "not_met"),
        ("serve-cold", "serve", COLD, 8.0, "met"),
        ("serve-cold", "serve", COLD, 8.1, "not_met"),
        ("cold-display", "cold_hold", COUNTER, 8.0, "met"),
        ("cold-display", "cold_hold", COUNTER, 8.1, "not_met"),
        # Paras 2(1) and 6: carried and taken in cold or hot.
        ("carry", "transport", {"raw_for_cooking": "no"}, 8.0, "met"),
        ("carry", "transport", {"raw_for_cooking": "no"}, 63.0, "met"),
        ("carry", "transport", {"raw_for_cooking": "no"}, 62.9, "not_met"),
        ("carry", "receive", {"raw_for_cooking": "no"}, 8.1, "not_met"),
        ("serve-hot-or-cold", "serve", None, 63.0, "met"),
        ("serve-hot-or-cold", "serve", None, 8.0, "met"),
        ("serve-hot-or-cold", "serve", None, 35.0, "not_met"),
    ],
)
def test_limits_of_schedule_4(
    code: Code,
    requirement: str,
    stage: str,
    facts: dict[str, str] | None,
    value: float,
    expected: str,
) -> None:
    assert said(requirement, stage, steady(value), code, facts) == expected


@SAME_SCHEDULE
@pytest.mark.parametrize(
    ("away", "expected"),
    [
        # Sch. 4 para 7(2): less than two hours. Read at both ends, 2 h are 2 h.
        ("0:30", "met"),
        ("1:59", "met"),
        ("2:00", "not_met"),
        ("2:01", "not_met"),
    ],
)
def test_hot_food_below_63_once(code: Code, away: str, expected: str) -> None:
    assert said("serve-hot", "serve", below(63.0, away), code, HOT) == expected
    assert said("hot-hold", "hot_hold", below(63.0, away), code) == expected


@SAME_SCHEDULE
@pytest.mark.parametrize(
    ("away", "expected"),
    [
        # Sch. 4 para 5(1): less than four hours.
        ("2:01", "met"),
        ("3:59", "met"),
        ("4:00", "not_met"),
        ("4:01", "not_met"),
    ],
)
def test_cold_food_above_8_once(code: Code, away: str, expected: str) -> None:
    readings = below(8.0, away, by=-4.0)
    assert said("serve-cold", "serve", readings, code, COLD) == expected
    assert said("cold-display", "cold_hold", readings, code, COUNTER) == expected


@SAME_SCHEDULE
def test_a_refrigerator_has_no_tolerance(code: Code) -> None:
    """Sch. 4 para 5(1) speaks of service and display."""
    readings = below(8.0, "0:30", by=-4.0)
    assert said("cold-hold", "cold_hold", readings, code, {"raw_for_cooking": "no"}) == "not_met"


@SAME_SCHEDULE
def test_a_producer_and_a_reason_need_proof_with_limits_of_their_own(code: Code) -> None:
    """Sch. 4 paras 4 and 5(2): shown with nothing known of the limits, it is still not shown."""
    for kind in ("producer_temperature", "limited_period"):
        proof = Approval(kind, "example council", "1", prepared_on("2026-01-01"))
        found_so = finding(
            "cold-hold",
            "cold_hold",
            steady(9.0),
            code=code,
            celsius=True,
            facts={"raw_for_cooking": "no"},
            approvals=(proof,),
        )
        assert found_so.verdict.value == "not_shown"


@SAME_SCHEDULE
def test_raw_food_that_is_cooked_is_let_off(code: Code) -> None:
    """Sch. 4 para 3: raw food that further processing, such as cooking, makes fit."""
    steps = [note(0, "cold_hold"), note(2, "cook"), note(4, event="finished")]
    readings: Readings = [(0, 9.0), (1, 9.5), (2, 9.0), (3, 60.0), (4, 80.0)]
    log = staged([channel(readings, celsius=True)], steps)
    raw = found(judge(log, code=code), "cold-hold")
    assert raw.verdict.value == "met"
    assert "Raw food" in raw.allowance
    # Nobody says what becomes of it: a question.
    asked = judged("cold_hold", steady(9.0), code=code, celsius=True)
    assert found(asked, "cold-hold").verdict.value == "not_shown"
    assert "Is it raw, and will it be cooked before it is eaten?" in asked.questions


@SAME_SCHEDULE
def test_an_approved_plant_is_outside_schedule_4(code: Code) -> None:
    """Sch. 4 para 1: not what is done under an approval by Regulation (EC) 853/2004."""
    plant = {"approved_853": "yes"}
    assert said("hot-hold", "hot_hold", steady(50.0), code, plant) == "not_applicable"
    assert said("cold-hold", "cold_hold", steady(12.0), code, plant) == "not_applicable"


@SAME_SCHEDULE
@pytest.mark.parametrize(
    ("answered", "expected"), [("yes", "met"), ("no", "not_met"), (None, "not_applicable")]
)
def test_registration(code: Code, answered: str | None, expected: str) -> None:
    """Regulation (EC) 852/2004 Art. 6(2); occasional food of a charity need not be registered."""
    facts = {} if answered is None else {"registered": answered}
    assert said("register", "hot_hold", steady(70.0), code, facts) == expected
    charity = {**facts, "occasional_charity": "yes"}
    assert said("register", "hot_hold", steady(70.0), code, charity) == "not_applicable"


def test_what_was_read_in_which_text() -> None:
    """Para 2 in England, paras 2, 3, 6 and 7 in Wales, para 5 in Northern Ireland."""
    read = {
        code.head.id: {r.id: r.confirmed.value for r in code.requirements}
        for code in (ENGLAND, WALES, NORTHERN_IRELAND)
    }
    assert read["gb/eng/2013"]["cold-hold"] == read["gb/wls/2006"]["cold-hold"] == "text"
    assert read["gb/eng/2013"]["hot-hold"] == "memory"
    assert read["gb/wls/2006"]["hot-hold"] == "text"
    assert read["gb/nir/2006"]["hot-hold"] == "second-hand"


@pytest.mark.parametrize(
    ("requirement", "stage", "value", "facts", "expected"),
    [
        # SSI 2006/3 Sch. 4 para 2(1): above 63 °C, or in a cold place without a number.
        ("hot-hold", "hot_hold", 63.1, None, "met"),
        ("hot-hold", "hot_hold", 63.0, None, "not_met"),
        ("hot-hold", "hot_hold", 62.9, None, "not_met"),
        ("carry", "transport", 63.1, None, "met"),
        ("carry", "transport", 63.0, {"kept_in_cold_place": "no"}, "not_met"),
        ("carry", "transport", 12.0, {"kept_in_cold_place": "yes"}, "met"),
        ("carry", "transport", 12.0, None, "not_shown"),
        ("cold-place", "cold_hold", 12.0, {"kept_in_cold_place": "yes"}, "met"),
        ("cold-place", "cold_hold", 4.0, {"kept_in_cold_place": "no"}, "not_met"),
        ("cold-place", "cold_hold", 4.0, None, "not_shown"),
        # Para 2(2): exposed for sale, or reasonably at hand for sale.
        ("hot-hold", "hot_hold", 50.0, COUNTER, "not_applicable"),
        ("hot-hold", "hot_hold", 50.0, {"available_for_sale": "reasonable"}, "not_applicable"),
        # Para 3(1): at least 82 °C, once.
        ("reheat-82", "reheat", 82.1, None, "met"),
        ("reheat-82", "reheat", 82.0, None, "met"),
        ("reheat-82", "reheat", 81.9, None, "not_met"),
        # A recommendation in Scotland.
        ("cold-8-recommended", "cold_hold", 8.0, None, "met"),
        ("cold-8-recommended", "cold_hold", 8.1, None, "not_met"),
    ],
)
def test_scotland(
    requirement: str, stage: str, value: float, facts: dict[str, str] | None, expected: str
) -> None:
    assert said(requirement, stage, steady(value, 2.0), SCOTLAND, facts) == expected
