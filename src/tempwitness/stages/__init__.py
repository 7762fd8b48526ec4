"""Cut a corrected log into stages: by what people noted, else by what the trace shows."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from tempwitness.bounds.gather import gather
from tempwitness.model.logs import StagedLog
from tempwitness.model.vocabulary import Place
from tempwitness.stages.defaults import inference_limits, monitoring_intervals
from tempwitness.stages.inferred import infer_stages
from tempwitness.stages.noted import noted_stages, record_end
from tempwitness.stages.refine import refine

if TYPE_CHECKING:
    from tempwitness.bounds.trace import Trace
    from tempwitness.model.figures import Limit
    from tempwitness.model.logs import CorrectedLog, Stage

__all__ = ["monitoring_intervals", "stage"]


def stage(log: CorrectedLog, cold: Limit | None = None) -> StagedLog:
    """Return the log with the stages of every piece.

    Parameters
    ----------
    log : CorrectedLog
    cold : Limit, optional
        At which temperature food has cooled under the code in force, so that it is held cold from
        then on; the house's own if omitted.

    Notes
    -----
    A piece for which at least one step was noted goes by the notes alone; a piece without any
    goes by its trace, and every stage found so is marked as inferred.
    """
    limits = inference_limits()
    if cold is not None:
        limits = replace(limits, cold=cold)
    traces = gather(log)
    found: list[Stage] = []
    assumptions: list[str] = []
    for piece in log.raw.lot.pieces:
        cores = tuple(t for t in traces if t.piece == piece.id and t.place is Place.CORE)
        steps = [n for n in log.raw.notes if n.step is not None and n.piece in (None, piece.id)]
        end = record_end(log, piece.id)
        if steps:
            stages = noted_stages(log, piece.id, steps, end)
            assumptions += _before_first_step(piece.id, cores, stages)
        else:
            stages = infer_stages(piece.id, cores, limits, log.raw.notes, end)
            if stages:
                assumptions.append(
                    f"piece {piece.id}: no step was noted, so the stages were read from the trace"
                )
        assumptions += _after_last_step(piece.id, cores, stages)
        found += refine(stages, cores, limits, log)
    return StagedLog(log, tuple(found), tuple(assumptions))


def _before_first_step(piece: str, cores: tuple[Trace, ...], stages: list[Stage]) -> list[str]:
    early = sum(int((t.at < stages[0].start).sum()) for t in cores) if stages else 0
    if not early:
        return []
    return [
        f"piece {piece}: {early} reading(s) stand before the first noted step; they belong to no "
        "stage and are used only to bracket its start"
    ]


def _after_last_step(piece: str, cores: tuple[Trace, ...], stages: list[Stage]) -> list[str]:
    """Say which readings follow the note that ended the last stage: they are not judged."""
    late = sum(int((t.at > stages[-1].end).sum()) for t in cores) if stages else 0
    if not late:
        return []
    return [
        f"piece {piece}: {late} reading(s) stand after the note that the food was finished or "
        "discarded; they belong to no stage and are used only to bracket its end"
    ]
