"""The invented lamb, as fixtures."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from .lamb import lamb_evaluation
from .lamb_log import lamb_log

if TYPE_CHECKING:
    from tempwitness.model.finding import Evaluation
    from tempwitness.model.logs import StagedLog


@pytest.fixture
def evaluation() -> Evaluation:
    return lamb_evaluation()


@pytest.fixture
def log() -> StagedLog:
    return lamb_log()
