"""The page and the paper name the same: read back from both with independent readers."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import UTC, datetime
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from tempwitness.pipeline import Checked, check

from .page import Element, by_id, children_of, inside, page, squeezed, words
from .reread import pages, read

if TYPE_CHECKING:
    from tempwitness.model.finding import Evaluation
    from tempwitness.model.logs import StagedLog

SAMPLES = Path(__file__).parents[2] / "sample_records"
NAMES = (
    "02-brisket-box-gap",
    "07-night-clocks-go-back",
    "11-county-override",
    "15-goat-in-celsius",
)

# What belongs to one of them alone: links within the page, where to sign on paper, the head and
# foot of the sheets, and the chart in words for whoever does not see it.
_PAGE_ALONE = ("nav", "svg", "figcaption", "footer", "style", "caption")


@cache
def sample(name: str) -> Checked:
    at = datetime(2026, 12, 1, tzinfo=UTC)
    return check(SAMPLES / name / "record.toml", None, at=at, under_all=name.startswith("02"))


def _alone(element: Element) -> bool:
    return element.tag in _PAGE_ALONE or "screen" in (element.get("class") or "").split()


def _figures(text: str) -> list[str]:
    """Return the words that hold a letter or a figure; what is shortened or drawn is no word."""
    return [w for w in text.split() if re.search(r"\w", w) and not w.endswith("…")]


def both(evaluation: Evaluation, log: StagedLog) -> tuple[Element, list[str]]:
    return page(evaluation, log), pages(read(evaluation, log))


@pytest.mark.parametrize("name", NAMES)
def test_every_word_of_the_page_stands_on_paper(name: str) -> None:
    found = sample(name)
    # Paper has room for some of the other codes only.
    root, sheets = both(replace(found.evaluation, under=()), found.log)
    # Paper writes the names of the answers small where it counts them.
    paper = squeezed("".join(sheets)).casefold()
    for part in by_id(root, "main"):
        if part.get("id") in ("chart", "readings"):
            continue
        missing = {w for w in _figures(words(part, _alone)) if w.casefold() not in paper}
        # Headings of the page, which stand over no part of the paper.
        assert missing <= {"Lot,", "word:"}, part.get("id")


@pytest.mark.parametrize("name", NAMES)
def test_every_word_on_paper_stands_in_the_page(name: str) -> None:
    found = sample(name)
    root, sheets = both(found.evaluation, found.log)
    whole = squeezed(words(root))
    body = [re.sub(r"page \d+ of \d+", "", sheet) for sheet in sheets]
    missing = {w for sheet in body for w in _figures(sheet) if squeezed(w) not in whole}
    # The head of a table, how it leads on, and what only paper has no room for.
    own = {"Explained", "page", "by", "behind", "the", "chart", "By", "more"}
    own |= {"rows", "have", "no", "room", "here;", "check", "--all", "lists", "them."}
    # Marks of the axes are chosen by the room that there is.
    axes = re.compile(r"\d+|\d\d:\d\d")
    assert {w for w in missing if not axes.fullmatch(w)} <= own


@pytest.mark.parametrize("name", NAMES)
def test_every_bookmark_of_the_paper_is_a_heading_of_the_page(name: str) -> None:
    found = sample(name)
    root = page(found.evaluation, found.log)
    headings = [words(e) for e in root.iter() if re.fullmatch("h[1-6]", e.tag)]
    for entry in read(found.evaluation, found.log).outline:
        assert not isinstance(entry, list)
        title = " ".join(str(entry.title).split())
        # The page's first heading names the food as well.
        assert title in headings or any(h.startswith(f"{title}: ") for h in headings)


@pytest.mark.parametrize("name", NAMES)
def test_both_list_the_same_readings(name: str) -> None:
    found = sample(name)
    root, sheets = both(found.evaluation, found.log)
    section = by_id(root, "readings")
    paper = squeezed("".join(sheets).split("no letter: passed.")[1])
    parents = children_of(section)
    rows = [row for row in inside(section, "tr") if parents[row].tag == "tbody"]
    assert rows
    for row in rows:
        when, reading, _ = (words(cell) for cell in row)
        assert squeezed(when + reading) in paper


def test_the_invented_lamb_is_the_same_in_both(evaluation: Evaluation, log: StagedLog) -> None:
    root, sheets = both(evaluation, log)
    paper, whole = squeezed("".join(sheets)), squeezed(words(root))
    for finding in evaluation.findings:
        for said in (finding.title, finding.citation.removeprefix("FDA Food Code 2022 ")):
            assert squeezed(said) in paper
            assert squeezed(said) in whole
    for action in evaluation.do_now:
        assert squeezed(action.do) in paper
        assert squeezed(action.do) in whole
