"""The machine's zone is offered only where its name says a place."""

from __future__ import annotations

from pathlib import Path

import pytest

from tempwitness.drafting.machine import machine_zone


@pytest.mark.parametrize(
    ("set_to", "offered"),
    [
        ("America/Chicago", "America/Chicago"),
        (":Europe/London", "Europe/London"),
        ("EST5EDT,M3.2.0,M11.1.0", ""),
        ("UTC", ""),
        ("Etc/UTC", ""),
        ("America/Nowhere", ""),
        ("/etc/localtime", ""),
    ],
)
def test_the_environment_names_it(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, set_to: str, offered: str
) -> None:
    monkeypatch.setenv("TZ", set_to)
    assert machine_zone(tmp_path / "none") == offered


@pytest.mark.parametrize(
    ("target", "offered"),
    [("zoneinfo/America/Denver", "America/Denver"), ("zoneinfo/Etc/UTC", ""), ("other", "")],
)
def test_the_link_names_it(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, target: str, offered: str
) -> None:
    monkeypatch.delenv("TZ", raising=False)
    link = tmp_path / "localtime"
    link.symlink_to(tmp_path / target)
    assert machine_zone(link) == offered


def test_a_copy_without_a_name_offers_nothing(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.delenv("TZ", raising=False)
    copy = tmp_path / "localtime"
    copy.write_bytes(b"TZif2")
    assert machine_zone(copy) == ""
