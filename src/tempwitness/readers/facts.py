"""Questions that codes ask about a lot beyond the food itself, and the answers they know.

An empty tuple stands for any text. A question that is not answered stays open; it is never a no.
"""

from __future__ import annotations

__all__ = ["FACTS"]

_YES_NO = ("yes", "no", "unknown")

FACTS: dict[str, tuple[str, ...]] = {
    "cured": ("no", "bought", "by_operator", "unknown"),
    "smoked_to_preserve": _YES_NO,
    "vacuum_packed": _YES_NO,
    "rop_48h": _YES_NO,
    "oven": ("still", "convection", "humid", "unknown"),
    "origin": ("own", "commercial_sealed", "unknown"),
    "received": ("cold", "frozen", "hot", "cold_by_other_law", "unknown"),
    "cooling_from": ("hot", "ambient", "received_warm", "unknown"),
    "reheat_for": ("hot_holding", "immediate_service", "unknown"),
    "process": (),
    "label_instructions": _YES_NO,
    "label_followed": _YES_NO,
    "served_undercooked": _YES_NO,
    "advisory_given": _YES_NO,
    "highly_susceptible": _YES_NO,
    "opened_package": _YES_NO,
    "combined_with_earlier": _YES_NO,
    "date_marked": _YES_NO,
    "thermometer_increments": _YES_NO,
    "produce_or_hermetic": _YES_NO,
    "custom_meat": _YES_NO,
    "sold_to_public": _YES_NO,
}
