"""Food that left the heat although nobody noted it.

Limits: FDA Food Code 2022 3-501.16(A)(1), hot holding at 135 °F; 3-401.11(B) Table 3-2, whose
lowest row is 130 °F, so that a roast at 133 °F that was never much hotter may still be cooking.
"""

from __future__ import annotations

from tests.support import channel, note, staged

_AFTER_165 = [(0, 40.0), (1, 166.0), (1.1, 166.0), (3, 133.0), (5, 132.0)]


def names(step: str) -> list[str]:
    return [s.name.value for s in staged([channel(_AFTER_165)], [note(0, step)]).stages]


def test_reheated_food_below_the_hot_limit_is_held_no_longer() -> None:
    assert names("reheat") == ["reheat", "hot_hold"]


def test_food_that_was_done_does_not_cook_on_below_the_hot_limit() -> None:
    assert names("cook") == ["cook", "hot_hold"]


def test_a_roast_between_130_and_135_may_still_be_cooking() -> None:
    rare = [(0, 40.0), (4, 138.0), (6, 133.0), (8, 132.0)]
    stages = staged([channel(rare)], [note(0, "cook")]).stages
    assert [s.name.value for s in stages] == ["cook"]


def test_food_that_is_hot_as_the_next_step_begins_has_come_back() -> None:
    # 136 °F, then 131 and 129 (below the ladder's lowest row), then 192 °F as the rest begins.
    low = [(0, 40.0), (2, 136.0), (3, 131.0), (4, 129.0), (9.5, 192.0)]
    stages = staged([channel(low)], [note(0, "cook"), note(9.5, "rest")]).stages
    assert [s.name.value for s in stages] == ["cook", "rest"]
