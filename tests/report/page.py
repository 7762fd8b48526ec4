"""Read an HTML report back with an independent parser (html5lib), which takes no error."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING
from xml.etree.ElementTree import Element

import html5lib

from tempwitness.report import to_html

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from tempwitness.model.finding import Evaluation
    from tempwitness.model.logs import StagedLog

__all__ = ["Element", "by_id", "children_of", "inside", "page", "parsed", "squeezed", "words"]

_SPACED = {"p", "li", "dt", "dd", "td", "th", "h1", "h2", "h3", "h4", "text", "title", "desc"}


def parsed(content: bytes) -> Element:
    """Parse a page as browsers do; any error in it is raised."""
    parser = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False)
    root = parser.parse(content, transport_encoding="utf-8")
    assert isinstance(root, Element)
    # Drawings come with the name of their own language before each element.
    for element in root.iter():
        if isinstance(element.tag, str):
            element.tag = element.tag.rpartition("}")[2]
    return root


def page(evaluation: Evaluation, log: StagedLog) -> Element:
    return parsed(to_html(evaluation, log))


def by_id(root: Element, name: str) -> Element:
    found = [element for element in root.iter() if element.get("id") == name]
    assert len(found) == 1, name
    return found[0]


def words(element: Element, without: Callable[[Element], bool] | None = None) -> str:
    """Return the text below an element with single spaces, blocks apart."""
    return " ".join("".join(_texts(element, without)).split())


def _texts(element: Element, without: Callable[[Element], bool] | None) -> Iterator[str]:
    if without is not None and without(element):
        return
    yield element.text or ""
    for child in element:
        yield from _texts(child, without)
        yield child.tail or ""
    if element.tag in _SPACED:
        yield "\n"


def inside(root: Element, tag: str) -> list[Element]:
    return [element for element in root.iter() if element.tag == tag]


def children_of(root: Element) -> dict[Element, Element]:
    """Return the parent of every element."""
    return {child: parent for parent in root.iter() for child in parent}


def squeezed(text: str) -> str:
    return re.sub(r"\s+", "", text)
