"""Killing by heat: equivalent time at a temperature, and multiples of a printed table.

The law is L(T) = 10^((T - T_ref) / z), its integral over time the equivalent time at T_ref (the
general method of thermal processing, Bigelow). Some codes make such a formula law: the criterion of
that name takes the rate from here. All else here is an estimate beside an answer and never part of
one.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.rulebook.files import read_toml, rules_folder
from tempwitness.science.ranges import OutOfRangeError, each_within, within

if TYPE_CHECKING:
    from typing import Any

    from numpy.typing import ArrayLike

    from tempwitness.model.logs import Floats

__all__ = [
    "Multiple",
    "PrintedTable",
    "equivalent_time",
    "fitted_z",
    "least_equivalent_time",
    "lethal_rate",
    "multiple_of",
    "printed_table",
]

_LEAST_SLOPE = 1e-12  # below, a segment is taken as level [z]


def lethal_rate(temperature: float, reference: float, z: float) -> float:
    """How much faster than at the reference heat kills, 10^((T - T_ref) / z) [-].

    Parameters
    ----------
    temperature, reference : float
        In one unit [°C or °F].
    z : float
        Rise that acts ten times as fast, a difference in that unit, above 0.
    """
    return float(10.0 ** ((temperature - reference) / within("z", z, 1e-3, 100.0)))


def equivalent_time(
    times: ArrayLike, temperatures: ArrayLike, reference: float, z: float, counts_from: float
) -> float:
    """Time at the reference temperature that would have killed as much.

    Between two readings the temperature is taken as a straight line, and its integral is exact:
    Δt (L2 - L1) / ln(L2 / L1). The trapezoidal rule on L would credit too much: by a quarter where
    readings of a rising core stand 15 minutes apart.

    Parameters
    ----------
    times : array_like, shape (n,)
        Rising [any unit of time].
    temperatures : array_like, shape (n,)
        In the unit of `reference` [°C or °F].
    reference, z
        As for `lethal_rate`.
    counts_from : float
        Colder time counts for nothing.

    Returns
    -------
    float
        In the unit of `times`.

    Raises
    ------
    OutOfRangeError
        If `times` do not rise, the shapes differ, or a figure is no number.
    """
    seconds, degrees = _checked(times, temperatures)
    total = 0.0
    for k in range(len(seconds) - 1):
        span, low, high = _above(seconds[k : k + 2], degrees[k : k + 2], counts_from)
        total += span * _mean_rate((low - reference) / z, (high - reference) / z)
    return total


def least_equivalent_time(
    times: ArrayLike, temperatures: ArrayLike, reference: float, z: float, counts_from: float
) -> float:
    """Equivalent time if each stretch had been as cold as its colder end; as `equivalent_time`."""
    seconds, degrees = _checked(times, temperatures)
    colder = np.minimum(degrees[1:], degrees[:-1])
    rates = np.where(colder >= counts_from, 10.0 ** ((colder - reference) / z), 0.0)
    return float((np.diff(seconds) * rates).sum())


def fitted_z(temperatures: ArrayLike, times: ArrayLike, reference: float) -> tuple[float, float]:
    """Least squares of log10(time) on temperature.

    Parameters
    ----------
    temperatures : array_like, shape (n,)
        At least two different [°C or °F].
    times : array_like, shape (n,)
        Times of equal kill, above 0 [any unit of time].
    reference : float
        In the unit of `temperatures`.

    Returns
    -------
    z : float
        A difference in the unit of `temperatures`.
    time : float
        At the reference, in the unit of `times`.

    Raises
    ------
    OutOfRangeError
        If a time is not above 0 or hotter is not quicker.
    """
    x = each_within("the temperature", temperatures, -300.0, 1000.0)
    y = np.log10(each_within("the time", times, 1e-12, 1e12))
    if len(x) != len(y) or len(set(x.tolist())) < 2:
        raise OutOfRangeError(
            "a slope takes two temperatures at least", hint="give as many times as temperatures"
        )
    away = x - x.mean()
    slope = float((away * y).sum() / (away**2).sum())
    if slope >= 0:
        raise OutOfRangeError("the times do not fall with the temperature", hint="check the order")
    return -1 / slope, float(10.0 ** (y.mean() + slope * (reference - x.mean())))


@dataclass(frozen=True, slots=True)
class PrintedTable:
    """Rows of a table of temperatures and times.

    Parameters
    ----------
    name : str
        The column, as a power of ten: "6.5" or "7".
    fahrenheit : tuple of float
        Rising [°F].
    seconds : tuple of float
        Falling [s]; 0 where the table asks for an instant only.
    z : float
        [°F difference]
    """

    name: str
    fahrenheit: tuple[float, ...]
    seconds: tuple[float, ...]
    z: float

    @property
    def coldest(self) -> float:
        """First row; the law is tied to it, so that it never asks for less than a row [°F]."""
        return self.fahrenheit[0]


@dataclass(frozen=True, slots=True)
class Multiple:
    """How many times over a table was kept, as an estimate.

    Parameters
    ----------
    table : str
    likely, least, by_rows : float, optional
        By the law along straight lines; by the law with each stretch as cold as its colder end; by
        the row next below each moment. Cut off at `most`. All ``None`` if no figure is shown.
    most : float
        Where figures are cut off.
    reason : str
        Why no figure is shown, else how it was reached.
    caveats : tuple of str
        To be printed beside it.
    """

    table: str
    likely: float | None
    least: float | None
    by_rows: float | None
    most: float
    reason: str
    caveats: tuple[str, ...]


@cache
def _settings() -> dict[str, Any]:
    return read_toml(rules_folder() / "physics" / "lethality.toml")


@cache
def printed_table(name: str) -> PrintedTable:
    """Return a column of the table of the inspected plants.

    Parameters
    ----------
    name : {"6.5", "7"}

    Raises
    ------
    OutOfRangeError
        If there is no such column.
    """
    from tempwitness.rulebook.load import load_code  # noqa: PLC0415 - brings pydantic

    settings = _settings()
    if name not in settings["tables"]:
        raise OutOfRangeError(
            f"the table has no column '{name}'", hint=f"ask for {' or '.join(settings['tables'])}"
        )
    requirements = load_code(settings["code"]).requirements
    test = next(r.test for r in requirements if r.id.endswith(settings["tables"][name]))
    rows = getattr(test, "rows", ())
    return PrintedTable(
        name,
        tuple(float(row.f) for row in rows),
        tuple(float(row.hold) for row in rows),
        float(settings["z"]),
    )


def multiple_of(
    table: PrintedTable, times: ArrayLike, fahrenheit: ArrayLike, species: str
) -> Multiple:
    """Estimate how many times over a printed table was kept.

    Parameters
    ----------
    table : PrintedTable
    times : array_like, shape (n,)
        Rising [s].
    fahrenheit : array_like, shape (n,)
        Of the coldest place [°F].
    species : str
        Only the meats of the table get a figure.

    Returns
    -------
    Multiple

    Raises
    ------
    OutOfRangeError
        As for `equivalent_time`.
    """
    settings = _settings()
    seconds, degrees = _checked(times, fahrenheit)
    reason = _refused(species, seconds, degrees, table)
    most, caveats = float(settings["most"]), tuple(settings["caveats"])
    if reason:
        return Multiple(table.name, None, None, None, most, reason, caveats)
    first = table.seconds[0]
    law = (table.coldest, table.z, table.coldest)
    figures = (
        equivalent_time(seconds, degrees, *law) / first,
        least_equivalent_time(seconds, degrees, *law) / first,
        _by_rows(table, seconds, degrees),
    )
    likely, least, rows = (min(figure, most) for figure in figures)
    words = f"{len(seconds)} readings, z = {table.z:g} °F, tied to the row at {table.coldest:g} °F"
    return Multiple(table.name, likely, least, rows, most, words, caveats)


def _refused(species: str, seconds: Floats, degrees: Floats, table: PrintedTable) -> str:
    """Return why there is no figure, or nothing."""
    meats = _settings()["species"]
    if species not in meats:
        return f"the table is one for {', '.join(meats)}, not for {species or 'unnamed food'}"
    hot = np.maximum(degrees[1:], degrees[:-1]) >= table.coldest
    if not hot.any():
        return f"nothing was read at {table.coldest:g} °F or above"
    gap = float(np.diff(seconds)[hot].max()) / 60
    longest = float(_settings()["longest_gap"])
    if gap > longest:
        return f"two readings stand {gap:.0f} min apart; beyond {longest:.0f} min none is shown"
    return ""


def _by_rows(table: PrintedTable, seconds: Floats, degrees: Floats) -> float:
    """Return the sum of time over the time of the row next below, along straight lines."""
    total = 0.0
    edges = (*table.fahrenheit, math.inf)
    for k in range(len(seconds) - 1):
        pair = degrees[k : k + 2]
        for low, high, needed in zip(edges, edges[1:], table.seconds, strict=False):
            span = _within_band(seconds[k : k + 2], pair, low, high)
            if span > 0:
                total += span / needed if needed > 0 else math.inf
    return total


def _within_band(seconds: Floats, degrees: Floats, low: float, high: float) -> float:
    """Return how long a straight line is at `low` or above and below `high`."""
    upper, _, _ = _above(seconds, degrees, low)
    beyond, _, _ = _above(seconds, degrees, high)
    return upper - beyond


def _above(seconds: Floats, degrees: Floats, level: float) -> tuple[float, float, float]:
    """Return how long a straight line is at a level or above, and its two ends there."""
    span = float(seconds[1] - seconds[0])
    low, high = sorted((float(degrees[0]), float(degrees[1])))
    if low >= level:
        return span, low, high
    if high < level:
        return 0.0, level, level
    return span * (high - level) / (high - low), level, high


def _mean_rate(low: float, high: float) -> float:
    """Return the mean of 10^x along a straight line from one exponent to another."""
    if abs(high - low) < _LEAST_SLOPE:
        return float(10.0**low)
    return float((10.0**high - 10.0**low) / ((high - low) * math.log(10.0)))


def _checked(times: ArrayLike, temperatures: ArrayLike) -> tuple[Floats, Floats]:
    seconds = each_within("the time", times, -1e12, 1e12)
    degrees = each_within("the temperature", temperatures, -300.0, 1000.0)
    if seconds.shape != degrees.shape or seconds.ndim != 1:
        raise OutOfRangeError(
            "times and temperatures are not of one length", hint="give one of each for a reading"
        )
    if (np.diff(seconds) <= 0).any():
        raise OutOfRangeError("the times do not rise", hint="sort the readings and drop doubles")
    return seconds, degrees
