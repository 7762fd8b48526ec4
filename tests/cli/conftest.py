"""Records to check, and ways to run the command line."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from tests.cli.records import MET, NOT_MET, NOT_SHOWN, write_record
from tests.cli.running import Ran, in_process

Run = Callable[..., Ran]


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]) -> Run:
    return in_process(capsys)


@pytest.fixture
def met(tmp_path: Path) -> Path:
    return write_record(tmp_path, MET, lot="met")


@pytest.fixture
def not_met(tmp_path: Path) -> Path:
    return write_record(tmp_path, NOT_MET, lot="not-met")


@pytest.fixture
def not_shown(tmp_path: Path) -> Path:
    return write_record(tmp_path, NOT_SHOWN, lot="not-shown")
