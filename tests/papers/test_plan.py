"""Which law bears on which step, and what only the authority can answer."""

from __future__ import annotations

from pathlib import Path

import pytest

from tempwitness.model.vocabulary import StageName
from tempwitness.papers import to_packet
from tempwitness.papers.authority import to_ask
from tempwitness.papers.control import controls
from tempwitness.papers.process import process_of, trips
from tempwitness.rulebook.files import code_ids
from tests.papers.made import BARE, ROOT, SUPPER, plan_of, supper, text_of
from tests.report.reread import squeezed

S = StageName


def limits(food: int, stage: StageName) -> set[str]:
    return {r.id for step in supper().foods[food].of(stage) for r in step.limits}


def test_each_step_has_the_limits_of_its_food() -> None:
    # FDA Food Code 2022: whole lamb by the ladder of 3-401.11(B), turkey by 3-401.11(A)(3),
    # plant food by 3-401.13, holding by 3-501.16, cooling by 3-501.14, reheating by 3-403.11.
    assert "cook-roast" in limits(0, S.COOK)
    assert "cook-poultry-stuffed" in limits(2, S.COOK)
    assert "cook-plant" in limits(3, S.COOK)
    assert limits(0, S.HOT_HOLD) == {"hot-hold"}
    assert limits(1, S.COOL) == {"cool-135-to-70", "cool-135-to-41"}
    assert {"reheat-165", "reheat-in-2h"} <= limits(1, S.REHEAT)
    assert "date-mark" in limits(1, S.COLD_HOLD)
    # Raw lamb carries no date mark: 3-501.17 speaks of ready-to-eat food.
    assert "date-mark" not in limits(0, S.COLD_HOLD)


def test_time_control_stands_in_place_of_the_temperature() -> None:
    found = limits(2, S.SERVE)
    assert {"tphc-written", "tphc-start-4h", "tphc-end-4h", "tphc-marked"} <= found
    assert "band-hold" not in found


@pytest.mark.parametrize(
    ("steps", "count", "number"),
    [
        # FDA, Managing Food Safety: a Manual for Operators (2006), chapter 2: three processes.
        ((S.RECEIVE, S.COLD_HOLD, S.SERVE), 0, 1),
        ((S.RECEIVE, S.COOK, S.HOT_HOLD, S.SERVE), 1, 2),
        ((S.COOK, S.REST, S.HOT_HOLD, S.TRANSPORT, S.SERVE), 1, 2),
        ((S.COOK, S.COOL, S.COLD_HOLD, S.SERVE), 2, 3),
        ((S.COOK, S.COOL, S.COLD_HOLD, S.REHEAT, S.HOT_HOLD, S.SERVE), 3, 3),
        ((S.REHEAT, S.SERVE), 1, 2),
        ((S.COOK, S.FREEZE, S.THAW, S.REHEAT), 3, 3),
    ],
)
def test_the_process_follows_from_the_trips(
    steps: tuple[StageName, ...], count: int, number: int
) -> None:
    assert trips(steps) == count
    assert process_of(steps).number == number


def test_every_control_point_says_what_to_do_when_it_is_missed() -> None:
    found = [control for food in supper().foods for control in controls(food)]
    assert len(found) > 20
    for control in found:
        assert control.limits
        assert all(limit and all(actions) for limit, actions in control.limits)
        assert control.hazard
        assert control.monitoring
        assert control.record


def test_a_pit_below_the_oven_table_is_asked_about() -> None:
    # Food Code 3-401.11(B)(2): still dry oven of 250 °F or more for 10 lb or more, 350 °F below.
    asked = {one.topic: one for one in to_ask(supper())}
    large = asked["Still or convection oven for roasts of 10 lb or more"]
    assert "planned is 225 °F" in large.why
    assert "350 °F" in asked["Still dry oven for roasts under 10 lb"].why


def test_a_pit_that_keeps_the_oven_table_is_not(tmp_path: Path) -> None:
    text = SUPPER.read_text(encoding="utf-8").replace('air = "225 F"', 'air = "250 F"')
    assert 'air = "250 F"' in text
    plan = plan_of(tmp_path, text)
    assert "Still or convection oven for roasts of 10 lb or more" not in {
        one.topic for one in to_ask(plan)
    }


@pytest.mark.parametrize(
    ("line", "topic", "section"),
    [
        # Food Code 3-502.11 and 3-502.12: what needs a variance or a HACCP plan.
        ('facts = { cured = "by_operator" }', "Curing on the spot", "3-502.11(B)"),
        ('facts = { smoked_to_preserve = "yes" }', "Smoking that preserves", "3-502.11(A)"),
        ('facts = { vacuum_packed = "yes" }', "Packing under reduced oxygen", "3-502.12"),
        ("", "Packing under reduced oxygen", "3-502.12"),
        ("", "Curing on the spot", "3-502.11(B)"),
        ("", "Pit and oven table", "3-401.11(B)(2), Table 3-3"),
        ("undercooked = true", "Served raw or undercooked", "3-401.11(D), 3-603.11"),
    ],
)
def test_what_needs_an_approval_is_asked(
    tmp_path: Path, line: str, topic: str, section: str
) -> None:
    text = BARE.replace('name = "lamb shoulder"', f'name = "lamb shoulder"\n{line}')
    found = [one for one in to_ask(plan_of(tmp_path, text)) if one.topic.startswith(topic)]
    assert [one.section for one in found] == [section]


def test_a_cook_in_two_parts_is_asked_about(tmp_path: Path) -> None:
    # Food Code 3-401.14: a written procedure, approved before.
    text = BARE.replace('do = "reheat"', 'do = "cook"')
    found = [one for one in to_ask(plan_of(tmp_path, text)) if one.topic == "Cook in two parts"]
    assert len(found) == 1
    assert "3-401.14" in found[0].section


def test_a_local_change_is_printed_with_what_it_replaces(tmp_path: Path) -> None:
    county = ROOT / "rules" / "local" / "county-example.toml"
    (tmp_path / "county.toml").write_text(county.read_text(encoding="utf-8"), encoding="utf-8")
    text = BARE.replace("schema = 1", 'schema = 1\noverrides = ["county.toml"]', 1)
    plan = plan_of(tmp_path, text.replace('zone = "', 'business = "temporary_event"\nzone = "', 1))
    said = squeezed(text_of(to_packet(plan)))
    # The invented county holds hot food at 140 °F and reheats within 1 h.
    for words in (
        "At least 140 °F (60 °C) throughout, coldest part",
        "in place of: at least 135 °F (57 °C)",
        "within 1 h",
        "Nothing is kept overnight at a temporary event",
    ):
        assert squeezed(words) in said
    assert "What is left at the end of the day" not in {one.topic for one in to_ask(plan)}


@pytest.mark.parametrize("code", code_ids())
def test_every_code_can_be_planned_under(code: str, tmp_path: Path) -> None:
    plan = plan_of(tmp_path, BARE.replace("us/food-code/2022", code))
    assert plan.code.head.id == code
    for food in plan.foods:
        for control in controls(food):
            assert all("None" not in limit for limit, _ in control.limits)


@pytest.mark.parametrize("code", ["gb/eng/2013", "au/3.2.2", "us/ny/14-1", "trade/smoking"])
def test_a_packet_can_be_printed_under_other_codes(code: str, tmp_path: Path) -> None:
    plan = plan_of(tmp_path, BARE.replace("us/food-code/2022", code))
    text = squeezed(text_of(to_packet(plan)))
    assert squeezed(f"[{code}]") in text
    if not any(s.limits for f in plan.foods for s in f.steps if s.part.time_control):
        assert squeezed("Ask the health authority before it is used.") in text
