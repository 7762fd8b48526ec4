"""Make an archive of records that can be judged again from its own contents."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Literal

from tempwitness.errors import SealError
from tempwitness.pipeline import Checked, check, present
from tempwitness.report import to_json, to_pdf, to_text
from tempwitness.rulebook.load import load_code
from tempwitness.rulebook.override import load_override
from tempwitness.rulebook.used import rules_used
from tempwitness.sealing.archive import MOST_BYTES, MOST_MEMBERS, packed
from tempwitness.sealing.compare import differences
from tempwitness.sealing.contents import CONTENTS, Contents, SealedLot, to_bytes
from tempwitness.sealing.gather import Gathered, gathered
from tempwitness.sealing.judged import RULES, Asked, judged, laid_out
from tempwitness.sealing.manifest import MANIFEST, manifest_of
from tempwitness.sealing.paper import read_me, written
from tempwitness.sealing.retention import retention
from tempwitness.version import VERSION

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence
    from datetime import datetime
    from pathlib import Path

    from tempwitness.model.finding import Evaluation

__all__ = ["Sealed", "seal"]

Paper = Literal["letter", "a4"]
Sign = Callable[[bytes], bytes]
_READ_ME = "READ-ME.txt"
_WIDTH = 80


@dataclass(frozen=True, slots=True)
class Sealed:
    """A finished archive.

    Parameters
    ----------
    archive : bytes
    manifest_sha256 : str
        Hash of its manifest, to be written down elsewhere.
    members : int
        How many members the manifest lists.
    lots : tuple of (str, str)
        Each lot with its answer in words.
    keep : tuple of str
        How long it is kept, a line each.
    """

    archive: bytes
    manifest_sha256: str
    members: int
    lots: tuple[tuple[str, str], ...]
    keep: tuple[str, ...]


def seal(
    records: Sequence[Path],
    *,
    at: datetime | None = None,
    paper: Paper = "letter",
    sign: Sign | None = None,
) -> Sealed:
    """Seal records with all that their evaluation rests on.

    The same records, rules, program, moment of sealing and moment of asking give the same bytes on
    every machine, unless reports are signed: a signature holds random figures.

    Parameters
    ----------
    records : sequence of Path
    at : datetime, optional
        Moment of asking, aware; the present if omitted.
    paper : {"letter", "a4"}
        Size of the reports' sheets.
    sign : callable, optional
        Signs a report: takes the bytes of a PDF, returns those of the signed one.

    Raises
    ------
    TempwitnessError
        If a record, a file of it or a rule cannot be understood, or cannot go into an archive.
    """
    asked = Asked(at, present())
    files = [gathered(path, f"records/{n}") for n, path in enumerate(records, 1)]
    first = [check(path, at=asked.at, now=asked.now) for path in records]
    inputs: dict[str, bytes] = {}
    for one in files:
        inputs |= one.members
    inputs |= _rules(files, first)
    outputs, lots, keep = _judged_again(inputs, files, first, asked, (paper, sign))
    tool = f"tempwitness {VERSION}"
    contents = Contents(tool, asked.now, at, paper, tuple(lots))
    answers = [(e.lot, f.evaluation.verdict.words) for e, f in zip(lots, first, strict=True)]
    told = [f"{name}: {words}" for name, words in answers]
    outputs[CONTENTS] = to_bytes(contents)
    outputs[_READ_ME] = read_me(tool, written(asked.now), told, keep)
    return _closed({**inputs, **outputs}, answers, keep)


def _closed(
    contents: dict[str, bytes], answers: Sequence[tuple[str, str]], keep: Sequence[str]
) -> Sealed:
    members = {name: contents[name] for name in sorted(contents)}
    if len(members) >= MOST_MEMBERS or sum(map(len, members.values())) > MOST_BYTES:
        raise SealError(
            f"that is more than one archive holds ({MOST_MEMBERS} members, {MOST_BYTES >> 20} MiB)",
            hint="seal fewer records at a time",
        )
    manifest = manifest_of(members)
    return Sealed(
        packed({MANIFEST: manifest, **members}),
        hashlib.sha256(manifest).hexdigest(),
        len(members),
        tuple(answers),
        tuple(keep),
    )


def _rules(files: Iterable[Gathered], found: Iterable[Checked]) -> dict[str, bytes]:
    """Return the rule files under the names that they have in the archive."""
    codes: dict[str, None] = {}
    by_place = False
    for one in found:
        evaluation = one.evaluation
        codes |= dict.fromkeys(c.id for c in (evaluation.code, *evaluation.beside))
        by_place = by_place or bool(one.log.raw.lot.place)
    with laid_out({n: d for one in files for n, d in one.members.items()}) as root:
        for one, gathered_files in zip(found, files, strict=True):
            folder = (root / gathered_files.record).parent
            for name in one.log.raw.lot.overrides:
                local = load_override(folder / name)
                codes |= dict.fromkeys(change.code for change, _ in local.changes)
                codes |= dict.fromkeys(addition.code for addition in local.additions)
    used = rules_used(codes, by_place=by_place)
    return {f"{RULES}/{name}": data for name, data in used.items()}


def _judged_again(
    inputs: dict[str, bytes],
    files: Sequence[Gathered],
    first: Sequence[Checked],
    asked: Asked,
    printed: tuple[Paper, Sign | None],
) -> tuple[dict[str, bytes], list[SealedLot], list[str]]:
    """Judge every lot from what goes into the archive, and write its papers."""
    outputs: dict[str, bytes] = {}
    lots, keep = [], []
    with laid_out(inputs) as root:
        for number, (one, before) in enumerate(zip(files, first, strict=True), 1):
            found = judged(root, one.record, asked)
            _must_agree(before.evaluation, found.evaluation)
            lot = SealedLot(
                found.evaluation.lot.id,
                one.record,
                f"evaluations/{number}.json",
                f"reports/{number}.txt",
                f"reports/{number}.pdf",
            )
            outputs |= _papers(lot, found, *printed)
            lots.append(lot)
            codes = [load_code(c.id) for c in (before.evaluation.code, *before.evaluation.beside)]
            keep += retention(found.evaluation, found.log.raw.lot, codes)
    return outputs, lots, list(dict.fromkeys(keep))


def _papers(lot: SealedLot, found: Checked, paper: Paper, sign: Sign | None) -> dict[str, bytes]:
    evaluation = found.evaluation
    pdf = to_pdf(evaluation, found.log, paper=paper)
    return {
        lot.evaluation: f"{to_json(evaluation)}\n".encode(),
        lot.text: to_text(evaluation, width=_WIDTH, full=True).encode("utf-8"),
        lot.pdf: pdf if sign is None else sign(pdf),
    }


def _must_agree(first: Evaluation, again: Evaluation) -> None:
    """Refuse to seal what the archive alone does not lead to again."""
    one, other = (
        json.loads(to_json(replace(e, overrides=tuple(replace(o, file="") for o in e.overrides))))
        for e in (first, again)
    )
    found = differences(one, other)
    if found.answers or found.words:
        raise SealError(
            "judged from the archive alone, the lot gets another answer: "
            f"{'; '.join((*found.answers, *found.words)[:3])}",
            hint="this is a fault of the program; report it with the record",
        )
