"""Base of the models that read what a person wrote."""

from __future__ import annotations

from pydantic import BaseModel, ConfigDict

__all__ = ["Written"]


class Written(BaseModel):
    """Something a person wrote: unknown keys are refused and nothing changes afterwards."""

    model_config = ConfigDict(frozen=True, extra="forbid", arbitrary_types_allowed=False)
