"""Read a report back with an independent reader (pypdf)."""

from __future__ import annotations

import re
from io import BytesIO
from typing import TYPE_CHECKING, Literal

from pypdf import PdfReader

from tempwitness.report import to_pdf

if TYPE_CHECKING:
    from tempwitness.model.finding import Evaluation
    from tempwitness.model.logs import StagedLog

__all__ = ["Paper", "pages", "read", "squeezed"]

Paper = Literal["letter", "a4"]


def read(evaluation: Evaluation, log: StagedLog, paper: Paper = "letter") -> PdfReader:
    return PdfReader(BytesIO(to_pdf(evaluation, log, paper=paper)))


def pages(reader: PdfReader) -> list[str]:
    return [" ".join(page.extract_text().split()) for page in reader.pages]


def squeezed(text: str) -> str:
    return re.sub(r"\s+", "", text)
