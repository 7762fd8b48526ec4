"""Settings that every command shares, also when it is called by itself."""

from __future__ import annotations

from typing import Any

__all__ = ["SETTINGS"]

# Click keeps the help option of the first call: each command must name the same ones.
SETTINGS: dict[str, Any] = {"help_option_names": ["-h", "--help"], "max_content_width": 96}
