"""The page in a real browser (Chromium), checked by an accessibility checker (axe-core).

Left out of the ordinary run; `pytest -m browser` runs it, and says what is wanting where it
cannot: the system's own chromium, and the packages of the extra `browser`.
"""

from __future__ import annotations

import io
import shutil
from dataclasses import replace
from datetime import UTC, datetime
from importlib.util import find_spec
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from pypdf import PdfReader

from tempwitness.pipeline import check
from tempwitness.report import to_html
from tempwitness.report.wording import verdict_word

from .lamb import lamb_evaluation
from .lamb_log import lamb_log
from .reread import squeezed
from .test_html_escaping import HOSTILE, hostile_evaluation

if TYPE_CHECKING:
    from collections.abc import Iterator

    from playwright.sync_api import Browser, Page

    from tempwitness.model.finding import Evaluation
    from tempwitness.model.logs import StagedLog

pytestmark = pytest.mark.browser

SAMPLES = Path(__file__).parents[2] / "sample_records"
NAMES = ("the lamb", "hostile", "02-brisket-box-gap", "15-goat-in-celsius", "16-still-cooling")
_WIDTHS = (320, 1200)
_NAMES_OF_CHROMIUM = ("chromium", "chromium-browser", "google-chrome")


def wanting() -> str:
    """Say what keeps this file from running; nothing if all is there."""
    if find_spec("playwright") is None or find_spec("axe_playwright_python") is None:
        return "the extra 'browser' is not installed: pip install -e '.[browser]'"
    if not any(map(shutil.which, _NAMES_OF_CHROMIUM)):
        return "no chromium on this machine: apt-get install chromium"
    return ""


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    if reason := wanting():
        pytest.skip(reason)
    from playwright.sync_api import sync_playwright  # noqa: PLC0415 - an extra of its own

    program = next(found for name in _NAMES_OF_CHROMIUM if (found := shutil.which(name)))
    with sync_playwright() as driver:
        opened = driver.chromium.launch(
            executable_path=program, args=["--no-sandbox", "--disable-gpu"]
        )
        yield opened
        opened.close()


def found(name: str) -> tuple[Evaluation, StagedLog]:
    if name == "the lamb":
        return lamb_evaluation(), lamb_log()
    if name == "hostile":
        return hostile_evaluation(lamb_evaluation(), f"{HOSTILE} كتف {'x' * 300}"), lamb_log()
    at = datetime(2026, 12, 1, tzinfo=UTC)
    checked = check(SAMPLES / name / "record.toml", None, at=at, under_all=name.startswith("02"))
    return checked.evaluation, checked.log


@pytest.fixture(scope="module")
def files(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    folder = tmp_path_factory.mktemp("pages")
    made = {name: folder / f"{number}.html" for number, name in enumerate(NAMES)}
    for name, file in made.items():
        file.write_bytes(to_html(*found(name)))
    return made


def opened(browser: Browser, file: Path, width: int = 1200, *, dark: bool = False) -> Page:
    page = browser.new_page(
        viewport={"width": width, "height": 800}, color_scheme="dark" if dark else "light"
    )
    page.goto(file.as_uri())
    return page


@pytest.mark.parametrize("dark", [False, True], ids=["day", "night"])
@pytest.mark.parametrize("width", _WIDTHS)
@pytest.mark.parametrize("name", NAMES)
def test_the_checker_finds_nothing_against_it(
    browser: Browser, files: dict[str, Path], name: str, width: int, dark: bool
) -> None:
    from axe_playwright_python.sync_playwright import Axe  # noqa: PLC0415 - an extra

    page = opened(browser, files[name], width, dark=dark)
    result = Axe().run(page).response
    against = [
        (one["id"], [node["html"][:200] for node in one["nodes"]]) for one in result["violations"]
    ]
    assert against == []
    assert len(result["passes"]) > 30
    page.close()


def test_the_checker_would_find_a_fault(browser: Browser, files: dict[str, Path]) -> None:
    from axe_playwright_python.sync_playwright import Axe  # noqa: PLC0415 - an extra

    page = opened(browser, files["the lamb"], 320)
    # Names of axe-core's own rules: the language, the way into a frame, too pale letters.
    page.evaluate(
        "document.documentElement.removeAttribute('lang');"
        "document.querySelectorAll('.frame').forEach(e => e.removeAttribute('tabindex'));"
        "document.querySelector('h1').attributeStyleMap.set('color', '#aaa')"
    )
    result = Axe().run(page).response
    assert {one["id"] for one in result["violations"]} >= {
        "html-has-lang",
        "scrollable-region-focusable",
        "color-contrast",
    }
    page.close()


@pytest.mark.parametrize("width", [320, 360, 768, 1200])
@pytest.mark.parametrize("name", NAMES)
def test_nothing_but_a_frame_of_its_own_scrolls_sideways(
    browser: Browser, files: dict[str, Path], name: str, width: int
) -> None:
    # WCAG 2.2, 1.4.10: 320 CSS pixels; a table may scroll in two directions.
    page = opened(browser, files[name], width)
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    wide = page.evaluate(
        "[...document.querySelectorAll('main *')].filter(e => e.scrollWidth > e.clientWidth + 1"
        " && !e.closest('.frame, svg') && getComputedStyle(e).display !== 'inline')"
        ".map(e => e.outerHTML.slice(0, 200))"
    )
    assert wide == []
    page.close()


@pytest.mark.parametrize("name", NAMES)
def test_it_asks_for_nothing_and_breaks_no_rule_of_its_own(
    browser: Browser, files: dict[str, Path], name: str
) -> None:
    page = browser.new_page()
    said: list[str] = []
    asked: list[str] = []
    page.on("console", lambda message: said.append(message.text))
    page.on("pageerror", lambda error: said.append(str(error)))
    page.on("request", lambda request: asked.append(request.url))
    page.goto(files[name].as_uri())
    assert said == []
    assert asked == [files[name].as_uri()]
    # The policy let the style in: the sign of the answer has its size.
    assert page.locator(".answer .sign").bounding_box() is not None
    assert page.evaluate("getComputedStyle(document.querySelector('.answer')).borderTopWidth")
    assert page.evaluate("getComputedStyle(document.querySelector('.skip')).position") == "absolute"
    page.close()


def test_the_keyboard_skips_to_the_answer_and_reaches_every_frame(
    browser: Browser, files: dict[str, Path]
) -> None:
    page = opened(browser, files["the lamb"], 360)
    page.keyboard.press("Tab")
    focused = "document.activeElement"
    assert page.evaluate(f"{focused}.textContent") == "Skip to the answer"
    box = page.locator(".skip").bounding_box()
    assert box is not None
    assert box["x"] >= 0
    page.keyboard.press("Enter")
    assert page.evaluate(f"{focused}.id") == "main"
    reached = set()
    frames = page.evaluate("document.querySelectorAll('.frame').length")
    for _ in range(frames + page.evaluate("document.querySelectorAll('main a').length")):
        page.keyboard.press("Tab")
        if page.evaluate(f"{focused}.classList.contains('frame')"):
            reached.add(page.evaluate(f"{focused}.getAttribute('aria-labelledby')"))
            assert page.evaluate(f"getComputedStyle({focused}).outlineStyle") == "solid"
    assert len(reached) == frames
    page.close()


def test_a_screen_reader_hears_the_answer_the_chart_and_the_tables(
    browser: Browser, files: dict[str, Path]
) -> None:
    page = opened(browser, files["the lamb"])
    tree = page.locator("body").aria_snapshot()
    for heard in (
        'heading "Lot LAMB-0614: smoked lamb shoulder" [level=1]',
        "strong: NOT MET",
        'img "Temperatures of lot LAMB-0614, the whole record',
        'table "What the chart shows, line by line"',
        'rowheader "Piece A"',
        'columnheader "Lowest"',
        'navigation "In this report"',
    ):
        assert heard in tree
    # Of two drawings one is shown, and the other is not heard either.
    assert tree.count('img "Temperatures of lot') == 1
    page.close()


@pytest.mark.parametrize("width", _WIDTHS)
def test_the_letters_of_the_chart_can_be_read(
    browser: Browser, files: dict[str, Path], width: int
) -> None:
    page = opened(browser, files["the lamb"], width)
    heights = page.evaluate(
        "[...document.querySelectorAll('figure svg')].filter(s => s.getClientRects().length)"
        ".flatMap(s => [...s.querySelectorAll('text')].map(t => t.getBoundingClientRect().height))"
    )
    assert heights
    # About 9 CSS pixels of letters and the room for descenders.
    assert min(heights) >= 10
    page.close()


def test_a_finger_can_hit_every_link(browser: Browser, files: dict[str, Path]) -> None:
    # WCAG 2.2, 2.5.8: 24 × 24 CSS pixels, links within a sentence apart.
    page = opened(browser, files["the lamb"], 360)
    for link in page.locator("nav a").all():
        box = link.bounding_box()
        assert box is not None
        assert box["height"] >= 24
        assert box["width"] >= 24
    page.close()


@pytest.mark.parametrize(
    ("paper", "size"),
    # 8.5 × 11 in of 72 pt; 210 × 297 mm of 72 / 25.4 pt (ISO 216).
    [("letter", (612.0, 792.0)), ("a4", (595.3, 841.9))],
)
def test_it_prints_whole_on_either_paper(
    browser: Browser, tmp_path: Path, paper: str, size: tuple[float, float]
) -> None:
    evaluation = lamb_evaluation()
    file = tmp_path / "page.html"
    file.write_bytes(to_html(evaluation, lamb_log(), paper=paper))
    page = opened(browser, file, dark=True)
    reader = PdfReader(io.BytesIO(page.pdf(prefer_css_page_size=True)))
    sheets = [sheet.extract_text() for sheet in reader.pages]
    box = reader.pages[0].mediabox
    assert (float(box.width), float(box.height)) == pytest.approx(size, abs=1)
    text = squeezed("".join(sheets))
    for finding in evaluation.findings:
        for said in (finding.title, verdict_word(finding.verdict)):
            assert squeezed(said) in text
    assert "NOT MET" in sheets[0]
    for number, sheet in enumerate(sheets, 1):
        assert squeezed(f"page {number} of {len(sheets)}") in squeezed(sheet)
    # Links within the page and the way to skip are for screens; the lines to sign for paper.
    assert "Skip to the answer" not in sheets[0]
    assert "Reviewed by" in sheets[-1]
    page.close()


def test_no_sheet_is_cut_off_at_its_edge(browser: Browser, files: dict[str, Path]) -> None:
    page = opened(browser, files["02-brisket-box-gap"], 720)
    page.emulate_media(media="print")
    # 180 mm between the margins of A4 are 680 CSS pixels.
    page.set_viewport_size({"width": 680, "height": 900})
    assert page.evaluate("document.documentElement.scrollWidth") <= 680
    page.close()


def test_the_text_may_be_twice_as_large(browser: Browser, tmp_path: Path) -> None:
    # WCAG 2.2, 1.4.4: 200 % on a screen of 1280 is 640 CSS pixels.
    file = tmp_path / "page.html"
    evaluation = lamb_evaluation()
    file.write_bytes(to_html(replace(evaluation, under=()), lamb_log()))
    page = opened(browser, file, 640)
    assert page.evaluate("document.documentElement.scrollWidth") <= 640
    page.close()
