"""Time of whole processes and of calls, as the median of several runs taken in turns."""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import time
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence


def _environment() -> dict[str, str]:
    """Return this environment, one thread a process, compiled modules kept as after installing."""
    kept = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
    return {**kept, "OPENBLAS_NUM_THREADS": "1", "OMP_NUM_THREADS": "1"}


def process_time(arguments: Sequence[str], allowed: frozenset[int]) -> float:
    """Run this interpreter once and return its processor time, user and system [s]."""
    process = subprocess.Popen(  # noqa: S603 - our own interpreter
        [sys.executable, *arguments],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.PIPE,
        env=_environment(),
    )
    _, status, used = os.wait4(process.pid, 0)
    said = process.stderr.read() if process.stderr else b""
    process.returncode = os.waitstatus_to_exitcode(status)
    if process.stderr:
        process.stderr.close()
    if process.returncode not in allowed:
        raise RuntimeError(f"{arguments} exits with {process.returncode}: {said.decode()[-500:]}")
    return used.ru_utime + used.ru_stime


def in_turns(
    runs: int, programs: Mapping[str, Sequence[str]], allowed: frozenset[int] = frozenset({0})
) -> dict[str, float]:
    """Return the median processor time of each program, run in turns so that all share the load.

    The first round warms the caches and is not counted.
    """
    taken: dict[str, list[float]] = {name: [] for name in programs}
    for turn in range(runs + 1):
        for name, arguments in programs.items():
            used = process_time(arguments, allowed)
            if turn:
                taken[name].append(used)
    return {name: statistics.median(times) for name, times in taken.items()}


def call_time(call: Callable[[], object], runs: int) -> float:
    """Return the median processor time of a call in this process [s]; one run warms up."""
    call()
    taken = []
    for _ in range(runs):
        start = time.process_time()
        call()
        taken.append(time.process_time() - start)
    return statistics.median(taken)
