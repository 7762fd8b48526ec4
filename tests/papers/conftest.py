"""A terminal for the tests that answer questions."""

from __future__ import annotations

import pytest


@pytest.fixture
def terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let the command believe that somebody is there; what is typed comes from the runner."""
    monkeypatch.setattr("tempwitness.cli.new_ask.terminal", lambda: True)
    monkeypatch.setenv("TZ", "America/Chicago")
