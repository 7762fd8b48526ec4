"""A sheet of text that keeps within its width."""

from __future__ import annotations

import textwrap
from dataclasses import dataclass, field

from tempwitness.model.vocabulary import Verdict
from tempwitness.report.wording import BOUND, bound, plain, verdict_word

__all__ = ["NARROWEST", "Lines"]


NARROWEST = 24

_PAINT = {
    Verdict.NOT_MET: "\x1b[1;31m",
    Verdict.NOT_SHOWN: "\x1b[1;33m",
    Verdict.OPEN: "\x1b[1;36m",
    Verdict.NEEDS_LIMIT: "\x1b[1;35m",
    Verdict.MET: "\x1b[32m",
    Verdict.NOT_APPLICABLE: "\x1b[2m",
}
_RESET = "\x1b[0m"


@dataclass(slots=True)
class Lines:
    """Collects wrapped lines.

    Parameters
    ----------
    width : int
        Longest line [characters]; at least 24.
    colour : bool
        Whether verdicts are coloured too; their words always stand there.
    """

    width: int
    colour: bool
    done: list[str] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.width = max(self.width, NARROWEST)

    def blank(self) -> None:
        """Leave a line free, never two."""
        if self.done and self.done[-1]:
            self.done.append("")

    def heading(self, text: str) -> None:
        """Begin a part, underlined so that it stands out without colour."""
        self.blank()
        self.put(text)
        self.done.append("-" * min(len(text), self.width))

    def put(self, text: str, *, indent: int = 0, hang: int = 0, bullet: str = "") -> None:
        """Write one paragraph.

        Parameters
        ----------
        indent : int
            Free columns before every line.
        hang : int
            Further columns before the second and later lines.
        bullet : str
            What stands before the first line; later lines align behind it.
        """
        pad = " " * min(indent, self.width // 4)
        behind = pad + " " * (len(bullet) or hang)
        wrapped = textwrap.wrap(
            bound(plain(text)),
            self.width,
            initial_indent=pad + bullet,
            subsequent_indent=behind,
            break_on_hyphens=False,
        )
        self.done.extend(line.replace(BOUND, " ") for line in wrapped)

    def verdict(self, verdict: Verdict, text: str, *, indent: int = 0) -> None:
        """Write a paragraph that begins with a verdict."""
        first = len(self.done)
        word = f"[{verdict_word(verdict)}]"
        self.put(f"{word} {text}" if text else word, indent=indent, hang=2)
        if self.colour:
            self._paint(first, verdict, word)

    def _paint(self, first: int, verdict: Verdict, word: str) -> None:
        painted = f"{_PAINT[verdict]}{word}{_RESET}"
        self.done[first] = self.done[first].replace(word, painted, 1)

    def text(self) -> str:
        """Return everything, with a line end after the last line."""
        return "\n".join(self.done) + "\n"
