"""What every code states once and many readers get wrong: papers and advice.

Sources: FDA Food Code 2022 by section, as reproduced in WAC 246-215, 12 VAC 5-421, 2 VAC 5-585,
South Carolina Reg. 61-25 and the Wisconsin Food Code. Each test carries the number of its trap.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tempwitness.cli.main import main
from tempwitness.model.lot import Approval, TimeControlPlan
from tempwitness.model.vocabulary import Answer, Form, Verdict
from tempwitness.rulebook.load import load_code
from tests.published.traces import answers, judged
from tests.support import (
    FOOD_CODE,
    ZERO,
    Readings,
    channel,
    found,
    judge,
    lamb,
    note,
    prepared_on,
    staged,
)

if TYPE_CHECKING:
    from pathlib import Path


def served(plan: TimeControlPlan, readings: Readings, end: str, **after: str) -> dict[str, str]:
    """Verdicts of food served under a plan until a moment; `after` names a stage that follows."""
    steps = [note(0, "serve")]
    steps += [note(end, step) for step in after.values()] or [note(end, event="finished")]
    return answers([channel(readings)], steps, time_control=[plan], facts={"tphc_food": "other"})


def plan(option: str, written: str | None = "2026-07-01") -> TimeControlPlan:
    return TimeControlPlan(
        start=ZERO,
        option="6h" if option == "6h" else "4h",
        written=None if written is None else prepared_on(written),
        marked=Answer.YES,
    )


def test_t23_six_hours_are_for_cold_food_below_70() -> None:
    assert served(plan("6h"), [(0, 140.0)], "2:00")["tphc-start-6h"] == "not_met"
    assert served(plan("6h"), [(0, 41.0), (2, 70.0)], "2:00")["tphc-end-6h"] == "met"
    assert served(plan("6h"), [(0, 41.0), (2, 70.1)], "2:00")["tphc-end-6h"] == "not_met"


def test_t23_food_under_time_control_does_not_return() -> None:
    back = served(plan("4h"), [(0, 140.0), (2, 120.0)], "2:00", then="hot_hold")
    assert back["tphc-end-4h"] == "not_met"


@pytest.mark.parametrize(
    ("written", "expected"), [(None, "not_shown"), ("2026-07-05", "not_met"), ("2026-07-04", "met")]
)
def test_t24_time_control_rescues_nothing_afterwards(written: str | None, expected: str) -> None:
    got = served(plan("4h", written), [(0, 140.0), (2, 120.0)], "2:00")
    assert got["tphc-written"] == expected
    # Without a procedure written before, the food must be hot or cold, and 120 °F is neither.
    assert got.get("band-hold") == (None if expected == "met" else "not_met")


@pytest.mark.parametrize(
    ("stage", "method", "requirement"),
    [("receive", "", "receive-cold"), ("thaw", "refrigerator", "thaw-refrigerated")],
)
def test_t24_a_procedure_suspends_no_limit_of_another_stage(
    stage: str, method: str, requirement: str
) -> None:
    """3-501.19 stands in the place of holding (3-501.16), not of receiving or thawing."""
    steps = [note(0, stage, method=method), note(2, event="finished")]
    log = staged([channel([(0, 60.0), (2, 60.0)])], steps, time_control=[plan("4h")])
    assert found(judge(log), requirement).verdict is Verdict.NOT_MET


def test_v41_a_code_without_a_six_hour_procedure_goes_by_temperature() -> None:
    """V-41: California knows the four hours alone (Health and Safety Code 114000).

    Made here by taking the six-hour paragraphs out of the Food Code; the section is from memory.
    """
    code = load_code(FOOD_CODE)
    kept = tuple(r for r in code.requirements if not r.id.endswith("-6h"))
    assert len(kept) < len(code.requirements)
    four = code.model_copy(update={"requirements": kept})
    steps = [note(0, "serve"), note(5, event="finished")]
    log = staged([channel([(0, 41.0), (3, 60.0), (5, 65.0)])], steps, time_control=[plan("6h")])
    assert found(judge(log, code=four), "band-hold").verdict is Verdict.NOT_MET
    assert found(judge(log), "tphc-end-6h").verdict is Verdict.MET


def test_t27_a_sealed_bag_is_packing_without_air() -> None:
    sealed = {"vacuum_packed": "yes"}
    assert papers(sealed)["rop-haccp"] == "not_shown"
    plan_on_file = Approval("haccp_plan", "county", "7", prepared_on("2026-01-01"))
    assert papers(sealed, plan_on_file)["rop-haccp"] == "met"


def test_t28_smoke_for_flavour_needs_no_variance_and_curing_does() -> None:
    assert "variance-curing" not in papers({})
    assert "variance-smoke-preserving" not in papers({})
    assert papers({"cured": "by_operator"})["variance-curing"] == "not_shown"
    assert papers({"smoked_to_preserve": "yes"})["variance-smoke-preserving"] == "not_shown"
    assert "variance-curing" not in papers({"cured": "bought_cured"})


@pytest.mark.parametrize(
    ("facts", "asked", "kind"),
    [
        ({"cured": "by_operator"}, "variance-curing", "variance_curing"),
        ({"smoked_to_preserve": "yes"}, "variance-smoke-preserving", "variance_smoking"),
        ({"rop_way": "cook_chill_34f_30d"}, "rop-chill-34f-30d", "rop_34f_30d"),
    ],
)
def test_a_paper_settles_what_it_was_granted_for_and_nothing_else(
    facts: dict[str, str], asked: str, kind: str
) -> None:
    """3-502.11 asks for a variance by process; 3-502.12(D) for limits beside the plan."""
    for other in ("variance", "haccp_plan", "variance_additives", "rop_frozen"):
        granted = Approval(other, "county", "7", prepared_on("2026-01-01"))
        assert papers(facts, granted)[asked] == "not_shown"
    assert papers(facts, Approval(kind, "county", "7", prepared_on("2026-01-01")))[asked] == "met"


def test_no_paper_makes_nine_hours_of_preparation_met() -> None:
    """3-501.16(A) excepts preparation and prints no time; a paper says no more than that."""
    granted = Approval("preparation_time", "county", "7", prepared_on("2026-01-01"))
    readings = [(-2, 170.0), (0, 140.0), (3, 100.0), (6, 100.0), (9, 100.0)]
    steps = [note(-2, "cook"), note(0, "prep"), note(9, event="finished")]
    got = answers([channel(readings)], steps, approvals=[granted])
    assert got["prep-cooked"] == "not_shown"


def papers(facts: dict[str, str], *approvals: Approval) -> dict[str, str]:
    steps = [note(0, "hot_hold"), note(1, event="finished")]
    readings = [(0, 150.0), (1, 150.0)]
    return answers([channel(readings)], steps, facts=facts, approvals=approvals)


def test_t30_consumer_advice_is_no_violation() -> None:
    steps = [note(0, "hot_hold"), note(2, event="finished")]
    log = staged([channel([(0, 137.0), (2, 137.0)])], steps)
    advice = judge(log, code=load_code("us/consumer-advice"))
    assert found(advice, "advice-hot-hold").verdict is Verdict.NOT_MET  # 140 °F
    assert not advice.binding
    law = judge(log)
    assert found(law, "hot-hold").verdict is Verdict.MET
    assert law.verdict is Verdict.MET


@pytest.mark.parametrize(
    ("hours", "expected"),
    [
        pytest.param("6:00", Verdict.MET, id="V-52-6:00"),
        pytest.param("6:01", Verdict.NOT_MET, id="V-52-6:01"),
    ],
)
def test_t34_the_come_up_time_of_plants_is_advice(hours: str, expected: Verdict) -> None:
    """FSIS-GD-2021-14: 50 °F to 130 °F within 6 h; this code weighs it as a plant's yardstick."""
    readings: Readings = [(0, 50.0), ("0:00:00.2", 50.1), (3, 90.0), (hours, 129.9)]
    readings = [*readings, ("6:01:00.2", 130.0)] if hours == "6:01" else readings
    food = lamb(forms=(Form.INJECTED,))
    evaluation = judged("cook", readings, food=food, code=load_code("us/plant/come-up"))
    assert found(evaluation, "come-up").verdict is expected
    assert not evaluation.binding


def test_t45_no_code_is_taken_for_granted(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    table = tmp_path / "rest.csv"
    table.write_text("time,temp_f\n2026-07-04 10:00,150\n", encoding="utf-8")
    with pytest.raises(SystemExit) as stopped:
        main(["check", str(table), "--food", "lamb", "--zone", "UTC"])
    assert stopped.value.code == 2
    assert "--code" in capsys.readouterr().err
