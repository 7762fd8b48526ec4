"""The figures behind the limits on how fast food can change, read from the rule files."""

from __future__ import annotations

from dataclasses import dataclass

from tempwitness.model.vocabulary import Cut, StageName
from tempwitness.rulebook.files import read_toml, rules_folder
from tempwitness.rulebook.folder import kept_by_rules

__all__ = ["RateFigures", "rate_figures"]

Range = tuple[float, float]
_OTHERWISE = "otherwise"


@dataclass(frozen=True, slots=True)
class RateFigures:
    """Figures for limits on how fast food can change.

    Parameters
    ----------
    diffusivity : float
        Of unfrozen food [m²/s].
    factor : dict of str to float
        Largest slope of the answer to a step, by shape.
    thickness : dict of Cut to float
        Assumed where the record states none [in].
    surface : dict of StageName to (float, float)
        Range in which the surface stays [°F]; a stage that is missing has no bound.
    otherwise : (float, float)
        Range for inferred stages and between stages [°F].
    from_within : frozenset of str
        Methods of heating without a bound.
    ice_below : float
        Food that is read below this may hold ice [°F].
    widest_rounding : float
        Between a code's figures in the two scales [°F difference].
    """

    diffusivity: float
    factor: dict[str, float]
    thickness: dict[Cut, float]
    surface: dict[StageName, Range]
    otherwise: Range
    from_within: frozenset[str]
    ice_below: float
    widest_rounding: float


@kept_by_rules
def rate_figures() -> RateFigures:
    """Return the figures for limits on how fast food can change."""
    table = read_toml(rules_folder() / "bounds" / "rates.toml")
    ranges = {
        name: (float(span[0]), float(span[1]))
        for name, span in table["surface"].items()
        if name != "basis"
    }
    thick = {Cut(k): float(v) for k, v in table["thickness"].items() if k != "basis"}
    otherwise = ranges.pop(_OTHERWISE)
    return RateFigures(
        diffusivity=float(table["conduction"]["diffusivity"]),
        factor={k: float(v) for k, v in table["conduction"]["factor"].items()},
        thickness=thick,
        surface={StageName(name): span for name, span in ranges.items()},
        otherwise=otherwise,
        from_within=frozenset(table["exceptions"]["from_within"]),
        ice_below=float(table["exceptions"]["ice_below"]),
        widest_rounding=float(table["scales"]["widest_rounding"]),
    )
