"""Small codes of our own, so that each way of judging is seen by itself."""

from __future__ import annotations

import hashlib
import json

from tempwitness.model.finding import Evaluation
from tempwitness.model.logs import StagedLog
from tempwitness.model.rule import Code, CodeHead, Requirement
from tests.support import LATER, judge

#: Keep 100 °F or more; invented, the same figure in both scales.
HOT: dict[str, object] = {"form": "throughout", "limit": {"f": 100, "c": 100, "op": ">="}}
WARM: dict[str, object] = {"form": "throughout", "limit": {"f": 80, "c": 80, "op": ">="}}
COLD: dict[str, object] = {"form": "throughout", "limit": {"f": 40, "c": 40, "op": "<="}}
REACH: dict[str, object] = {"form": "reach", "rows": [{"f": 150, "c": 150, "hold": "0 s"}]}
COOLED: dict[str, object] = {
    "form": "fall",
    "start": {"f": 100, "c": 100, "op": ">="},
    "to": {"f": 60, "c": 60, "op": "<="},
    "within": "2 h",
}


def rule(name: str, test: dict[str, object], **more: object) -> Requirement:
    """A requirement of law for hot holds unless told otherwise."""
    given = {
        "id": name,
        "title": f"Title of {name}",
        "section": f"§ {name}",
        "weight": "law",
        "stages": ("hot_hold",),
        "confirmed": "text",
        "source": ("own-reading",),
        "test": test,
        **more,
    }
    return Requirement.model_validate_json(json.dumps(given))


def code(*requirements: Requirement, name: str = "own/test") -> Code:
    """A code with these requirements, told apart from all others by its hash."""
    head = CodeHead(
        id=name, title="Own code", edition="1", issuer="nobody", authority="Nobody decides."
    )
    text = json.dumps([r.model_dump(mode="json", by_alias=True) for r in requirements])
    return Code(
        head=head, requirements=requirements, sha256=hashlib.sha256(text.encode()).hexdigest()
    )


def judged(log: StagedLog, *requirements: Requirement, asked: float = LATER) -> Evaluation:
    """Judge a log by these requirements alone."""
    return judge(log, code=code(*requirements), asked=asked)


def verdicts(evaluation: Evaluation) -> dict[str, str]:
    """Verdict by requirement; several stages or pieces are joined in order."""
    joined: dict[str, str] = {}
    for found in evaluation.findings:
        name = found.requirement.split("#")[1]
        joined[name] = f"{joined[name]} {found.verdict.value}" if name in joined else found.verdict
    return {name: str(value) for name, value in joined.items()}
