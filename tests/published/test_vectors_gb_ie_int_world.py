"""Worked examples of Regulation (EC) 852/2004, of Codex and of WHO.

Sources: Regulation (EC) 852/2004 Annex II and Arts 5 and 6; CAC/RCP 39-1993 section 7; Five Keys to
Safer Food.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tempwitness.rulebook.load import load_code
from tests.published.traces import answer, held
from tests.support import Readings, channel, found, judge, lamb, note, staged

if TYPE_CHECKING:
    from tempwitness.model.rule import Code

CODEX, WHO, GHP = (
    load_code(name) for name in ("codex/rcp-39-1993", "who/five-keys/2006", "codex/cxc-1-1969")
)
UNION = pytest.mark.parametrize(
    "code", [load_code("eu/852-2004"), load_code("ie/852-2004")], ids=["eu", "ie"]
)


def steady(value: float, hours: float = 4.0) -> Readings:
    return [(0, value), (hours / 2, value), (hours, value)]


@UNION
@pytest.mark.parametrize(
    ("requirement", "stage", "value"),
    [
        ("heat-by-plan", "cook", 95.0),
        ("heat-by-plan", "reheat", 95.0),
        ("cold-chain", "cold_hold", 1.0),
        ("cold-chain", "hot_hold", 80.0),
        ("cool-fast", "cool", 1.0),
        ("thaw", "thaw", 1.0),
    ],
)
def test_a_duty_without_a_number_asks_for_one(
    code: Code, requirement: str, stage: str, value: float
) -> None:
    """Annex II ch. IX paras 5 to 7, Art. 5: however good the reading, no number is printed."""
    assert answer(requirement, stage, steady(value), code=code, celsius=True) == "needs_limit"


@UNION
@pytest.mark.parametrize(
    ("requirement", "question", "stage"),
    [
        ("register", "registered", "cook"),
        ("haccp", "haccp_records_kept", "cook"),
        ("trained", "hygiene_trained", "cook"),
        ("culture", "safety_culture", "cook"),
        ("vehicle-monitored", "vehicle_monitored", "transport"),
    ],
)
@pytest.mark.parametrize(
    ("said", "expected"), [("yes", "met"), ("no", "not_met"), ("", "not_applicable")]
)
def test_papers_of_the_union(
    code: Code, requirement: str, question: str, stage: str, said: str, expected: str
) -> None:
    """Arts 5 and 6(2), Annex II ch. IV para 7, ch. XII and ch. XIa."""
    facts = {question: said} if said else {}
    found_so = answer(requirement, stage, steady(80.0), code=code, celsius=True, facts=facts)
    assert found_so == expected


@UNION
@pytest.mark.parametrize(
    ("business", "expected"),
    [("mobile", "not_met"), ("temporary_event", "not_met"), ("restaurant", "not_applicable")],
)
def test_temporary_premises(code: Code, business: str, expected: str) -> None:
    """Annex II ch. III is for stalls, marquees and vehicles."""
    facts = {"premises_at_event": "no"}
    found_so = answer(
        "temporary-premises",
        "cook",
        steady(80.0),
        code=code,
        celsius=True,
        facts=facts,
        business=business,
    )
    assert found_so == expected


def codex(requirement: str, stage: str, readings: Readings) -> str:
    return answer(requirement, stage, readings, code=CODEX, celsius=True)


@pytest.mark.parametrize(
    ("requirement", "stage", "readings", "expected"),
    [
        # s. 7.9: at least 60 °C until served.
        ("hot-hold", "hot_hold", steady(60.0), "met"),
        ("hot-hold", "hot_hold", steady(60.1), "met"),
        ("hot-hold", "hot_hold", steady(59.9), "not_met"),
        # s. 7.6: from 60 to 10 °C in less than 2 h; the time down to 60 °C is free.
        ("cool-60-to-10", "cool", [(0, 60.0), ("1:59:59", 10.0)], "met"),
        ("cool-60-to-10", "cool", [(0, 95.0), (1, 60.0), ("2:59:59", 10.0)], "met"),
        ("cool-60-to-10", "cool", [(0, 60.0), (2, 10.1), ("2:01", 10.0)], "not_met"),
        ("cool-on-to-4", "cool", [(0, 60.0), (1, 10.0)], "needs_limit"),
        ("cook-enough", "cook", steady(95.0), "needs_limit"),
    ],
)
def test_codex(requirement: str, stage: str, readings: Readings, expected: str) -> None:
    assert codex(requirement, stage, readings) == expected


def test_codex_exactly_two_hours_is_not_less_than_two() -> None:
    """s. 7.6: at 60 °C at 0:00 and at 10 °C at 2:00 exactly is not shown to be less."""
    assert codex("cool-60-to-10", "cool", [(0, 60.0), (2, 10.0)]) != "met"


def after_cold(readings: Readings, *steps: tuple[str, str]) -> dict[str, str]:
    """Verdicts of Codex for food cooked at 0:00, kept cold from 4:00, and then as noted."""
    notes = [note(0, "cook"), note(2, "cool"), note(4, "cold_hold")]
    notes += [note(at, name) for at, name in steps]
    before: Readings = [(0, 20.0), (2, 80.0), (4, 4.0)]
    log = staged(
        [channel([*before, *readings], celsius=True)],
        [*notes, note(readings[-1][0], event="finished")],
    )
    return {
        f.requirement.split("#")[1]: f.verdict.value
        for f in judge(log, code=CODEX).findings
        if f.verdict.value != "not_applicable"
    }


@pytest.mark.parametrize(
    ("reached", "top", "expected"),
    [
        ("10:59", 75.0, "met"),
        ("11:00", 75.0, "met"),
        ("11:01", 74.9, "not_met"),
    ],
)
def test_codex_reheating_in_an_hour_from_the_refrigerator(
    reached: str, top: float, expected: str
) -> None:
    """s. 7.9: the hour counts from leaving the refrigerator at 10:00, not from the stove."""
    readings: Readings = [("10:00", 4.0), ("10:20", 12.0), (reached, top)]
    steps = (("10:00", "prep"), ("10:20", "reheat"))
    assert after_cold(readings, *steps)["reheat-75"] == expected


def test_codex_chills_nothing_again() -> None:
    """s. 7.9: what was reheated does not go back."""
    readings: Readings = [("10:00", 4.0), ("10:50", 75.0), ("12:00", 3.0), ("13:00", 3.0)]
    again = after_cold(readings, ("10:00", "reheat"), ("11:00", "cool"))
    assert again["no-chilling-again"] == "not_met"
    served = after_cold(readings[:2], ("10:00", "reheat"))
    assert "no-chilling-again" not in served


@pytest.mark.parametrize(("value", "expected"), [(4.0, "met"), (4.1, "not_met"), (3.9, "met")])
def test_codex_store(value: float, expected: str) -> None:
    """s. 7.7: cooked food at 4 °C or below."""
    readings: Readings = [("4:01", value), ("8:00", value)]
    notes = [note(0, "cook"), note(2, "cool"), note("4:01", "cold_hold")]
    log = staged(
        [channel([(0, 20.0), (2, 80.0), *readings], celsius=True)],
        [*notes, note(8, event="finished")],
    )
    assert found(judge(log, code=CODEX), "store").verdict.value == expected


@pytest.mark.parametrize(
    ("requirement", "question", "said", "weight", "expected"),
    [
        ("sample", "sample_kept", "yes", "2 kg", "met"),
        ("sample", "sample_kept", "no", "2 kg", "not_met"),
        ("sample", "sample_kept", "unknown", "2 kg", "not_applicable"),
        ("joint-size", "joint_size_limited", "unknown", "2.4 kg", "not_applicable"),
        ("joint-size", "joint_size_limited", "unknown", "2.5 kg", "not_applicable"),
        ("joint-size", "joint_size_limited", "unknown", "2.6 kg", "not_shown"),
        ("joint-size", "joint_size_limited", "no", "3 kg", "not_met"),
    ],
)
def test_codex_papers(
    requirement: str, question: str, said: str, weight: str, expected: str
) -> None:
    found_so = answer(
        requirement,
        "cook",
        steady(80.0),
        code=CODEX,
        celsius=True,
        facts={question: said},
        food=lamb(weight=weight),
    )
    assert found_so == expected


def test_codex_principles_print_no_number() -> None:
    """CXC 1-1969: limits are the plan's own."""
    assert answer("control", "cook", steady(95.0), code=GHP, celsius=True) == "needs_limit"
    for said, expected in (("yes", "met"), ("no", "not_met")):
        facts = {"devices_calibrated": said}
        found_so = answer("devices", "cook", steady(95.0), code=GHP, celsius=True, facts=facts)
        assert found_so == expected


@pytest.mark.parametrize(
    ("requirement", "stage", "readings", "expected"),
    [
        ("cook-70", "cook", held(70.0, 0.0), "met"),
        ("cook-70", "cook", held(70.1, 0.0), "met"),
        ("cook-70", "cook", held(69.9, 0.0), "not_met"),
        # Key 4: above 60 °C, best below 5 °C.
        ("hot-hold", "hot_hold", steady(60.1), "met"),
        ("hot-hold", "hot_hold", steady(60.0), "not_met"),
        ("cold-hold", "cold_hold", steady(4.9), "met"),
        ("cold-hold", "cold_hold", steady(5.0), "not_met"),
    ],
)
def test_five_keys(requirement: str, stage: str, readings: Readings, expected: str) -> None:
    assert answer(requirement, stage, readings, code=WHO, celsius=True) == expected


@pytest.mark.parametrize(
    ("end", "expected"), [("2:59", "met"), ("3:00", "met"), ("3:01", "not_met")]
)
def test_five_keys_two_hours_at_room_temperature(end: str, expected: str) -> None:
    """Key 4: resting and serving are added up."""
    steps = [note(0, "cook"), note(1, "rest"), note(2, "serve"), note(end, event="finished")]
    readings: Readings = [(0, 50.0), ("0:59:59", 60.1), (1, 60.0), (2, 50.0), (end, 40.0)]
    log = staged([channel(readings, celsius=True)], steps)
    findings = [
        f.verdict.value for f in judge(log, code=WHO).findings if f.requirement.endswith("#out-2h")
    ]
    assert findings == [expected]
