"""A forecast: an estimate of when food crosses a limit, kept apart from every finding."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

__all__ = ["Forecast", "Standing", "Waypoint"]


class Standing(StrEnum):
    """What a forecast says."""

    GIVEN = "given"
    TOO_EARLY = "too_early"
    CANNOT_TELL = "cannot_tell"
    PASSED = "passed"
    NEVER = "never"
    WITHDRAWN = "withdrawn"


@dataclass(frozen=True, slots=True)
class Waypoint:
    """When a temperature on the way is passed, if the forecast is right.

    Parameters
    ----------
    degrees : float
        In the unit of the forecast.
    earliest, latest : float
        Seconds since the epoch.
    """

    degrees: float
    earliest: float
    latest: float


@dataclass(frozen=True, slots=True)
class Forecast:
    """When the probed point crosses a limit. An estimate, never proof of anything.

    Parameters
    ----------
    standing : Standing
    reason : str
        Why it is given, or why it is not.
    limit : float
        In the unit of the readings.
    made_at : float
        Moment of the last reading that it knows [s since the epoch].
    level : float
        Chance that the band holds the crossing, such as 0.9.
    earliest, likely, latest : float, optional
        Only where it is given or was before it was withdrawn [s since the epoch].
    outside : float, optional
        When the outside of the piece likely crosses the limit, which is before [s since the epoch].
    second_opinion : float, optional
        When the curve of a core in a shell through all readings crosses; it tends to be early [s
        since the epoch].
    waypoints : tuple of Waypoint
        Against which later readings are held.
    warnings, assumptions : tuple of str
        To be printed beside it.
    """

    standing: Standing
    reason: str
    limit: float
    made_at: float
    level: float
    earliest: float | None = None
    likely: float | None = None
    latest: float | None = None
    outside: float | None = None
    second_opinion: float | None = None
    waypoints: tuple[Waypoint, ...] = ()
    warnings: tuple[str, ...] = ()
    assumptions: tuple[str, ...] = ()
