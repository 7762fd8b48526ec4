"""Outputs: text, JSON, CSV, PDF and HTML, all drawn from one evaluation; nothing is judged here.

Each output is imported when it is asked for, so that printing a text costs neither pydantic
nor reportlab.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tempwitness.report.calendar import to_calendar
    from tempwitness.report.document import to_json
    from tempwitness.report.html.build import to_html
    from tempwitness.report.pdf.build import to_pdf
    from tempwitness.report.pdf.event import to_event_pdf
    from tempwitness.report.schema import from_json, json_schema, status_schema
    from tempwitness.report.table import to_csv
    from tempwitness.report.text import to_text
    from tempwitness.report.text_status import status_text

__all__ = [
    "from_json",
    "json_schema",
    "status_schema",
    "status_text",
    "to_calendar",
    "to_csv",
    "to_event_pdf",
    "to_html",
    "to_json",
    "to_pdf",
    "to_text",
]

_HOME = {
    "from_json": "schema",
    "json_schema": "schema",
    "status_schema": "schema",
    "status_text": "text_status",
    "to_calendar": "calendar",
    "to_csv": "table",
    "to_event_pdf": "pdf.event",
    "to_html": "html.build",
    "to_json": "document",
    "to_pdf": "pdf.build",
    "to_text": "text",
}


def __getattr__(name: str) -> object:
    """Import an output when it is first asked for."""
    if name not in _HOME:
        raise AttributeError(f"module '{__name__}' has no attribute '{name}'")
    return getattr(import_module(f"{__name__}.{_HOME[name]}"), name)
