"""The time zone to which the machine is set, as far as it is known by name."""

from __future__ import annotations

import os
from pathlib import Path
from zoneinfo import available_timezones

__all__ = ["machine_zone"]

_LINK = Path("/etc/localtime")


def machine_zone(link: Path = _LINK) -> str:
    """Return the IANA name of the machine's zone, ``""`` if it has none.

    An offset from UTC alone names no zone, because it does not say when the clocks change. A
    machine set to UTC is most often a server, and says nothing of the kitchen's clock.

    Parameters
    ----------
    link : Path
        The link by which most systems name their zone; only its target's name is used.
    """
    name = os.environ.get("TZ", "").removeprefix(":")
    if not name and link.is_symlink():
        name = link.resolve().as_posix().partition("/zoneinfo/")[2]
    place = "/" in name and not name.startswith("Etc/")
    return name if place and name in available_timezones() else ""
