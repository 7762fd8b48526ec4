"""What came of a verification, in words."""

from __future__ import annotations

import textwrap
from typing import TYPE_CHECKING

from tempwitness.sealing.paper import HONEST, written

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from tempwitness.sealing.rules_now import RulesNow
    from tempwitness.sealing.verify import LotAgain, Verified

__all__ = ["told", "wrapped"]

_MOST = 20
_WIDTH = 80
#: A path or a hash: its line is left as it is, so that it can be found and copied.
_LONG_WORD = 30


def told(found: Verified, file: str, expected: str | None) -> Iterator[str]:
    """Yield the lines that are printed.

    Parameters
    ----------
    found : Verified
    file : str
        The archive as it was named.
    expected : str, optional
        Hash that was written down when it was sealed.
    """
    as_noted = expected is None or expected == found.manifest_sha256
    same = found.same and as_noted
    yield f"{file}: {'THE SAME' if same else 'DIFFERS'}"
    yield ""
    yield from _manifest(found, expected)
    asked = found.contents.asked_at or found.contents.sealed_at
    yield f"Sealed by {found.contents.tool} at {written(found.contents.sealed_at)}"
    yield f"Judged again from its own contents, for {written(asked)}"
    if not found.same_version:
        yield "  by another version of the program, which may put the same answer in other words"
    yield ""
    for number, lot in enumerate(found.lots, 1):
        yield from _lot(number, lot)
    yield ""
    yield from _rules(found.rules)
    yield ""
    yield from HONEST


def _manifest(found: Verified, expected: str | None) -> Iterator[str]:
    yield f"Manifest SHA-256 {found.manifest_sha256}"
    if expected is None:
        yield "  compare it with the line that was written down when it was sealed (--manifest)"
    elif expected == found.manifest_sha256:
        yield "  the one that was written down"
    else:
        yield f"  NOT the one that was written down: {expected}"
    if not found.faults:
        yield f"Members: all {found.members} are as they were sealed"
    else:
        count = len(found.faults)
        verb = "is" if count == 1 else "are"
        yield f"Members: {count} of {found.members} {verb} NOT as they were sealed"
        yield from _listed(found.faults)
    if found.aside:
        count = len(found.aside)
        yield f"Beside them: {count} that a Mac adds when it packs a folder; not looked at"


def _lot(number: int, lot: LotAgain) -> Iterator[str]:
    sealed = _word(lot.sealed) or "unreadable"
    if lot.found is None:
        yield f"{number}. {lot.lot}: sealed as {sealed}, NOT judged again"
        yield f"  {lot.why_not}"
        return
    if not lot.found.answers and not lot.found.words:
        yield f"{number}. {lot.lot}: {sealed}, and again {_word(lot.now)}; all findings the same"
    elif not lot.found.answers:
        yield f"{number}. {lot.lot}: {sealed}, and again {_word(lot.now)}; otherwise told:"
    else:
        yield f"{number}. {lot.lot}: sealed as {sealed}, now {_word(lot.now)}; it DIFFERS:"
    yield from _listed((*lot.found.answers, *lot.found.words))
    if lot.shipped:
        yield f"  under the rules shipped now: {_word(lot.shipped)}"


def _rules(rules: RulesNow) -> Iterator[str]:
    if not rules.differ:
        yield "Rules: those shipped with this program are the same as the sealed ones"
        return
    yield "Rules: those shipped with this program differ from the sealed ones, by which was judged"
    lines = [
        *(f"changed since: {name}" for name in rules.changed),
        *(f"no longer shipped: {name}" for name in rules.gone),
        *(f"new since: {name}" for name in rules.new),
    ]
    yield from _listed(lines)


def _listed(lines: Sequence[str]) -> Iterator[str]:
    yield from (f"  {line}" for line in lines[:_MOST])
    if len(lines) > _MOST:
        yield f"  and {len(lines) - _MOST} more"


def _word(verdict: str) -> str:
    return verdict.replace("_", " ")


def wrapped(line: str) -> str:
    """Wrap a line of prose within its margin."""
    if max(map(len, line.split()), default=0) > _LONG_WORD:
        return line
    margin = "  " if line.startswith("  ") else ""
    return textwrap.fill(
        line.strip(),
        _WIDTH,
        initial_indent=margin,
        subsequent_indent=f"{margin}  ",
        break_long_words=False,
        break_on_hyphens=False,
    )
