"""The wheel and the source archive carry what they need."""

from __future__ import annotations

import tarfile
import zipfile
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
RULES = ROOT / "rules"


def test_the_wheel_carries_every_rule_file_byte_for_byte(wheel: Path) -> None:
    expected = {
        f"tempwitness/_rules/{path.relative_to(RULES).as_posix()}": path.read_bytes()
        for path in RULES.rglob("*")
        if path.is_file()
    }
    with zipfile.ZipFile(wheel) as opened:
        packed = {n: opened.read(n) for n in opened.namelist() if "/_rules/" in n}
    assert packed == expected
    assert "tempwitness/_rules/published/us/food-code/2022/code.toml" in packed


def test_the_wheel_carries_types_fonts_style_and_the_licence(wheel: Path) -> None:
    with zipfile.ZipFile(wheel) as opened:
        names = opened.namelist()
    assert "tempwitness/py.typed" in names
    assert any(name.endswith(".ttf") for name in names)
    assert any(name.endswith("html/style.css") for name in names)
    assert any(name.endswith("licenses/docs/licence.md") for name in names)


def test_the_wheel_carries_nothing_else(wheel: Path) -> None:
    with zipfile.ZipFile(wheel) as opened:
        roots = {name.partition("/")[0] for name in opened.namelist()}
    assert {root for root in roots if not root.endswith(".dist-info")} == {"tempwitness"}


def test_the_archive_carries_rules_tests_samples_and_papers(archive: Path) -> None:
    with tarfile.open(archive) as opened:
        names = {name.partition("/")[2] for name in opened.getnames()}
    assert {
        "DEVELOPERS.md",
        "README.md",
        "docs/licence.md",
        "pyproject.toml",
        "rules/published/us/food-code/2022/code.toml",
        "rules/sources/us.toml",
        "sample_records/01-lamb-all-day/record.toml",
        "src/tempwitness/pipeline.py",
        "tests/packaging/test_wheel.py",
    } <= names
