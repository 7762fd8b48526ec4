"""The sample event, and packets of it read back with an independent reader (pypdf)."""

from __future__ import annotations

from functools import cache
from io import BytesIO
from pathlib import Path
from typing import Literal

from pypdf import PdfReader

from tempwitness.papers import planned, to_packet
from tempwitness.papers.plan import Plan
from tempwitness.readers.event import read_event
from tests.report.reread import squeezed

ROOT = Path(__file__).resolve().parents[2]
SUPPER = ROOT / "sample_records" / "event-harvest-supper" / "event.toml"

#: The least that an event file may say.
BARE = """
schema = 1
code = "us/food-code/2022"
zone = "America/Chicago"
[event]
name = "Fair"
[[day]]
date = 2026-10-03
[[kitchen]]
id = "hall"
[[equipment]]
id = "smoker"
kind = "cook"
[[food]]
name = "lamb shoulder"
[[food.step]]
do = "receive"
[[food.step]]
do = "cold_hold"
[[food.step]]
do = "thaw"
[[food.step]]
do = "prep"
[[food.step]]
do = "cook"
[[food.step]]
do = "cool"
[[food.step]]
do = "transport"
[[food.step]]
do = "reheat"
[[food.step]]
do = "hot_hold"
[[food.step]]
do = "serve"
time_control = "4h"
"""


def plan_of(folder: Path, text: str) -> Plan:
    path = folder / "event.toml"
    path.write_text(text, encoding="utf-8")
    return planned(read_event(path))


@cache
def supper() -> Plan:
    return planned(read_event(SUPPER))


@cache
def packet(paper: Literal["letter", "a4"] = "letter") -> bytes:
    return to_packet(supper(), paper=paper)


def opened(content: bytes) -> PdfReader:
    return PdfReader(BytesIO(content))


def text_of(content: bytes) -> str:
    return " ".join(page.extract_text() for page in opened(content).pages)


@cache
def words_of_packet() -> str:
    """The whole text of the supper's packet without its blanks."""
    return squeezed(text_of(packet()))
