"""The figures for probe checks, read from the rule files."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache

from tempwitness.errors import RuleError
from tempwitness.rulebook.files import rules_folder

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
    """

    tolerance: dict[tuple[str, str], float]
    together: float
    slope: tuple[float, float]
    largest: float


@cache
def check_figures() -> CheckFigures:
    """Return the figures for probe checks.

    Raises
    ------
    RuleError
        If their file is missing or not TOML.
    """
    path = rules_folder() / "quality" / "checks.toml"
    try:
        read = tomllib.loads(path.read_text("utf-8"))
    except (OSError, tomllib.TOMLDecodeError) as why:
        raise RuleError(
            f"the figures for probe checks cannot be read ({why})",
            hint="install the package again; the wheel carries its rule files",
        ) from None
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
    )
