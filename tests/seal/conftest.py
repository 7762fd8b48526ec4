"""One archive for all tests that only look at it or pack it anew."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import TYPE_CHECKING

import pytest
from freezegun import freeze_time

from tempwitness.sealing.seal import Sealed, seal
from tests.cli.running import in_process
from tests.seal.archives import members_of, sample

if TYPE_CHECKING:
    from collections.abc import Callable

    from tests.cli.running import Ran

SEALED_AT = datetime(2026, 7, 12, 18, 30, tzinfo=UTC)


@pytest.fixture(scope="session")
def beans() -> Sealed:
    """The beans that cooled too slowly, sealed the day after."""
    with freeze_time(SEALED_AT):
        return seal([sample("03")])


@pytest.fixture
def members(beans: Sealed) -> dict[str, bytes]:
    """What is in that archive."""
    return members_of(beans.archive)


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]) -> Callable[..., Ran]:
    return in_process(capsys)
