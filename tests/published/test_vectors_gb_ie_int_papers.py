"""Papers, probes and barbecues in British and Irish advice.

Sources: "Register a food business"; CIEH guidance of 2010, templates T1 to T11 and note T7;
checklists of councils; safe method "Prove it"; practice of the trade for probes.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

import pytest

from tempwitness.model.lot import Probe, ProbeCheck
from tempwitness.model.vocabulary import Species
from tempwitness.rulebook.load import load_code
from tempwitness.units import Unit
from tests.published.traces import answer, held
from tests.support import ZERO, Readings, channel, found, judge, lamb, note, staged

if TYPE_CHECKING:
    from tempwitness.model.rule import Code

GUIDANCE, FSAI = load_code("gb/guidance"), load_code("ie/fsai")
PORK = lamb(Species.PORK)
HELD: Readings = [(0, 70.0), (1, 70.0), (2, 70.0)]


@pytest.mark.parametrize(
    ("requirement", "question"),
    [
        ("register-28-days", "registered_in_time"),
        ("register-mobile", "registered_at_base"),
        ("plan-at-event", "haccp_at_event"),
        ("event-form", "event_form"),
        ("cool-box", "cool_box_short"),
        ("prove-once", "method_proved"),
        ("probe-weekly", "probe_checked_weekly"),
        ("probe-place", "probe_placed"),
    ],
)
@pytest.mark.parametrize(
    ("said", "expected"), [("yes", "met"), ("no", "not_met"), ("unknown", "not_applicable")]
)
def test_papers(requirement: str, question: str, said: str, expected: str) -> None:
    """What is not on record is not taken for missing: it is asked for beside the readings."""
    found_so = answer(
        requirement,
        "hot_hold",
        HELD,
        code=GUIDANCE,
        celsius=True,
        facts={question: said},
        business="mobile",
    )
    assert found_so == expected


def test_whom_registration_leaves_out() -> None:
    """Occasional food of a charity is not registered, and only a mobile unit has a base."""
    facts = {"registered_in_time": "no", "registered_at_base": "no", "occasional_charity": "yes"}
    for requirement in ("register-28-days", "register-mobile"):
        says = answer(
            requirement,
            "hot_hold",
            HELD,
            code=GUIDANCE,
            celsius=True,
            facts=facts,
            business="caterer",
        )
        assert says == "not_applicable"


@pytest.mark.parametrize("code", [GUIDANCE, FSAI], ids=["gb", "ie"])
@pytest.mark.parametrize(
    ("due", "read", "expected"),
    [
        # Melting ice −1 to +1 °C, boiling water 99 to 101 °C.
        (0.0, 1.0, "met"),
        (0.0, 1.1, "not_met"),
        (0.0, -1.0, "met"),
        (0.0, -1.1, "not_met"),
        (100.0, 99.0, "met"),
        (100.0, 98.9, "not_met"),
        (100.0, 101.0, "met"),
        (100.0, 101.1, "not_met"),
    ],
)
def test_probe_checks(code: Code, due: float, read: float, expected: str) -> None:
    kind: Literal["ice", "boiling"] = "boiling" if due else "ice"
    check = ProbeCheck(ZERO, kind, read, due, Unit.C, kind)
    probe = Probe("p", scale="C", checks=(check,))
    log = staged([channel(HELD, celsius=True)], [note(0, "hot_hold")], probes=(probe,))
    assert found(judge(log, code=code), "probe-check").verdict.value == expected


@pytest.mark.parametrize(
    ("method", "value", "seconds", "expected"),
    [
        ("barbecue", 75.1, 60.0, "met"),
        ("barbecue", 75.1, 61.0, "met"),
        ("barbecue", 75.1, 59.0, "not_met"),
        ("barbecue", 75.0, 61.0, "not_met"),
        ("barbecue", 74.9, 61.0, "not_met"),
        ("oven", 75.1, 59.0, "not_applicable"),
    ],
)
def test_barbecue(method: str, value: float, seconds: float, expected: str) -> None:
    """One council: over 75 °C for about 1 min in the thickest part."""
    readings = held(value, seconds)
    says = answer(
        "bbq-core", "cook", readings, code=GUIDANCE, celsius=True, food=PORK, method=method
    )
    assert says == expected


def test_each_piece_on_a_barbecue_is_read() -> None:
    says = answer("bbq-each", "cook", HELD, code=GUIDANCE, celsius=True, method="barbecue")
    assert says == "met"
    assert answer("bbq-each", "cook", HELD, code=GUIDANCE, celsius=True) == "not_applicable"
