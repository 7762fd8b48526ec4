"""The rules in an archive beside those that are shipped with this program."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tempwitness.rulebook.files import code_ids
from tempwitness.rulebook.folder import rules_folder
from tempwitness.rulebook.used import rules_used
from tempwitness.sealing.judged import RULES

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

__all__ = ["RulesNow", "rules_now"]


@dataclass(frozen=True, slots=True)
class RulesNow:
    """How the shipped rules differ from the sealed ones: names of files."""

    changed: tuple[str, ...] = ()
    gone: tuple[str, ...] = ()
    new: tuple[str, ...] = ()

    @property
    def differ(self) -> bool:
        """Whether they differ at all."""
        return bool(self.changed or self.gone or self.new)


def rules_now(members: Mapping[str, bytes], codes: Iterable[str]) -> RulesNow:
    """Compare the rules among some members with the shipped ones.

    Parameters
    ----------
    members : mapping of str to bytes
        Members of an archive, their names checked.
    codes : iterable of str
        Codes under which the lots were judged.
    """
    room = f"{RULES}/"
    sealed = {n.removeprefix(room): d for n, d in members.items() if n.startswith(room)}
    shipped = rules_folder()
    there = {n for n in sealed if (shipped / n).is_file()}
    by_place = any(name.startswith("places/") for name in sealed)
    known = set(code_ids()).intersection(codes)
    used = rules_used(known, by_place=by_place)
    return RulesNow(
        tuple(sorted(n for n in there if (shipped / n).read_bytes() != sealed[n])),
        tuple(sorted(sealed.keys() - there)),
        tuple(sorted(used.keys() - sealed.keys())),
    )
