"""Outputs: text, JSON, CSV and PDF, all drawn from one evaluation; nothing is judged here.

Each output is imported when it is asked for, so that printing a text costs neither pydantic
nor reportlab.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tempwitness.report.document import to_json
    from tempwitness.report.pdf.build import to_pdf
    from tempwitness.report.pdf.event import to_event_pdf
    from tempwitness.report.schema import from_json, json_schema
    from tempwitness.report.table import to_csv
    from tempwitness.report.text import to_text

__all__ = ["from_json", "json_schema", "to_csv", "to_event_pdf", "to_json", "to_pdf", "to_text"]

_HOME = {
    "from_json": "schema",
    "json_schema": "schema",
    "to_csv": "table",
    "to_event_pdf": "pdf.event",
    "to_json": "document",
    "to_pdf": "pdf.build",
    "to_text": "text",
}


def __getattr__(name: str) -> object:
    """Import an output when it is first asked for."""
    if name not in _HOME:
        raise AttributeError(f"module '{__name__}' has no attribute '{name}'")
    return getattr(import_module(f"{__name__}.{_HOME[name]}"), name)
