"""Which readings must not decide by themselves, and why; nothing is dropped."""

from __future__ import annotations

from tempwitness.quality.qualify import qualify

__all__ = ["qualify"]
