"""The project's defaults for stages, kept as data beside the rules."""

from __future__ import annotations

from dataclasses import dataclass

from tempwitness.model.figures import Limit, parse_duration
from tempwitness.model.vocabulary import StageName
from tempwitness.rulebook.files import read_toml, rules_folder
from tempwitness.rulebook.folder import kept_by_rules

__all__ = ["InferenceLimits", "inference_limits", "monitoring_intervals"]


@dataclass(frozen=True, slots=True)
class InferenceLimits:
    """Limits by which stages are read from a trace.

    Parameters
    ----------
    steady_window : float
        [s]
    steady_range : float
        [°F difference]
    """

    cold: Limit
    hot: Limit
    cooking: Limit
    cooled: Limit
    reheated: Limit
    steady_window: float
    steady_range: float


@kept_by_rules
def monitoring_intervals() -> dict[StageName, float]:
    """Return the longest time between two readings that still brackets, for each stage [s]."""
    table = read_toml(rules_folder() / "stages" / "monitoring.toml")["interval"]
    return {StageName(name): parse_duration(text) for name, text in table.items()}


@kept_by_rules
def inference_limits() -> InferenceLimits:
    """Return the limits by which stages are inferred."""
    table = read_toml(rules_folder() / "stages" / "inference.toml")

    def limit(name: str, op: str) -> Limit:
        return Limit.model_validate({"f": table[name]["f"], "c": table[name]["c"], "op": op})

    return InferenceLimits(
        cold=limit("cold", "<="),
        hot=limit("hot", ">="),
        cooking=limit("cooking", ">="),
        cooled=limit("cooled", "<="),
        reheated=limit("reheated", ">="),
        steady_window=parse_duration(table["steady"]["window"]),
        steady_range=float(table["steady"]["range_f"]),
    )
