"""The packet on paper, read back with an independent reader (pypdf)."""

from __future__ import annotations

from pathlib import Path
from typing import Any, Literal, cast

import pytest

from tempwitness.errors import ReportError
from tempwitness.papers import to_packet
from tempwitness.papers.limits import full_limit
from tempwitness.readers.event.questions import answers
from tests.papers.made import BARE, opened, packet, plan_of, supper, text_of, words_of_packet
from tests.report.reread import squeezed

#: Keys whose word is for the program: the paper prints what they stand for.
_FOR_THE_PROGRAM = (
    *("schema", "zone", "place", "weekend", "event.drop_off", "code", "structure.unit"),
    *(".id", ".kind", ".reads", ".where", ".equipment", ".corner", ".size", ".method", ".facts"),
    *(".never", ".do", ".days", ".business_days", ".width", ".depth", ".number", "business"),
    *(".start", ".end", ".species", ".cut"),
)


def test_every_answer_can_be_found_in_the_text() -> None:
    text = words_of_packet()
    wanted = {
        key: answer.text
        for key, answer in answers(supper().file.table).items()
        if answer.text and not key.endswith(_FOR_THE_PROGRAM)
    }
    assert len(wanted) > 200
    assert {key: said for key, said in wanted.items() if squeezed(said) not in text} == {}


def test_the_limits_are_those_of_the_code_with_their_sections() -> None:
    text = words_of_packet()
    # FDA Food Code 2022, sections in brackets, as county forms print them.
    for words in (
        "At least 135 °F (57 °C) throughout, coldest part [3-501.16(A)(1)]",
        "From 135 °F (57 °C) to 70 °F (21 °C) within 2 h, warmest part [3-501.14(A)(1)]",
        "From 135 °F (57 °C) to 41 °F (5 °C) within 6 h, warmest part [3-501.14(A)(2)]",
        "Reaches 165 °F (74 °C) for 15 s, coldest part [3-403.11(A)]",
        "Reaches 165 °F (74 °C) at once, coldest part [3-401.11(A)(3)]",
        "Served or discarded within 4 h",
    ):
        assert squeezed(words) in text


def test_every_limit_that_is_named_stands_in_full_in_the_annex() -> None:
    annex = squeezed(text_of(packet()).rpartition("Annex: the limits in full")[2])
    used = supper().used
    assert len(used) > 15
    for requirement in used:
        assert squeezed(full_limit(requirement)) in annex
        assert squeezed(requirement.section) in annex


def test_every_page_says_whose_word_counts() -> None:
    for page in opened(packet()).pages:
        text = " ".join(page.extract_text().split())
        assert "The county's own form prevails; the local health authority decides." in text


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_pages_are_upright_or_wide_of_the_paper(paper: Literal["letter", "a4"]) -> None:
    # 8.5 × 11 in of 72 pt; 210 × 297 mm of 72 / 25.4 pt (ISO 216).
    size = (612.0, 792.0) if paper == "letter" else (210 * 72 / 25.4, 297 * 72 / 25.4)
    turned = set()
    for page in opened(packet(paper)).pages:
        found = (float(page.mediabox.width), float(page.mediabox.height))
        turned.add(found[0] > found[1])
        assert sorted(found) == pytest.approx(sorted(size), abs=0.01)
    assert turned == {False, True}


def test_another_paper_is_refused() -> None:
    with pytest.raises(ReportError, match="'legal' is not known"):
        to_packet(supper(), paper=cast("Any", "legal"))


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_no_text_is_smaller_than_eight_points(paper: Literal["letter", "a4"]) -> None:
    sizes: set[float] = set()

    def seen(text: str, _cm: object, tm: list[float], _font: object, size: float) -> None:
        if text.strip():
            sizes.add(size * abs(float(tm[3]) or float(tm[1])))

    for page in opened(packet(paper)).pages:
        page.extract_text(visitor_text=seen)
    assert min(sizes) >= 8.0


def test_typefaces_are_embedded() -> None:
    fonts: dict[str, Any] = {}
    for page in opened(packet()).pages:
        fonts |= dict(page["/Resources"].get("/Font", {}).items())  # type: ignore[attr-defined]
    used = [font.get_object() for font in fonts.values()]
    assert used
    for font in used:
        if "/FontDescriptor" in font:
            assert "/FontFile2" in font["/FontDescriptor"]
        else:  # reportlab names one that it never uses
            assert font["/BaseFont"] == "/Helvetica"


def test_title_language_and_bookmarks() -> None:
    reader = opened(packet())
    assert reader.metadata is not None
    assert reader.metadata.title == "Food safety packet: Harvest Supper on the Green"
    assert str(reader.root_object["/Lang"]) == "en"
    sheets = [" ".join(page.extract_text().split()) for page in reader.pages]
    entries = list(_flat(reader.outline))
    assert len(entries) > 20
    for entry in entries:
        number = reader.get_destination_page_number(entry)
        assert number is not None
        assert str(entry.title) in sheets[number]


def _flat(outline: list[Any]) -> list[Any]:
    return [e for part in outline for e in (_flat(part) if isinstance(part, list) else [part])]


def test_the_cover_names_the_page_of_every_part() -> None:
    reader = opened(packet())
    sheets = [" ".join(page.extract_text().split()) for page in reader.pages]
    cover = opened(packet()).pages[0].extract_text()
    listed = cover.partition("What is enclosed")[2]
    found = 0
    for entry in reader.outline:
        if isinstance(entry, list) or str(entry.title) == "Harvest Supper on the Green":
            continue
        number = reader.get_destination_page_number(entry)
        assert number is not None
        assert str(number + 1) in listed.split()
        found += 1
    assert found >= 18
    assert f"page 1 of {len(sheets)}" in sheets[0]


def test_the_same_event_gives_the_same_bytes(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1")
    monkeypatch.setenv("TZ", "Asia/Kolkata")
    assert to_packet(supper()) == packet()


def test_a_bare_event_makes_a_packet_of_questions(tmp_path: Path) -> None:
    plan = plan_of(tmp_path, BARE)
    text = squeezed(text_of(to_packet(plan)))
    assert "Stilltobeanswered:" in text
    assert text.count(squeezed("not answered")) > 40


def test_words_that_look_like_markup_are_printed_as_they_stand(tmp_path: Path) -> None:
    odd = "<b>Fair</b> & 5 < 6 \U0001f525"
    plan = plan_of(tmp_path, BARE.replace('"Fair"', f"'{odd}'"))
    text = text_of(to_packet(plan))
    assert "<b>Fair</b> & 5 < 6" in text


def test_a_long_answer_breaks_no_page(tmp_path: Path) -> None:
    long = "word " * 900
    more = f'[site]\nwater = "{long}"\n'
    plan = plan_of(tmp_path, BARE.replace("[[kitchen]]", f"{more}[[kitchen]]"))
    assert text_of(to_packet(plan)).count("word") >= 900
