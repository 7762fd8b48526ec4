"""Papers before the event: the permit packet, drawn from one event file and the code in force.

A packet is loaded when it is asked for, so that a help text costs neither numpy nor reportlab.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tempwitness.papers.fill import fill_form
    from tempwitness.papers.pages.build import to_packet
    from tempwitness.papers.plan import planned

__all__ = ["fill_form", "planned", "to_packet"]

_HOME = {"fill_form": "fill", "planned": "plan", "to_packet": "pages.build"}


def __getattr__(name: str) -> object:
    """Import a paper when it is first asked for."""
    if name not in _HOME:
        raise AttributeError(f"module '{__name__}' has no attribute '{name}'")
    return getattr(import_module(f"{__name__}.{_HOME[name]}"), name)
