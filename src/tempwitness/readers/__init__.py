"""From what a person wrote to a raw log: records, bare tables, times, units and names.

The functions are loaded when they are first asked for, so that the command line can offer its
help without loading what only reading needs.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from tempwitness.readers.bare import read_any, read_bare
    from tempwitness.readers.options import BareOptions
    from tempwitness.readers.record import read_record

__all__ = ["BareOptions", "read_any", "read_bare", "read_record"]

_HOME = {
    "BareOptions": "options",
    "read_any": "bare",
    "read_bare": "bare",
    "read_record": "record",
}


def __getattr__(name: str) -> Any:  # noqa: ANN401 - the language's own signature
    if name not in _HOME:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"{__name__}.{_HOME[name]}"), name)
