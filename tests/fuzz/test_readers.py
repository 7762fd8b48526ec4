"""Files that are broken in every way a mutation can break them: a sound log, or a clear refusal.

The invariants are those of `held.py`; where the file's layout makes it possible each of its rows is
looked for in what was read.
"""

from __future__ import annotations

import contextlib
import io
import tempfile
from datetime import timedelta
from pathlib import Path
from random import Random

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tempwitness.cli.exit_codes import ExitCode
from tempwitness.cli.main import main
from tempwitness.model.logs import RawLog
from tests.fuzz.held import read_or_refuse
from tests.fuzz.mutate import mutated, mutated_cells
from tests.fuzz.seeds import CELLS, LONG, SEEDS, TIMES, workbook_bytes
from tests.fuzz.targets import TARGETS, seeds_of

READ = sorted(set(SEEDS) - {"override.toml"})
ANSWERS = {ExitCode.MET, ExitCode.NOT_MET, ExitCode.COULD_NOT_RUN, ExitCode.NOT_SHOWN}
LOT = ["--food=lamb", "--form=intact", "--code=us/food-code/2022", "--zone=UTC", "--weight=9 lb"]

# A file of a few hundred bytes takes milliseconds; a busy machine gets a hundred times as long.
quick = settings(
    deadline=timedelta(seconds=2),
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)


def read(name: str, data: bytes) -> RawLog | None:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / name
        path.write_bytes(data)
        if path.suffix == ".toml":
            (path.parent / "long.csv").write_text(LONG, encoding="utf-8")
        return read_or_refuse(path)


@pytest.mark.parametrize("name", READ)
def test_a_file_that_is_whole_is_read(name: str) -> None:
    log = read(name, SEEDS[name])
    assert log is not None
    assert sum(len(channel) for channel in log.channels) >= 2


@pytest.mark.parametrize("target", TARGETS)
def test_targets_of_long_fuzzing_run_on_their_seeds(target: str, tmp_path: Path) -> None:
    seeds = list(seeds_of(target))
    assert seeds
    for data in seeds:
        TARGETS[target](data, tmp_path)


@pytest.mark.parametrize("suffix", [".csv", ".tsv", ".json", ".jsonl", ".xlsx", ".ods", ".csv.gz"])
@settings(quick, max_examples=30)
@given(data=st.binary(max_size=400))
def test_any_bytes(suffix: str, data: bytes) -> None:
    read(f"any{suffix}", data)


@pytest.mark.parametrize("name", READ)
@settings(quick, max_examples=60)
@given(chance=st.randoms(use_true_random=False), times=st.integers(1, 6))
def test_bytes_and_lines_of_a_whole_file_are_changed(name: str, chance: Random, times: int) -> None:
    read(name, mutated(SEEDS[name], chance, times))


@pytest.mark.parametrize("name", ["long.csv", "wide.csv", "turned.csv", "preamble.csv"])
@settings(quick, max_examples=80)
@given(chance=st.randoms(use_true_random=False), times=st.integers(1, 4))
def test_cells_of_a_whole_table_are_changed(name: str, chance: Random, times: int) -> None:
    read(name, mutated_cells(SEEDS[name].decode(), chance, times).encode())


@pytest.mark.parametrize("suffix", [".xlsx", ".ods"])
@settings(quick, max_examples=25)
@given(chance=st.randoms(use_true_random=False), times=st.integers(1, 4))
def test_cells_of_a_workbook_are_changed(suffix: str, chance: Random, times: int) -> None:
    text = mutated_cells(LONG, chance, times)
    rows = [["".join(c for c in w if c.isprintable()) for w in r.split(",")] for r in
            text.splitlines()]  # fmt: skip
    read(f"book{suffix}", workbook_bytes(rows, suffix))


@pytest.mark.parametrize("target", ["cells", "times", "keys", "override", "record"])
@settings(quick, max_examples=60)
@given(chance=st.randoms(use_true_random=False), times=st.integers(1, 5))
def test_words_and_keys_are_changed(target: str, chance: Random, times: int) -> None:
    seed = chance.choice(list(seeds_of(target)))
    with tempfile.TemporaryDirectory() as folder:
        TARGETS[target](mutated(seed, chance, times), Path(folder))


ROWS = st.lists(
    st.tuples(st.sampled_from(CELLS), st.sampled_from(["lamb", "turkey", ""])),
    min_size=1,
    max_size=12,
)


@settings(quick, max_examples=150)
@given(ROWS)
def test_no_row_of_a_long_table_is_lost(rows: list[tuple[str, str]]) -> None:
    # Each row has a minute of its own, so a row that was read is known by its line.
    quoted = [(cell.replace('"', '""'), piece) for cell, piece in rows]
    lines = [f'2026-07-04 10:{i:02d},"{c}",{p}' for i, (c, p) in enumerate(quoted)]
    log = read("long.csv", "\n".join(["time,temp_f,piece", *lines, ""]).encode())
    if log is None:
        return
    _nothing_is_lost(log, range(2, len(rows) + 2))


@settings(quick, max_examples=100)
@given(st.lists(st.sampled_from(TIMES), min_size=1, max_size=6))
def test_no_time_of_a_long_table_is_lost(times: list[str]) -> None:
    lines = [f'"{time}",{140 - i}' for i, time in enumerate(times)]
    log = read("long.csv", "\n".join(["time,temp_f", *lines, ""]).encode())
    if log is not None:
        _nothing_is_lost(log, range(2, len(times) + 2))


def _nothing_is_lost(log: RawLog, lines: range) -> None:
    read_lines = {int(line) for channel in log.channels for line in channel.line}
    noted = {note.line for note in log.notes}
    named = {line for c in log.changes for line in range(c.line, c.line + c.rows)}
    assert set(lines) <= read_lines | noted | named


@pytest.mark.parametrize("command", ["read", "check"])
@pytest.mark.parametrize("name", ["long.csv", "wide.csv", "rows.json", "record.toml"])
@settings(quick, max_examples=12)
@given(chance=st.randoms(use_true_random=False), times=st.integers(0, 4))
def test_the_command_line_answers_or_refuses(
    command: str, name: str, chance: Random, times: int
) -> None:
    out, err = io.StringIO(), io.StringIO()
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / name
        (path.parent / "long.csv").write_text(LONG, encoding="utf-8")
        path.write_bytes(mutated(SEEDS[name], chance, times))
        options = [] if path.suffix == ".toml" else LOT
        with (
            contextlib.redirect_stdout(out),
            contextlib.redirect_stderr(err),
            pytest.raises(SystemExit) as left,
        ):
            main([command, str(path), *options])
    assert left.value.code in ANSWERS
    assert "Traceback" not in out.getvalue() + err.getvalue()
    if left.value.code == ExitCode.COULD_NOT_RUN:
        assert err.getvalue().startswith("tempwitness: ")
        assert len(err.getvalue()) > len("tempwitness: ") + 10
