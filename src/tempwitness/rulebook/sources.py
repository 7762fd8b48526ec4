"""The bibliography: what each source key of a rule stands for."""

from __future__ import annotations

from dataclasses import dataclass

from tempwitness.errors import Location, RuleError
from tempwitness.rulebook.files import read_toml, rules_folder, shown
from tempwitness.rulebook.folder import kept_by_rules

__all__ = ["SourceEntry", "citation", "load_sources"]


@dataclass(frozen=True, slots=True)
class SourceEntry:
    """A text that a rule rests on.

    Parameters
    ----------
    key : str
        Key by which rules refer to it.
    title, issuer, edition : str
        What it is, who issued it, and which edition or section was used.
    read : str
        How it was read: the text itself, or an account of it.
    """

    key: str
    title: str
    issuer: str
    edition: str
    read: str


_KEYS = {"title", "issuer", "edition", "read"}


@kept_by_rules
def load_sources() -> dict[str, SourceEntry]:
    """Read the bibliography.

    Raises
    ------
    RuleError
        If an entry lacks one of its four keys or has another, or stands twice.
    """
    entries: dict[str, SourceEntry] = {}
    for path in sorted((rules_folder() / "sources").glob("*.toml")):
        for key, entry in read_toml(path).items():
            where = Location(shown(path), key=key)
            if not isinstance(entry, dict) or set(entry) != _KEYS:
                raise RuleError(
                    "a source has exactly the keys title, issuer, edition and read",
                    location=where,
                    hint="write all four; 'read' says how the text was read",
                )
            if key in entries:
                raise RuleError(f"the source '{key}' stands in two files", location=where)
            entries[key] = SourceEntry(key=key, **entry)
    return entries


def citation(key: str) -> str:
    """Return a source as one line: issuer, title, edition, and how it was read."""
    source = load_sources()[key]
    return f"{source.issuer}: {source.title}, {source.edition} ({source.read})"
