"""The version, in its one home: the build reads it here."""

from __future__ import annotations

__all__ = ["VERSION"]

VERSION = "0.1.0"
