"""Whatever people wrote stays text: it can neither end an element nor turn the writing round."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING

from hypothesis import given, settings
from hypothesis import strategies as st

from tempwitness.model.finding import Action, Reference
from tempwitness.report import to_html
from tempwitness.report.html.markup import attribute, element, expanded, text
from tempwitness.report.localtime import LocalTime
from tempwitness.report.wording import plain

from .lamb import lamb_evaluation
from .lamb_log import empty_log
from .page import Element, by_id, inside, page, parsed, words

if TYPE_CHECKING:
    from tempwitness.model.finding import Evaluation
    from tempwitness.model.logs import StagedLog

HOSTILE = (
    "</td></table></style></title><script>alert(1)</script>"
    "<img src=x onerror='x'> \" ' & &amp; ]]> --> "
)


def hostile_evaluation(evaluation: Evaluation, words: str) -> Evaluation:
    """Put the words wherever an evaluation takes some."""
    lot = replace(
        evaluation.lot, id=words, food=words, event=words, pieces=(words, "B"), weight=words
    )
    findings = tuple(
        replace(
            f,
            title=words,
            reason=words,
            measured=words,
            limit=words,
            citation=words,
            source=words,
            note=words,
            action=Action(words, None, "practice"),
            piece=words if f.piece == "A" else f.piece,
        )
        for f in evaluation.findings
    )
    return replace(
        evaluation,
        lot=lot,
        tool=words,
        code=replace(evaluation.code, title=words, id=words),
        headline=words,
        findings=findings,
        caution=(words,),
        unsettled=(words,),
        doubts=tuple(replace(d, reason=words, source=words) for d in evaluation.doubts),
        probes=tuple(replace(p, id=words, checks=(words,)) for p in evaluation.probes),
        references=(Reference(words, words),),
        sources=tuple(replace(s, name=words) for s in evaluation.sources),
    )


def skeleton(root: Element) -> list[str]:
    """Return the elements without the words, times and links that isolate foreign writing."""
    return [e.tag for e in root.iter() if e.tag not in ("bdi", "abbr")]


def test_markup_in_names_is_text(evaluation: Evaluation, log: StagedLog) -> None:
    root = page(hostile_evaluation(evaluation, HOSTILE), log)
    assert skeleton(root) == skeleton(page(hostile_evaluation(evaluation, "plain"), log))
    assert "</table></style></title><script>alert(1)</script>" in words(next(root.iter("h1")))
    assert words(next(root.iter("title"))).count("<script>") == 2
    assert "<script>" not in words(next(root.iter("style")))


def test_a_name_cannot_leave_the_head_of_the_sheets(evaluation: Evaluation) -> None:
    lot = replace(evaluation.lot, id='"; } * { display: none } @import "x', food="\\22 </style>")
    style = words(next(page(replace(evaluation, lot=lot), empty_log()).iter("style")))
    # CSS Syntax 3, 4.3.7: a backslash and six hexadecimal digits are one character, no more.
    string = re.search(r'@top-left \{ font: 8pt sans-serif; content: "([^"]*)"; \}', style)
    assert string is not None
    assert re.fullmatch(r"(?:[A-Za-z0-9]|\\[0-9a-f]{6})*", string[1])
    read = re.sub(r"\\([0-9a-f]{6})", lambda m: chr(int(m[1], 16)), string[1])
    assert read == f"Lot {lot.id} – {lot.food}"


def test_control_characters_and_turned_writing_are_shown_as_a_sign(
    evaluation: Evaluation, log: StagedLog
) -> None:
    lot = replace(evaluation.lot, food="lamb\x1b[2J\r\n\u202eshoulder\x07\x00\ud800\ufffe")
    content = to_html(replace(evaluation, lot=lot), log).decode()
    assert not re.search(r"[\x00-\x09\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]", content)
    head = words(next(parsed(content.encode()).iter("h1")))
    assert head.endswith("lamb\ufffd[2J \ufffdshoulder\ufffd\ufffd\ufffd\ufffd")


def test_writing_from_right_to_left_is_kept_apart_from_the_figures_beside_it() -> None:
    # Unicode Bidirectional Algorithm (UAX 9): digits after Arabic would stand to its left.
    said = text("cool, piece كتف ضأن 135 °F")
    assert said == "cool, piece <bdi>كتف ضأن</bdi> 135\xa0°F"
    assert text("כתף") == "<bdi>כתף</bdi>"
    assert text("agneau épaule 羊") == "agneau épaule 羊"


def test_moments_are_written_with_what_a_machine_reads() -> None:
    clock = LocalTime("America/New_York")
    assert text(clock.full("2025-06-14T18:05:00+00:00")) == (
        '<time datetime="2025-06-14T14:05:00-04:00">Sat 14 Jun 2025 14:05</time>'
    )
    span = text(clock.span("2025-06-14T18:05:00+00:00", "2025-06-14T19:00:00+00:00"))
    assert span == (
        '<time datetime="2025-06-14T14:05:00-04:00">Sat 14 Jun 2025 14:05</time> to '
        '<time datetime="2025-06-14T15:00:00-04:00">15:00</time>'
    )
    # A local mean time has seconds in its offset, which the standard does not allow.
    old = text(LocalTime("Europe/Amsterdam").full("1930-01-01T12:00:00+00:00"))
    assert re.search(r'datetime="1930-01-01T\d\d:\d\d:00[+-]\d\d:\d\d"', old)


def test_abbreviations_are_found_as_words_alone() -> None:
    assert expanded("FDA Food Code") == (
        '<abbr title="Food and Drug Administration">FDA</abbr> Food Code'
    )
    assert expanded("FDAX <b>") == "FDAX &lt;b&gt;"


@settings(max_examples=300, deadline=None)
@given(st.text(max_size=60))
def test_any_text_comes_back_as_it_went_in(words_in: str) -> None:
    made = f"<!DOCTYPE html><title>x</title>{element('p', words_in, title=words_in)}"
    found = inside(parsed(made.encode()), "p")[0]
    assert " ".join("".join(found.itertext()).split()) == plain(words_in)
    assert found.get("title") == plain(words_in)
    assert {e.tag for e in found.iter()} <= {"p", "bdi"}
    assert '"' not in attribute(words_in)


@settings(max_examples=15, deadline=None)
@given(st.text(min_size=1, max_size=30))
def test_any_name_leaves_the_page_whole(name: str) -> None:
    evaluation = hostile_evaluation(lamb_evaluation(), f"x{name}")
    root = page(evaluation, empty_log())
    assert by_id(root, "main").tag == "main"
    assert words(next(root.iter("h1"))).startswith("Lot x")


def test_very_long_names_neither_fail_nor_vanish(evaluation: Evaluation, log: StagedLog) -> None:
    long_name = "smoked lamb " * 400
    findings = tuple(replace(f, title=long_name) for f in evaluation.findings)
    root = page(replace(evaluation, findings=findings, headline="lamb" * 1500), log)
    assert words(root).count("smoked lamb") > 400 * len(findings)
    assert "lamb" * 1500 in words(root)
