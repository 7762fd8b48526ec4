"""Verify an archive: its members by their hashes, its answers by judging everything again."""

from __future__ import annotations

import hashlib
import json
import os
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from tempwitness.errors import Location, SealError, TempwitnessError
from tempwitness.readers.opening import bytes_of
from tempwitness.report import to_json
from tempwitness.sealing.archive import MOST_BYTES, unpacked
from tempwitness.sealing.compare import Differences, differences
from tempwitness.sealing.contents import CONTENTS, Contents, SealedLot, from_bytes
from tempwitness.sealing.gather import strays
from tempwitness.sealing.judged import Asked, judged, laid_out
from tempwitness.sealing.manifest import MANIFEST, compared, listed, wrapped_in
from tempwitness.sealing.rules_now import RulesNow, rules_now
from tempwitness.version import VERSION

if TYPE_CHECKING:
    from collections.abc import Mapping
    from pathlib import Path

    from tempwitness.model.finding import Evaluation

__all__ = ["LotAgain", "Verified", "verify"]

#: What reading figures and findings raises where a stranger took something out of them: shipped
#: rules are whole, so that nobody else asks.
_OF_CHANGED_FILES = (LookupError, TypeError, ValueError, AttributeError, ArithmeticError, OSError)
#: Room for headers and names beside the contents.
_LARGEST = MOST_BYTES + (8 << 20)


@dataclass(frozen=True, slots=True)
class LotAgain:
    """One lot of an archive, judged again.

    Parameters
    ----------
    lot : str
    sealed, now : str
        The two answers; `now` is empty if it could not be judged.
    found : Differences, optional
        How they differ; ``None`` if it could not be judged.
    why_not : str
        Why it could not be judged.
    shipped : str
        The answer under the rules shipped with this program, where these differ from the sealed.
    """

    lot: str
    sealed: str
    now: str = ""
    found: Differences | None = None
    why_not: str = ""
    shipped: str = ""


@dataclass(frozen=True, slots=True)
class Verified:
    """What came of a verification.

    Parameters
    ----------
    manifest_sha256 : str
    members : int
        How many the manifest lists.
    faults : tuple of str
        Members that are not as they were sealed.
    aside : tuple of str
        What a Mac added when it packed the archive; it is not looked at.
    contents : Contents
    lots : tuple of LotAgain
    rules : RulesNow
    """

    manifest_sha256: str
    members: int
    faults: tuple[str, ...]
    aside: tuple[str, ...]
    contents: Contents
    lots: tuple[LotAgain, ...]
    rules: RulesNow

    @property
    def same_version(self) -> bool:
        """Whether this program is the version that sealed it."""
        return self.contents.tool == f"tempwitness {VERSION}"

    @property
    def same(self) -> bool:
        """Whether nothing was changed and every answer is the same.

        Another version may tell the same answer in other words.
        """
        return not self.faults and all(self._same(lot) for lot in self.lots)

    def _same(self, lot: LotAgain) -> bool:
        if lot.found is None or lot.found.answers:
            return False
        return not (lot.found.words and self.same_version)


def verify(path: Path) -> Verified:
    """Verify an archive.

    Nothing in it is trusted: names, sizes and links are checked before anything is unpacked, and
    its records can open nothing but its own members.

    Raises
    ------
    SealError
        If it is no archive, was not sealed here, or is dangerous to unpack.
    TempwitnessError
        If all members are as they were sealed and yet cannot be judged.
    """
    file = str(path)
    raw = _bytes(path)
    opened = unpacked(raw, file)
    wrap = wrapped_in(opened, file)
    manifest = opened.members[wrap + MANIFEST]
    hashes = listed(manifest, file)
    found = compared(hashes, opened, wrap)
    if CONTENTS not in found.members:
        raise SealError(
            f"{CONTENTS} is missing, so nothing can be judged again; {'; '.join(found.faults[:5])}",
            location=Location(file),
            hint="copy the archive again from where it was sealed",
        )
    contents = from_bytes(found.members[CONTENTS], file)
    rules = rules_now(found.members, _codes(found.members, contents))
    with laid_out(found.members) as root:
        lots = tuple(
            _again(root, lot, contents, found.members, shipped=rules.differ)
            for lot in contents.lots
        )
    cannot = next((lot for lot in lots if lot.found is None), None)
    if cannot is not None and not found.faults:
        raise SealError(
            f"every member is as it was sealed, but the lot '{cannot.lot}' cannot be judged again: "
            f"{cannot.why_not}",
            location=Location(file),
            hint=f"use the version that sealed it: {contents.tool}",
        )
    return Verified(
        hashlib.sha256(manifest).hexdigest(),
        len(hashes),
        found.faults,
        tuple(opened.aside),
        contents,
        lots,
        rules,
    )


def _bytes(path: Path) -> bytes:
    if path.is_file() and path.stat().st_size > _LARGEST:
        raise SealError(
            f"the file is larger than {_LARGEST >> 20} MiB, and no archive sealed here is",
            location=Location(str(path)),
        )
    return bytes_of(path, name=str(path))


def _again(
    root: Path,
    lot: SealedLot,
    contents: Contents,
    members: Mapping[str, bytes],
    *,
    shipped: bool,
) -> LotAgain:
    asked = Asked(contents.asked_at, contents.sealed_at)
    try:
        sealed = _sealed_tree(members, lot)
    except SealError as why:
        return LotAgain(lot.lot, "", why_not=why.message)
    answer = str(sealed.get("verdict"))
    if fault := _unsafe(root, lot, members):
        return LotAgain(lot.lot, answer, why_not=fault)
    try:
        found = judged(root, lot.record, asked).evaluation
        differ = differences(sealed, _tree(found))
    except TempwitnessError as why:
        return LotAgain(lot.lot, answer, why_not=_inside(str(why), root))
    except _OF_CHANGED_FILES as why:
        what = f"its rules or its evaluation were changed beyond use ({type(why).__name__}: {why})"
        return LotAgain(lot.lot, answer, why_not=_inside(what, root))
    other = _under_shipped(root, lot, asked) if shipped else ""
    return LotAgain(lot.lot, answer, found.verdict.value, differ, shipped=other)


def _unsafe(root: Path, lot: SealedLot, members: Mapping[str, bytes]) -> str:
    """Say why a lot is not judged: its record is missing, or reaches out of the archive."""
    if lot.record not in members:
        return f"its record {lot.record} is missing"
    try:
        out = strays(root, lot.record, frozenset(members))
    except TempwitnessError as why:
        return _inside(str(why), root)
    return f"its record points at what is not in the archive: {', '.join(out[:5])}" if out else ""


def _under_shipped(root: Path, lot: SealedLot, asked: Asked) -> str:
    try:
        return judged(root, lot.record, asked, own_rules=False).evaluation.verdict.value
    except TempwitnessError as why:
        return f"none ({_inside(why.message, root)})"


def _inside(message: str, root: Path) -> str:
    """Name places in the archive, not in the passing folder."""
    return message.replace(f"{root}{os.sep}", "").replace(str(root), "")


def _sealed_tree(members: Mapping[str, bytes], lot: SealedLot) -> dict[str, Any]:
    if lot.evaluation not in members:
        raise SealError(f"its evaluation {lot.evaluation} is missing")
    try:
        tree = json.loads(members[lot.evaluation])
    except (ValueError, RecursionError):
        tree = None
    if not isinstance(tree, dict):
        raise SealError(f"its evaluation {lot.evaluation} is not the JSON of one")
    return tree


def _tree(evaluation: Evaluation) -> dict[str, Any]:
    tree: dict[str, Any] = json.loads(to_json(evaluation))
    return tree


def _codes(members: Mapping[str, bytes], contents: Contents) -> set[str]:
    """Return the codes under which the lots were judged, as their evaluations name them."""
    found = set()
    for lot in contents.lots:
        try:
            tree = _sealed_tree(members, lot)
        except SealError:
            continue
        beside = tree.get("beside")
        named = [tree.get("code"), *(beside if isinstance(beside, list) else [])]
        found |= {str(code.get("id")) for code in named if isinstance(code, dict)}
    return found
