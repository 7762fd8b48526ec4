"""What is known of a thermometer's truth before anybody has checked it.

The figures stand in ``rules/quality/probes.toml``.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from tempwitness.rulebook.files import read_toml, rules_folder
from tempwitness.rulebook.folder import kept_by_rules

if TYPE_CHECKING:
    from tempwitness.model.logs import Bools, Floats

__all__ = ["Kind", "ProbeFigures", "ToleranceClass", "kind_of", "probe_figures"]


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of thermometer.

    Parameters
    ----------
    id : str
    points : frozenset of str, optional
        Places that it can read; ``None`` for all.
    """

    id: str
    points: frozenset[str] | None


@dataclass(frozen=True, slots=True)
class ToleranceClass:
    """How far a sensor of a class may be off: the greater of `least` and a straight line.

    Parameters
    ----------
    id : str
        Class as the standard writes it.
    kind : str
        Kind of sensor.
    least, base : float
        [°C difference]
    per_degree : float
        Added for each degree from 0 °C.
    low, high : float
        Range in which the class holds [°C].
    basis : str
        The standard.
    """

    id: str
    kind: str
    least: float
    base: float
    per_degree: float
    low: float
    high: float
    basis: str

    @property
    def standard(self) -> str:
        """Name of the standard."""
        return re.split("[:,]", self.basis)[0]

    def tolerance(self, celsius: Floats) -> Floats:
        """Return the tolerance at temperatures [°C difference]."""
        line: Floats = self.base + self.per_degree * abs(celsius)
        return line.clip(min=self.least)

    def covers(self, celsius: Floats) -> Bools:
        """Whether the class says anything at temperatures [°C]."""
        return (celsius >= self.low) & (celsius <= self.high)


@dataclass(frozen=True, slots=True)
class ProbeFigures:
    """Figures for thermometers.

    Parameters
    ----------
    kinds : tuple of (re.Pattern, Kind)
        Each with the words by which it is known, the more special first.
    classes : dict of (str, str) to ToleranceClass
        By kind and class.
    steps : tuple of float
        Steps in which thermometers show figures, coarsest first [°].
    coverage : float
        Expanded uncertainty over standard uncertainty.
    one_sided : float
        Chance from which a reading is accepted under a guard band.
    """

    kinds: tuple[tuple[re.Pattern[str], Kind], ...]
    classes: dict[tuple[str, str], ToleranceClass]
    steps: tuple[float, ...]
    coverage: float
    one_sided: float


@kept_by_rules
def probe_figures() -> ProbeFigures:
    """Return the figures for thermometers.

    Raises
    ------
    RuleError
        If their file is missing or not TOML.
    """
    read = read_toml(rules_folder() / "quality" / "probes.toml")
    kinds = tuple((_words(k["words"]), Kind(k["id"], _points(k))) for k in read["kind"])
    classes = {(k["kind"], k["id"]): _class(k) for k in read["class"]}
    return ProbeFigures(
        kinds,
        classes,
        tuple(float(step) for step in read["resolution"]["steps"]),
        float(read["guard"]["coverage"]),
        float(read["guard"]["one_sided"]),
    )


def _class(table: dict[str, Any]) -> ToleranceClass:
    return ToleranceClass(
        id=table["id"],
        kind=table["kind"],
        least=float(table.get("least", 0)),
        base=float(table.get("base", 0)),
        per_degree=float(table["per_degree"]),
        low=float(table["from"]),
        high=float(table["to"]),
        basis=table["basis"],
    )


def _words(words: list[str]) -> re.Pattern[str]:
    return re.compile(rf"\b(?:{'|'.join(re.escape(word) for word in words)})\b", re.IGNORECASE)


def _points(table: dict[str, list[str]]) -> frozenset[str] | None:
    return frozenset(table["points"]) if "points" in table else None


def kind_of(words: str) -> Kind | None:
    """Return the kind that a person's words name, or ``None``.

    Examples
    --------
    >>> kind_of("bimetal dial").id
    'dial'
    """
    return next((kind for known, kind in probe_figures().kinds if known.search(words)), None)
