"""The event file: one TOML file for an event, from which all papers are made."""

from __future__ import annotations

from tempwitness.readers.event.read import EventFile, read_event

__all__ = ["EventFile", "read_event"]
