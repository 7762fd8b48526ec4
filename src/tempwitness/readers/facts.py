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
    "received_frozen": _YES_NO,
    "received_sound": _YES_NO,
    "commercial_opened": _YES_NO,
    "commercial_date_marked": _YES_NO,
    "combined_dates": _YES_NO,
    "combined_date_marked": _YES_NO,
    "label_instructions": _YES_NO,
    "label_followed": _YES_NO,
    "egg_service": _one_of("held", "immediate"),
    # What was done to it.
    "cured": _one_of("no", "bought", "by_operator"),
    "smoked_to_preserve": _YES_NO,
    "additives_to_preserve": _YES_NO,
    "process": _one_of("continuous", "non_continuous"),
    "non_continuous_procedure": _YES_NO,
    "vacuum_packed": _YES_NO,
    "rop_hours": _one_of("up_to_48", "more_than_48"),
    "rop_48h_label": _YES_NO,
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
    "microwave_stand": _YES_NO,
    "undercooked": _one_of("no", "steak", "advisory"),
    "consumer_advisory": _YES_NO,
    "cooling_from": _one_of("hot", "ambient", "received_warm"),
    "shallow_pans": _YES_NO,
    "reheat_for": _one_of("hot_holding", "immediate_service"),
    "frozen_limit": _YES_NO,
    # Service and instruments.
    "air_above_90f": _YES_NO,
    "highly_susceptible": _YES_NO,
    "highly_susceptible_plan": _YES_NO,
    "tphc_food": _one_of("other", "cut_produce", "opened_hermetic"),
    "tphc_start": _one_of("hot_or_cold", "at_70"),
    "thermometer_steps": _one_of("stated", "yes", "no"),
    "probe_check": _YES_NO,
    "haccp_plan": _YES_NO,
    "variance": _YES_NO,
}
