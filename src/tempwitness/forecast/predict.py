"""A forecast from readings, and its withdrawal when later readings say otherwise."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.forecast.ensemble import coefficient_for, ensemble
from tempwitness.forecast.guard import settled
from tempwitness.forecast.two_rates import fit_two_rates
from tempwitness.model.figures import duration_words
from tempwitness.model.forecast import Forecast, Standing, Waypoint
from tempwitness.science.conduction import slowest
from tempwitness.science.ranges import within
from tempwitness.units import format_degrees

if TYPE_CHECKING:
    from tempwitness.forecast.ensemble import Ensemble
    from tempwitness.forecast.given import Piece, Readings, Surroundings

__all__ = ["predict", "review"]

_LEVEL = 0.90
_WAYPOINTS = 6
_WIDEST = 1.0  # widest band, as a share of the time that is left
_SLACK = 900.0  # on top of it [s]
_FASTEST = 1.3  # how much faster than a held surface a core can seem to fall


def predict(
    readings: Readings,
    limit: float,
    around: Surroundings,
    piece: Piece | None,
    *,
    level: float = _LEVEL,
) -> Forecast:
    """Say when the core falls to a limit, or why that cannot be said yet.

    Parameters
    ----------
    readings : Readings
        Of one undisturbed stretch.
    limit : float
        [unit of the readings]
    around : Surroundings
        Without them no forecast is possible.
    piece : Piece, optional
        Without its weight or shape nobody can say when heat has settled: no forecast is given.
    level : float
        Chance that the band holds the crossing, 0.5 to 0.99.

    Returns
    -------
    Forecast
        A value in every case; `standing` and `reason` say what it is worth.

    Raises
    ------
    OutOfRangeError
        For figures that cannot be temperatures or times.
    """
    within("the level", level, 0.5, 0.99)
    within("the limit", limit, -100.0, 600.0, readings.unit.symbol)
    known = Forecast(Standing.TOO_EARLY, "", limit, float(readings.times[-1]), level)
    plain = _plain(known, readings, around, piece)
    if plain is not None or piece is None:
        return plain or known
    window = settled(readings, piece, around.degrees)
    if window.reason:
        return replace(known, reason=f"too early to tell: {window.reason}")
    if window.degrees.min() <= around.degrees + around.plus_minus:
        reason = "cannot tell: the core is as cold as its surroundings may be"
        return replace(known, standing=Standing.CANNOT_TELL, reason=reason)
    lines = ensemble(
        window.times,
        window.degrees,
        piece,
        (around.degrees, around.plus_minus),
        readings.resolution,
    )
    return _given(known, readings, around, piece, lines)


def _plain(
    known: Forecast, readings: Readings, around: Surroundings, piece: Piece | None
) -> Forecast | None:
    """Return what can be said without any fit."""
    unit, limit = readings.unit, known.limit
    shown, room = format_degrees(limit, unit), format_degrees(around.degrees, unit)
    if readings.degrees[-1] <= limit:
        reason = f"the core was read at or below {shown}"
        return replace(known, standing=Standing.PASSED, reason=reason)
    if around.degrees - around.plus_minus >= limit:
        reason = f"the surroundings of {room} do not let it fall to {shown}"
        return replace(known, standing=Standing.NEVER, reason=reason)
    if around.degrees + around.plus_minus >= limit:
        doubt = format_degrees(around.plus_minus, unit)
        reason = f"cannot tell: {shown} lies within what is known of the surroundings, {room}"
        return replace(known, standing=Standing.CANNOT_TELL, reason=f"{reason} ± {doubt}")
    if piece is None:
        reason = "cannot tell: without the weight or the shape of the piece nobody can say when"
        return replace(known, standing=Standing.CANNOT_TELL, reason=f"{reason} heat has settled")
    return None


def _given(
    known: Forecast, readings: Readings, around: Surroundings, piece: Piece, lines: Ensemble
) -> Forecast:
    """Return the band, unless it is too wide or no piece of this size can fall so fast."""
    rate = -float((lines.weight * lines.slope).sum())
    fastest = slowest(piece.body, piece.material, coefficient_for(piece.body, piece.material, 1.0))
    if piece.shape_known and rate > _FASTEST * fastest[0]:
        reason = "cannot tell: the core falls faster than heat can leave a piece of this size; "
        reason += "the size is not right, or the probe is not in the middle"
        return replace(known, standing=Standing.CANNOT_TELL, reason=reason)
    tail = (1 - known.level) / 2
    ends = [lines.when(known.limit, chance) for chance in (tail, 0.5, 1 - tail)]
    if None in ends:
        return replace(known, reason="too early to tell: the fall cannot be told from none")
    earliest, likely, latest = (float(end) for end in ends if end is not None)
    if latest - earliest > _WIDEST * (likely - lines.now) + _SLACK:
        band = " to ".join(_minutes(end - lines.now) for end in (earliest, latest))
        return replace(known, reason=f"too early to tell: all from {band} from now is possible")
    began = readings.began
    second = _second_opinion(known, readings, around, rate)
    warned = second is not None and second < began + earliest
    return replace(
        known,
        standing=Standing.GIVEN,
        reason=f"{lines.freedom + 2} readings since heat has settled; "
        f"time constant {_minutes(1 / rate)}",
        earliest=began + earliest,
        likely=began + likely,
        latest=began + latest,
        outside=_outside(lines, rate, likely, piece, began),
        second_opinion=second,
        waypoints=_waypoints(lines, readings, known),
        warnings=(*_WARNINGS, _EARLIER) if warned else _WARNINGS,
        assumptions=_assumptions(readings, around, piece),
    )


def _minutes(seconds: float) -> str:
    return duration_words(60 * round(seconds / 60))


_WARNINGS = (
    "This is an estimate. It proves nothing to an inspector; only readings do.",
    "The outside of the piece is colder than its core and falls to the limit first.",
)


_EARLIER = "A curve through all readings crosses before the earliest moment: act by that one."


def _second_opinion(
    known: Forecast, readings: Readings, around: Surroundings, rate: float
) -> float | None:
    """Return when the curve of a core in a shell through all readings crosses."""
    since = readings.times - readings.began
    curve = fit_two_rates(since, readings.degrees, around.degrees, rate)
    found = None if curve is None else curve.when(known.limit, float(since[-1]))
    return None if found is None else readings.began + found


def _assumptions(readings: Readings, around: Surroundings, piece: Piece) -> tuple[str, ...]:
    room = format_degrees(around.degrees, readings.unit)
    doubt = format_degrees(around.plus_minus, readings.unit)
    shape = "its shape as stated" if piece.shape_known else "a ball of its weight"
    return (
        f"surroundings of {room} ± {doubt} throughout",
        f"the piece taken as {shape}, left as it is: not opened, moved, stirred or cut",
        "the probe in the middle",
    )


def _outside(lines: Ensemble, rate: float, likely: float, piece: Piece, began: float) -> float:
    """Return when the middle of the nearest face likely crosses: ln of its share earlier."""
    coefficient = coefficient_for(piece.body, piece.material, rate)
    _, _, face = slowest(piece.body, piece.material, coefficient)
    return began + likely + float(np.log(max(face, 1e-3))) / rate


def _waypoints(lines: Ensemble, readings: Readings, known: Forecast) -> tuple[Waypoint, ...]:
    """Return bands for temperatures between the last reading and the limit."""
    levels = np.linspace(readings.degrees[-1], known.limit, _WAYPOINTS + 1)[1:]
    tail = (1 - known.level) / 2
    points = []
    for degrees in levels:
        early, late = (lines.when(float(degrees), chance) for chance in (tail, 1 - tail))
        if early is not None and late is not None:
            points.append(Waypoint(float(degrees), readings.began + early, readings.began + late))
    return tuple(points)


def review(forecast: Forecast, readings: Readings) -> Forecast:
    """Hold later readings against a forecast, and withdraw it if they contradict it.

    It is withdrawn when the limit was crossed before the earliest moment, when the latest has
    passed without it, or when two readings in a row lie outside its way on the same side.

    Parameters
    ----------
    forecast : Forecast
    readings : Readings
        In the unit of the forecast; those that it knew already are passed over.

    Returns
    -------
    Forecast
        The same one, or one that is withdrawn with its reason and its old figures.
    """
    if forecast.standing is not Standing.GIVEN or not forecast.waypoints:
        return forecast
    new = readings.times > forecast.made_at
    sides = [
        _side(forecast, float(moment), float(degrees), readings.resolution)
        for moment, degrees in zip(readings.times[new], readings.degrees[new], strict=True)
    ]
    for side, after in pairwise(sides):
        if side == after != 0:
            word = "faster" if side < 0 else "slower"
            return _withdrawn(forecast, f"two readings in a row show that it falls {word}")
    return _crossing_contradicts(forecast, readings, new) or forecast


def _side(forecast: Forecast, moment: float, degrees: float, step: float) -> int:
    """Return -1 for a reading below the way, 1 for one above it, 0 for one on it."""
    if degrees <= forecast.limit:
        return 0  # whether it came there too early is asked apart
    levels = np.array([point.degrees for point in forecast.waypoints][::-1])
    early = np.array([point.earliest for point in forecast.waypoints][::-1])
    late = np.array([point.latest for point in forecast.waypoints][::-1])
    if degrees - step > levels[-1] and moment <= late[-1]:
        return 0
    if moment < np.interp(degrees + step, levels, early):
        return -1
    return 1 if moment > np.interp(degrees - step, levels, late) else 0


def _crossing_contradicts(
    forecast: Forecast, readings: Readings, new: np.ndarray
) -> Forecast | None:
    times, degrees = readings.times[new], readings.degrees[new]
    below = degrees <= forecast.limit
    if forecast.earliest is not None and (below & (times < forecast.earliest)).any():
        return _withdrawn(forecast, "the limit was crossed before the earliest moment")
    if forecast.latest is not None and (~below & (times > forecast.latest)).any():
        return _withdrawn(forecast, "the latest moment has passed and the limit is not crossed")
    return None


def _withdrawn(forecast: Forecast, why: str) -> Forecast:
    reason = f"withdrawn: {why} than was forecast" if "falls" in why else f"withdrawn: {why}"
    return replace(forecast, standing=Standing.WITHDRAWN, reason=reason)
