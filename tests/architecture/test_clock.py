"""Only `clock.now` reads the clock, and no moment goes without its zone."""

from __future__ import annotations

import ast

import pytest

from tests.architecture.tree import parsed, python_files, shown

_READS_THE_CLOCK = {
    "now",
    "utcnow",
    "today",
    "time",
    "time_ns",
    "monotonic",
    "perf_counter",
    "localtime",
    "gmtime",
}
_HOLDERS = {"datetime", "date", "time", "dt", "Timestamp"}
_FROM_STAMP = {"fromtimestamp", "utcfromtimestamp"}


def clock_calls(tree: ast.Module) -> list[str]:
    """Return the calls that read the machine's clock."""
    return [
        ast.unparse(node)
        for node in ast.walk(tree)
        if isinstance(node, ast.Call)
        and isinstance(node.func, ast.Attribute)
        and node.func.attr in _READS_THE_CLOCK
        and ast.unparse(node.func.value).rpartition(".")[2] in _HOLDERS
        and not (node.func.attr == "time" and node.args)
    ]


def naive_moments(tree: ast.Module) -> list[str]:
    """Return the calls that make a datetime without a zone."""
    found = []
    for node in ast.walk(tree):
        if not isinstance(node, ast.Call):
            continue
        name = ast.unparse(node.func)
        zone = any(k.arg in ("tzinfo", "tz") or k.arg is None for k in node.keywords)
        made = name in ("datetime", "dt.datetime", "datetime.datetime") and len(node.args) < 8
        stamped = name.rpartition(".")[2] in _FROM_STAMP and len(node.args) < 2
        if (made or stamped) and not zone:
            found.append(ast.unparse(node))
    return found


@pytest.mark.parametrize(
    "line",
    ["datetime.now(UTC)", "date.today()", "time.time()", "dt.datetime.utcnow()", "datetime.now()"],
)
def test_a_reading_of_the_clock_is_noticed(line: str) -> None:
    assert clock_calls(ast.parse(line)) == [line]


@pytest.mark.parametrize(
    "line",
    ["datetime(2026, 7, 4)", "dt.datetime(2026, 7, 4, 12)", "datetime.fromtimestamp(0.0)"],
)
def test_a_moment_without_a_zone_is_noticed(line: str) -> None:
    assert naive_moments(ast.parse(line)) == [line]


def test_only_the_clock_reads_the_clock() -> None:
    calls = {shown(p): found for p in python_files("src") if (found := clock_calls(parsed(p)))}
    assert calls == {"src/tempwitness/clock.py": ["datetime.now(UTC)"]}


def test_no_moment_goes_without_its_zone() -> None:
    made = {shown(p): found for p in python_files("src") if (found := naive_moments(parsed(p)))}
    assert made == {}


def test_the_linter_is_silenced_about_zones_only_where_one_is_applied_next() -> None:
    mark = "noqa: " + "DTZ"
    silenced = {
        (shown(path), line.partition(mark)[2][:3])
        for path in python_files("src")
        for line in path.read_text(encoding="utf-8").splitlines()
        if mark in line
    }
    # DTZ007: strptime of a clock face; the readers give it the record's zone afterwards.
    assert silenced <= {("src/tempwitness/readers/moments.py", "007")}
