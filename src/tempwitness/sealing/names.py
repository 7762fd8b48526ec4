"""Names of members: which may stand in an archive, and which are taken for the same."""

from __future__ import annotations

import unicodedata

__all__ = ["alike", "composed", "fault_of", "portable_fault", "tidied"]

_LONGEST = 400
_NOT_EVERYWHERE = '<>"|?*\\'


def tidied(name: str) -> str:
    r"""Return a member's name with plain strokes and without a leading ``./``.

    Examples
    --------
    >>> tidied("./records\\1\\pit.csv")
    'records/1/pit.csv'
    """
    plain = name.replace("\\", "/")
    while plain.startswith("./"):
        plain = plain[2:]
    return plain


def composed(name: str) -> str:
    """Return a name with each letter and its mark as one sign; systems write them differently."""
    return unicodedata.normalize("NFC", name)


def alike(name: str) -> str:
    """Return what two names share that some system takes for one: case and composed letters."""
    return composed(composed(name).casefold())


def fault_of(name: str) -> str:
    """Say why a name may not be unpacked anywhere; ``""`` if it may.

    Examples
    --------
    >>> fault_of("../../etc/passwd")
    'it leads out of the archive'
    >>> fault_of("records/1/pit.csv")
    ''
    """
    parts = name.split("/")
    faults = (
        (any(map(_hidden, name)), "it holds a control character, or half a character"),
        (len(name) > _LONGEST, f"it is longer than {_LONGEST} characters"),
        (
            name.startswith("/") or ":" in name,
            "it names a place outside the archive (an absolute path or a drive)",
        ),
        (".." in parts, "it leads out of the archive"),
        ("" in parts or "." in parts, "a part of it is empty"),
    )
    return next((what for wrong, what in faults if wrong), "")


def _hidden(sign: str) -> bool:
    return unicodedata.category(sign) in ("Cc", "Cs")


def portable_fault(name: str) -> str:
    """Say why a name cannot be unpacked on every system; ``""`` if it can."""
    if odd := sorted(set(name) & set(_NOT_EVERYWHERE)):
        return f"it holds {' '.join(odd)}, which not every system takes in a name"
    return fault_of(name)
