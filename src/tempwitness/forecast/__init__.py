"""Forecasts from readings: when a wrapped rest or a cooling crosses a limit, with an honest band.

A forecast is an estimate beside the findings. It never changes one.
"""

from tempwitness.forecast.given import Piece, Readings, Surroundings
from tempwitness.forecast.predict import predict, review
from tempwitness.model.forecast import Forecast, Standing, Waypoint

__all__ = [
    "Forecast",
    "Piece",
    "Readings",
    "Standing",
    "Surroundings",
    "Waypoint",
    "predict",
    "review",
]
