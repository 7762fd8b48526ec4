"""A record judged from an archive's own contents, in a folder that is thrown away."""

from __future__ import annotations

import os
import tempfile
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from tempwitness.errors import SealError
from tempwitness.pipeline import Checked, check
from tempwitness.rulebook.folder import rules_at

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping
    from datetime import datetime

    from tempwitness.model.finding import Evaluation

__all__ = ["RULES", "Asked", "judged", "laid_out"]

RULES = "rules"


@dataclass(frozen=True, slots=True)
class Asked:
    """The moment for which a lot is judged: the one that was named, and the present then."""

    at: datetime | None
    now: datetime


@contextmanager
def laid_out(members: Mapping[str, bytes]) -> Iterator[Path]:
    """Write members into a folder of their own, and remove it after the block.

    Their names must have been checked: nothing here looks at them again.

    Raises
    ------
    SealError
        If this system cannot write them: two need the same place, or a name is too long for it.
    """
    with tempfile.TemporaryDirectory(prefix="tempwitness-") as name:
        root = Path(name).resolve()
        for member, data in members.items():
            target = root / member
            try:
                target.parent.mkdir(parents=True, exist_ok=True)
                target.write_bytes(data)
            except OSError as why:
                raise SealError(
                    f"the member '{member}' cannot be unpacked here ({why.strerror})",
                    hint="give the passing folder room (TMPDIR), or verify on another machine",
                ) from None
        yield root


def judged(root: Path, record: str, asked: Asked, *, own_rules: bool = True) -> Checked:
    """Judge a record of an archive that was laid out.

    Parameters
    ----------
    root : Path
    record : str
    asked : Asked
    own_rules : bool
        Whether by the rules in the archive; else by those shipped with this program.
    """
    if not own_rules:
        return _named_inside(check(root / record, at=asked.at, now=asked.now), root)
    with rules_at(root / RULES):
        return _named_inside(check(root / record, at=asked.at, now=asked.now), root)


def _named_inside(found: Checked, root: Path) -> Checked:
    """Name local changes by their place in the archive, not by that of the passing folder."""
    evaluation: Evaluation = found.evaluation
    inside = tuple(replace(o, file=_inside(o.file, root)) for o in evaluation.overrides)
    return Checked(replace(evaluation, overrides=inside), found.log)


def _inside(name: str, root: Path) -> str:
    place = Path(os.path.normpath(name))
    return place.relative_to(root).as_posix() if place.is_relative_to(root) else name
