"""Questions that codes ask about a lot beyond the food itself, and the answers they know.

A question that is not answered stays open; it is never a no. An empty tuple stands for any text.
"""

from __future__ import annotations

__all__ = ["FACTS"]

_YES_NO = ("yes", "no", "unknown")


def _one_of(*answers: str) -> tuple[str, ...]:
    return (*answers, "unknown")


FACTS: dict[str, tuple[str, ...]] = {
    # How the food came and what it is.
    "origin": _one_of("own", "commercial_sealed"),
    "received": _one_of("cold", "frozen", "hot", "cold_by_other_law"),
    "commercial_opened": _YES_NO,
    "combined_dates": _YES_NO,
    "label_instructions": _YES_NO,
    "egg_service": _one_of("held", "immediate"),
    # What was done to it.
    "cured": _one_of("no", "bought", "by_operator"),
    "smoked_to_preserve": _YES_NO,
    "additives_to_preserve": _YES_NO,
    "process": _one_of("continuous", "non_continuous"),
    "vacuum_packed": _YES_NO,
    "rop_hours": _one_of("up_to_48", "more_than_48"),
    "rop_way": _one_of(
        "second_barrier",
        "cook_chill_41f_7d",
        "cook_chill_34f_30d",
        "cook_chill_34f_72h",
        "cook_chill_frozen",
    ),
    # Thawing, cooking, cooling, reheating.
    "thaw_for": _one_of("cooking", "immediate_service"),
    "started": _one_of("thawed", "frozen", "partly_frozen"),
    "oven": _one_of("still", "convection", "humid"),
    "oven_line": _one_of("kept", "agreed", "not_kept"),
    "undercooked": _one_of("no", "steak", "advisory"),
    "cooling_from": _one_of("hot", "ambient", "received_warm"),
    "reheat_for": _one_of("hot_holding", "immediate_service"),
    # Service and instruments.
    "air_above_90f": _YES_NO,
    "highly_susceptible": _YES_NO,
    "tphc_food": _one_of("other", "cut_produce", "opened_hermetic"),
    "tphc_start": _one_of("hot_or_cold", "at_70"),
    "thermometer_steps": _one_of("stated"),
}
