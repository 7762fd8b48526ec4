"""The whole page: one evaluation and its readings in, the bytes of an HTML file out."""

from __future__ import annotations

from base64 import b64encode
from functools import cache
from hashlib import sha256
from importlib.resources import files
from typing import TYPE_CHECKING

from tempwitness.errors import ReportError
from tempwitness.report.html import answer
from tempwitness.report.html.chart.figure import Figures
from tempwitness.report.html.explained import explained
from tempwitness.report.html.findings import all_findings, under_codes
from tempwitness.report.html.markup import Markup, element
from tempwitness.report.html.parts import Ids, section
from tempwitness.report.html.readings import readings
from tempwitness.report.html.record import doubted, record, signatures
from tempwitness.report.localtime import LocalTime
from tempwitness.report.wording import code_line, plain, verdict_word

if TYPE_CHECKING:
    from tempwitness.model.finding import Evaluation
    from tempwitness.model.logs import StagedLog

__all__ = ["to_html"]

_PAPER = {"letter": "letter", "a4": "A4"}


def to_html(evaluation: Evaluation, log: StagedLog, *, paper: str | None = None) -> bytes:
    """Set the report of a lot as one page for a browser.

    Parameters
    ----------
    evaluation : Evaluation
    log : StagedLog
        The log that was evaluated, for the chart and the list of readings.
    paper : {"letter", "a4"}, optional
        Size of the sheets when it is printed; what the printer holds if omitted.

    Returns
    -------
    bytes
        HTML in UTF-8 that needs no network, no script and no other file; the same evaluation
        and log give the same bytes.

    Raises
    ------
    ReportError
        If the paper is not one of the two.
    """
    if paper is not None and paper not in _PAPER:
        raise ReportError(f"the paper {paper!r} is not known", hint="choose 'letter' or 'a4'")
    style = Markup(_style() + _sheets(evaluation, paper))
    page = element("html", _head(evaluation, style), _body(evaluation, log), lang="en")
    return f"<!DOCTYPE html>\n{page}\n".encode()


def _head(evaluation: Evaluation, style: Markup) -> Markup:
    """Return the head; the browser takes the style with this hash and nothing else at all."""
    known = b64encode(sha256(style.encode()).digest()).decode("ascii")
    policy = f"default-src 'none'; style-src 'sha256-{known}'; base-uri 'none'; form-action 'none'"
    lot = evaluation.lot
    title = f"{verdict_word(evaluation.verdict)} – lot {lot.id}, {lot.food}"
    return element(
        "head",
        element("meta", charset="utf-8"),
        element("meta", http_equiv="Content-Security-Policy", content=policy),
        element("meta", name="viewport", content="width=device-width, initial-scale=1"),
        element("meta", name="referrer", content="no-referrer"),
        element("meta", name="color-scheme", content="light dark"),
        element("meta", name="generator", content=evaluation.tool),
        element("title", title),
        element("style", style),
    )


def _body(evaluation: Evaluation, log: StagedLog) -> Markup:
    clock, ids = LocalTime(evaluation.lot.zone), Ids()
    figures = Figures(evaluation, log, clock, ids)
    chart = section("chart", "The whole record", figures.whole(), doubted(evaluation, clock, ids))
    parts = [
        (chart, "chart", "Chart"),
        (explained(evaluation, clock, ids, figures), "explained", "Findings explained"),
        (all_findings(evaluation, ids), "findings", "All findings"),
        (under_codes(evaluation, ids), "under", "Under other codes"),
        (record(evaluation, clock, ids), "record", "What the answer rests on"),
        (readings(evaluation, log, clock, ids), "readings", "Readings"),
        (signatures(evaluation), "signed", "Signed"),
    ]
    links = [("lot", "Lot, code and record"), ("found", "Findings under the code")]
    links += [(key, name) for made, key, name in parts if made]
    lot = evaluation.lot
    main = element(
        "main",
        answer.answer(evaluation),
        answer.to_do(evaluation, clock),
        answer.caution(evaluation),
        answer.contents(links),
        answer.lot(evaluation, clock),
        answer.found(evaluation),
        *(made for made, *_ in parts),
        id="main",
        tabindex="-1",
    )
    foot = f"Made by {evaluation.tool} under {code_line(evaluation.code)}."
    return element(
        "body",
        element("a", "Skip to the answer", href="#main", class_="skip"),
        element("header", element("h1", f"Lot {lot.id}: {lot.food}")),
        main,
        element("footer", element("p", foot)),
    )


@cache
def _style() -> str:
    return (files("tempwitness.report.html") / "style.css").read_text(encoding="utf-8")


def _sheets(evaluation: Evaluation, paper: str | None) -> str:
    """Return the rules of the sheets: the lot above each page, its number below."""
    lot = _quoted(f"Lot {evaluation.lot.id} – {evaluation.lot.food}"[:90])
    tool = _quoted(f"{evaluation.tool}, {evaluation.code.id}")
    size = f"size: {_PAPER[paper]}; " if paper else ""
    small = "font: 8pt sans-serif; "
    return (
        f"@page {{ {size}margin: 16mm 15mm; "
        f"@top-left {{ {small}content: {lot}; }} "
        f'@top-right {{ {small}content: "page " counter(page) " of " counter(pages); }} '
        f"@bottom-left {{ {small}content: {tool}; }} }}\n"
    )


def _quoted(words: str) -> str:
    """Write words as a string of a style sheet; all but letters and figures as numbers."""
    said = (c if c.isascii() and c.isalnum() else f"\\{ord(c):06x}" for c in plain(words))
    return f'"{"".join(said)}"'
