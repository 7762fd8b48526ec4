"""Papers before the event: the permit packet, drawn from one event file and the code in force.

A packet is loaded when it is asked for, so that a help text costs neither numpy nor reportlab.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tempwitness.papers.fill import fill_form
    from tempwitness.papers.labels import labels_of
    from tempwitness.papers.pages.build import to_packet
    from tempwitness.papers.pages.labels import to_labels
    from tempwitness.papers.pages.sheets import to_sheets
    from tempwitness.papers.plan import planned

__all__ = ["fill_form", "labels_of", "planned", "to_labels", "to_packet", "to_sheets"]

_HOME = {
    "fill_form": "fill",
    "labels_of": "labels",
    "planned": "plan",
    "to_labels": "pages.labels",
    "to_packet": "pages.build",
    "to_sheets": "pages.sheets",
}


def __getattr__(name: str) -> object:
    """Import a paper when it is first asked for."""
    if name not in _HOME:
        raise AttributeError(f"module '{__name__}' has no attribute '{name}'")
    return getattr(import_module(f"{__name__}.{_HOME[name]}"), name)
