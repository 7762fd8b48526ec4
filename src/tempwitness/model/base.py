"""Base of the models that read what a person wrote."""

from __future__ import annotations

from pydantic import BaseModel, ConfigDict

__all__ = ["Written"]


class Written(BaseModel):
    """Something a person wrote: unknown keys are refused and nothing changes afterwards."""

    # Built when first used: most of these are parts of others and never stand alone.
    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)
