"""How the page is built: what a browser, a screen reader and a printer rely on.

The rules are those of the HTML standard (WHATWG) and of WCAG 2.2; html5lib parses strictly.
"""

from __future__ import annotations

import base64
import hashlib
import re
from dataclasses import replace
from datetime import datetime
from itertools import pairwise
from typing import TYPE_CHECKING

import pytest

from tempwitness.report import to_html
from tempwitness.report.localtime import LocalTime
from tempwitness.report.wording import verdict_word

from .page import by_id, children_of, inside, parsed, words
from .test_pdf_comparison import CODES

if TYPE_CHECKING:
    from xml.etree.ElementTree import Element

    from tempwitness.model.finding import Evaluation
    from tempwitness.model.logs import StagedLog


@pytest.fixture
def content(evaluation: Evaluation, log: StagedLog) -> bytes:
    return to_html(replace(evaluation, under=CODES), log)


@pytest.fixture
def root(content: bytes) -> Element:
    return parsed(content)


def test_language_title_and_view_are_set(evaluation: Evaluation, root: Element) -> None:
    assert root.get("lang") == "en"
    title = words(next(root.iter("title")))
    assert title == f"{verdict_word(evaluation.verdict)} – lot LAMB-0614, smoked lamb shoulder"
    metas = {meta.get("name"): meta.get("content") for meta in root.iter("meta")}
    assert metas["viewport"] == "width=device-width, initial-scale=1"
    assert metas["color-scheme"] == "light dark"


def test_the_charset_stands_within_the_first_kilobyte(content: bytes) -> None:
    # HTML standard 4.2.5.4: the declaration must lie within the first 1024 bytes.
    assert b'<meta charset="utf-8">' in content[:1024]
    assert content.startswith(b"<!DOCTYPE html>")


def test_nothing_is_loaded_and_nothing_runs(content: bytes, root: Element) -> None:
    for tag in ("script", "link", "img", "iframe", "object", "embed", "form", "input", "base"):
        assert inside(root, tag) == []
    for element in root.iter():
        for name, value in element.attrib.items():
            assert not name.startswith("on")
            assert name != "style"
            assert name not in ("src", "srcset", "action", "xlink:href")
            if name == "href":
                assert value.startswith("#")
    style = words(next(root.iter("style")))
    assert "url(" not in style
    assert "@import" not in style
    assert b"http://" not in content
    assert b"https://" not in content


def test_the_policy_lets_this_style_in_and_nothing_else(content: bytes, root: Element) -> None:
    policies = [m.get("content") for m in root.iter("meta") if m.get("http-equiv")]
    # Content Security Policy Level 3: the hash is that of the element's own text.
    text = re.search(rb"<style>(.*?)</style>", content, re.S)
    assert text is not None
    known = base64.b64encode(hashlib.sha256(text[1]).digest()).decode()
    assert policies == [
        f"default-src 'none'; style-src 'sha256-{known}'; base-uri 'none'; form-action 'none'"
    ]


def test_headings_begin_with_one_of_the_first_rank_and_leave_none_out(root: Element) -> None:
    ranks = [int(e.tag[1]) for e in root.iter() if re.fullmatch("h[1-6]", e.tag)]
    assert ranks.count(1) == 1
    assert ranks[0] == 1
    assert all(after <= before + 1 for before, after in pairwise(ranks))
    assert all(words(e) for e in root.iter() if re.fullmatch("h[1-6]", e.tag))


def test_names_of_places_occur_once_and_all_that_is_pointed_at_is_there(root: Element) -> None:
    ids = [element.get("id") for element in root.iter() if element.get("id")]
    assert len(ids) == len(set(ids))
    pointed = {
        name
        for element in root.iter()
        for attribute in ("aria-labelledby", "aria-describedby")
        for name in (element.get(attribute) or "").split()
    }
    pointed |= {(a.get("href") or "").removeprefix("#") for a in inside(root, "a")}
    assert pointed
    assert pointed <= set(ids)


def test_the_landmarks_are_there_and_the_first_link_skips_to_the_answer(root: Element) -> None:
    for tag in ("header", "main", "nav", "footer"):
        assert len(inside(root, tag)) == 1
    first = inside(root, "a")[0]
    assert words(first) == "Skip to the answer"
    assert first.get("href") == "#main"
    main = by_id(root, "main")
    assert main.tag == "main"
    assert main.get("tabindex") == "-1"
    assert words(by_id(root, inside(root, "nav")[0].get("aria-labelledby") or ""))


def test_the_contents_lead_to_every_part_in_order(root: Element) -> None:
    nav = inside(root, "nav")[0]
    linked = [(a.get("href") or "")[1:] for a in inside(nav, "a")]
    parts = [s.get("id") for s in by_id(root, "main") if s.tag == "section"]
    assert linked == [part for part in parts if part not in ("answer", "do-now")]


def test_tables_have_a_caption_and_heads_for_columns_and_rows(root: Element) -> None:
    tables = inside(root, "table")
    assert len(tables) > 10
    parents = children_of(root)
    for table in tables:
        assert [child.tag for child in table] == ["caption", "thead", "tbody"]
        assert words(table[0])
        heads = inside(table[1], "th")
        assert all(head.get("scope") == "col" and words(head) for head in heads)
        for row in table[2]:
            assert len(row) == len(heads)
            named = inside(row, "th")
            assert [head.get("scope") for head in named] == ["row"]
            assert words(named[0])
        # What may be wider than a screen scrolls by itself and is reached by key (WCAG 2.1.1).
        frame = parents[table]
        assert frame.get("tabindex") == "0"
        assert frame.get("role") == "group"
        assert frame.get("aria-labelledby") == table[0].get("id")


def test_lists_hold_items_and_names_have_their_words(root: Element) -> None:
    for listed in (*inside(root, "ul"), *inside(root, "ol")):
        assert len(listed)
        assert {child.tag for child in listed} == {"li"}
    for described in inside(root, "dl"):
        for pair in described:
            assert [child.tag for child in pair] == ["dt", "dd"]
            assert all(words(child) for child in pair)


def test_times_carry_their_moment(evaluation: Evaluation, root: Element) -> None:
    clock = LocalTime(evaluation.lot.zone)
    times = inside(root, "time")
    assert len(times) > 100
    for element in times:
        at = datetime.fromisoformat(element.get("datetime") or "")
        # What stands there is the wall clock of the lot's zone at that very moment.
        assert at.tzinfo is not None
        assert f"{at:%H:%M}" in words(element)
    stage = next(e for e in times if words(e) == "Sat 14 Jun 2025 20:05")
    assert clock.full(stage.get("datetime") or "") == "Sat 14 Jun 2025 20:05"
    assert stage.get("datetime") == "2025-06-14T20:05:00-04:00"


def test_abbreviations_carry_their_meaning(root: Element) -> None:
    said = {words(e): e.get("title") for e in inside(root, "abbr")}
    assert said["FDA"] == "Food and Drug Administration"
    assert all(said.values())


def test_charts_have_a_title_and_a_description_of_their_own(root: Element) -> None:
    charts = [s for s in inside(root, "svg") if s.get("role") == "img"]
    assert len(charts) >= 4
    for chart in charts:
        title, said = (by_id(root, name) for name in (chart.get("aria-labelledby") or "").split())
        assert (title.tag, said.tag) == ("title", "desc")
        assert chart[0] is title
        assert "lowest" in words(said)
    # Every other drawing is a sign beside its words.
    others = [s for s in inside(root, "svg") if s.get("role") != "img"]
    assert all(sign.get("aria-hidden") == "true" for sign in others)


def luminance(colour: str) -> float:
    """Relative luminance of a colour ``#rrggbb`` (WCAG 2.2, definition)."""
    parts = [int(colour[k : k + 2], 16) / 255 for k in (1, 3, 5)]
    r, g, b = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
    return 0.2126 * r + 0.7152 * g + 0.0722 * b


def contrast(one: str, other: str) -> float:
    """Contrast ratio of two colours (WCAG 2.2, definition)."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_the_contrast_is_reckoned_as_the_guidelines_do() -> None:
    # Black on white is 21:1; #767676 on white is the lightest grey that passes (4.54:1, W3C).
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.005)


def test_every_pair_of_colours_can_be_read_by_day_and_by_night(root: Element) -> None:
    style = words(next(root.iter("style")))
    schemes = re.findall(r":root \{(.*?)\}", style)
    assert len(schemes) == 2
    for scheme in schemes:
        named = {
            name: "#" + "".join(2 * c for c in value) if len(value) == 3 else f"#{value}"
            for name, value in re.findall(r"--([\w-]+): #([0-9a-f]+);", scheme)
        }
        # WCAG 2.2, 1.4.3: 4.5:1 for text; 1.4.11: 3:1 for what a drawing means.
        for ink in ("ink", "soft", "link"):
            assert contrast(named[ink], named["paper"]) >= 4.5
        assert contrast(named["reverse-ink"], named["reverse-paper"]) >= 4.5
        assert contrast(named["rule"], named["paper"]) >= 3
