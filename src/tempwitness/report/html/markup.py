"""Markup that cannot be broken by what people wrote: every text is escaped on its way in."""

from __future__ import annotations

import re
from html import escape
from typing import TYPE_CHECKING

from tempwitness.report.localtime import Moment, Span
from tempwitness.report.wording import bound, plain

if TYPE_CHECKING:
    from collections.abc import Iterable

__all__ = ["Markup", "abbreviation", "attribute", "element", "expanded", "joined", "text"]

_VOID = frozenset({"br", "meta"})
# Writing that runs from right to left is kept apart, so that it does not turn the figures
# beside it round. Blocks of the Unicode standard (chapter 9 and 19).
_LEFTWARD = (
    "\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufefc"
    "\U00010800-\U00010cff\U00010d40-\U00010fff\U0001e800-\U0001eeff"
)
_LEFTWARD_RUN = re.compile(f"([{_LEFTWARD}](?:[{_LEFTWARD}\\s]*[{_LEFTWARD}])?)")

_MEANINGS = {
    "CSV": "comma-separated values",
    "FDA": "Food and Drug Administration",
    "FSIS": "Food Safety and Inspection Service",
    "HACCP": "hazard analysis and critical control points",
    "IANA": "Internet Assigned Numbers Authority",
    "JSON": "JavaScript Object Notation",
    "PDF": "Portable Document Format",
    "SHA-256": "Secure Hash Algorithm with 256 bits",
    "USDA": "United States Department of Agriculture",
    "WHO": "World Health Organization",
}
_ABBREVIATED = re.compile(rf"\b({'|'.join(_MEANINGS)})\b")


class Markup(str):
    """A text that is markup already, and safe."""

    __slots__ = ()


def text(words: str) -> Markup:
    r"""Return words as markup: one line, escaped, moments as such, figures bound to their units.

    Examples
    --------
    >>> text("lamb <b> & 135 °F")
    'lamb &lt;b&gt; &amp; 135\xa0°F'
    """
    if isinstance(words, Markup):
        return words
    if isinstance(words, Moment):
        return Markup(f'<time datetime="{attribute(words.iso)}">{_inline(words)}</time>')
    if isinstance(words, Span):
        return Markup(" to ".join(map(text, words.edges)))
    return Markup(_inline(words))


def _inline(words: str) -> str:
    # A space at the seam of two parts is kept.
    before, after = words[:1].isspace(), words[1:] and words[-1:].isspace()
    line = f"{' ' if before else ''}{bound(plain(words))}{' ' if after else ''}"
    if line.isascii():
        return escape(line, quote=False)
    parts = _LEFTWARD_RUN.split(line)
    return "".join(
        f"<bdi>{escape(part, quote=False)}</bdi>" if place % 2 else escape(part, quote=False)
        for place, part in enumerate(parts)
    )


def expanded(words: str) -> Markup:
    """Return words as markup in which known abbreviations carry their meaning."""
    if isinstance(words, Markup | Moment | Span):
        return text(words)
    return Markup(_ABBREVIATED.sub(_with_meaning, _inline(words)))


def _with_meaning(found: re.Match[str]) -> str:
    return abbreviation(found[1], _MEANINGS[found[1]])


def abbreviation(short: str, meaning: str) -> Markup:
    """Return an abbreviation with its meaning."""
    return element("abbr", short, title=meaning)


def attribute(value: str) -> str:
    """Return a text as it may stand between the quotes of an attribute."""
    return escape(plain(value), quote=True)


def joined(parts: Iterable[str], between: str = "") -> Markup:
    """Join texts and markup; texts are escaped."""
    return Markup(between.join(text(part) for part in parts))


def element(name: str, /, *children: str, **attributes: str | None) -> Markup:
    """Return an element.

    Parameters
    ----------
    name : str
        Its name.
    children : str
        Texts, which are escaped, and markup.
    attributes : str, optional
        ``class_`` stands for ``class``, ``aria_label`` for ``aria-label``; none where the value
        is ``None``.
    """
    said = "".join(
        f' {key.rstrip("_").replace("_", "-")}="{attribute(value)}"'
        for key, value in attributes.items()
        if value is not None
    )
    if name in _VOID:
        return Markup(f"<{name}{said}>")
    return Markup(f"<{name}{said}>{''.join(map(text, children))}</{name}>")
