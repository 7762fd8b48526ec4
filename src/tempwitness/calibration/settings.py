"""The figures for probe checks, read from the rule files."""

from __future__ import annotations

from dataclasses import dataclass

from tempwitness.rulebook.files import read_toml, rules_folder
from tempwitness.rulebook.folder import kept_by_rules

__all__ = ["CheckFigures", "check_figures"]


@dataclass(frozen=True, slots=True)
class CheckFigures:
    """Figures for probe checks.

    Parameters
    ----------
    tolerance : dict of (str, str) to float
        Printed tolerance by what the probe reads (``food``, ``air``) and by scale (``f``, ``c``).
    together : float
        Ice and boiling checks no further apart than this belong together [s].
    slope : tuple of float
        Least and greatest slope of the line through two checks.
    largest : float
        A difference beyond which a probe is broken, not shifted [°F].
    oldest : float
        How long after a check it still tells how true the probe reads [s].
    ice : str
        How a bath of ice and water is made that shows what it should.
    """

    tolerance: dict[tuple[str, str], float]
    together: float
    slope: tuple[float, float]
    largest: float
    oldest: float
    ice: str


@kept_by_rules
def check_figures() -> CheckFigures:
    """Return the figures for probe checks.

    Raises
    ------
    RuleError
        If their file is missing or not TOML.
    """
    read = read_toml(rules_folder() / "quality" / "checks.toml")
    tolerance = {
        (reads, scale): float(read["check"][f"{reads}_{scale}"])
        for reads in ("food", "air")
        for scale in ("f", "c")
    }
    low, high = read["line"]["slope"]
    return CheckFigures(
        tolerance,
        float(read["line"]["together"]),
        (float(low), float(high)),
        float(read["shift"]["largest"]),
        float(read["age"]["oldest"]),
        str(read["ice"]["assumption"]),
    )
