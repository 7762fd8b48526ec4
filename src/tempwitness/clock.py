"""The only place that reads the clock."""

from __future__ import annotations

from datetime import UTC, datetime

__all__ = ["now"]


def now() -> datetime:
    """Return the present moment as an aware datetime in UTC."""
    return datetime.now(UTC)
