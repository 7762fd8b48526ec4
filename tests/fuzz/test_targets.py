"""Every reader ends in a whole log or in an error that a person can mend, whatever it is given."""

from __future__ import annotations

import contextlib
import io
import tempfile
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tempwitness.cli.main import main
from tests.fuzz.targets import TARGETS, Target

MANY = settings(
    max_examples=150,
    deadline=2000,
    derandomize=True,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)
FEW = settings(MANY, max_examples=25)

#: What stands in logs in the wrong place: signs, words and numbers that mean something.
_PIECES = (
    b"\n", b"\r", b"\r\n", b",", b";", b"\t", b'"', b"'", b" ", b"", b"\0", b"\xff",
    b"\xef\xbb\xbf",
    b"\xff\xfe", "°F".encode(), "℃".encode(), b"F", b"C", b"temp_c", b"time", b"date", b"piece",
    b"step", b"rest", b"~", b"<", b">", b"-", b"--", b".", b":", b"=", b"[", b"]", b"{", b"}", b"#",
    b"0", b"1", b"9", b"99999999999999999999", b"1e999", b"-1e-999", b"nan", b"inf", b"NaN",
    b"-127", b"85", b"AM", b"PM", b"12:00 AM", b"24:00", b"1970-01-01 00:00", b"9999-12-31 23:59",
    b"0000-00-00", b"2026-02-30", b"2026-11-01 01:30", b"2026-03-08 02:30", b"46207.75",
    b"1783188000000", b"Max", b"true", b"null", b"schema", b"fold", b"zone", "né".encode("cp1252"),
)  # fmt: skip


@st.composite
def mutated(draw: st.DrawFn, seeds: tuple[bytes, ...]) -> bytes:
    """A seed with parts cut, doubled, moved or replaced."""
    data = draw(st.sampled_from(seeds))
    for _ in range(draw(st.integers(1, 6))):
        first = draw(st.integers(0, max(0, len(data))))
        last = min(len(data), first + draw(st.integers(0, 30)))
        way = draw(st.integers(0, 3))
        part = data[first:last]
        new = draw(st.sampled_from(_PIECES)) if way == 0 else b""
        if way == 1:
            new = part * draw(st.integers(2, 4))
        elif way == 2:
            new = draw(st.binary(max_size=6))
        data = data[:first] + new + data[last:]
    return data


def run(target: Target, data: bytes) -> bool:
    with tempfile.TemporaryDirectory() as folder:
        return target(data, Path(folder))


@pytest.mark.parametrize("target", TARGETS, ids=lambda t: t.name)
def test_seeds_are_read(target: Target) -> None:
    """At least one of each is understood, so that the mutations begin at something real."""
    assert any(run(target, seed) for seed in target.seeds)


@pytest.mark.parametrize("target", TARGETS, ids=lambda t: t.name)
def test_any_bytes_end_well(target: Target) -> None:
    @settings(MANY, max_examples=60)
    @given(st.binary(max_size=400))
    def one(data: bytes) -> None:
        run(target, data)

    one()


@pytest.mark.parametrize("target", TARGETS, ids=lambda t: t.name)
def test_mutated_files_end_well(target: Target) -> None:
    @MANY
    @given(mutated(target.seeds))
    def one(data: bytes) -> None:
        run(target, data)

    one()


@pytest.mark.parametrize("target", TARGETS, ids=lambda t: t.name)
def test_the_commands_answer_or_exit_with_two(target: Target) -> None:
    """No traceback, and no exit status but those that are promised."""
    arguments = ["rules", "lint"] if target.name == "county.toml" else ["read", "--limit", "3"]

    @FEW
    @given(mutated(target.seeds))
    def one(data: bytes) -> None:
        with tempfile.TemporaryDirectory() as folder:
            path = Path(folder) / target.name
            path.write_bytes(data)
            said = io.StringIO()
            with (
                contextlib.redirect_stdout(said),
                contextlib.redirect_stderr(said),
                pytest.raises(SystemExit) as left,
            ):
                main([*arguments, str(path)])
        assert left.value.code in (0, 2), (left.value.code, said.getvalue())
        assert "Traceback" not in said.getvalue()

    one()
