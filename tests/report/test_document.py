"""JSON: valid against its schema, one line, the whole way there and back."""

from __future__ import annotations

import json
import subprocess
import sys
from dataclasses import fields, replace
from pathlib import Path
from typing import TYPE_CHECKING

import jsonschema
import pytest

from tempwitness.errors import ReportError
from tempwitness.model.finding import SCHEMA, Evidence
from tempwitness.report import from_json, json_schema, to_json

if TYPE_CHECKING:
    from tempwitness.model.finding import Evaluation

_PUBLISHED = Path(__file__).parents[2] / "docs" / "reference" / "evaluation.schema.json"


def test_there_and_back(evaluation: Evaluation) -> None:
    assert from_json(to_json(evaluation)) == evaluation


def test_one_line_in_the_order_of_the_fields_with_signs_as_they_are(
    evaluation: Evaluation,
) -> None:
    text = to_json(evaluation)
    assert "\n" not in text
    assert "135 °F" in text
    assert list(json.loads(text)) == [field.name for field in fields(evaluation)]


def test_numbers_are_numbers_and_nothing_is_null(evaluation: Evaluation) -> None:
    tree = json.loads(to_json(evaluation))
    cooled = next(f for f in tree["findings"] if f["verdict"] == "not_met")
    # 2 h 35 min = 155 min = 9300 s and 2 h 45 min = 9900 s.
    assert (cooled["evidence"]["least_s"], cooled["evidence"]["most_s"]) == (9300.0, 9900.0)
    assert cooled["settle"] is None
    assert tree["schema"] == SCHEMA


def test_valid_against_the_schema(evaluation: Evaluation) -> None:
    validator = jsonschema.Draft202012Validator(json_schema())
    validator.check_schema(json_schema())
    validator.validate(json.loads(to_json(evaluation)))


@pytest.mark.parametrize(
    ("path", "value"),
    [
        (("verdict",), "fine"),
        (("findings", 0, "weight"), "law-ish"),
        (("findings", 0, "invented"), 1),
        (("findings", 0, "evidence", "least_s"), "2 h"),
        (("schema",), "tempwitness/evaluation/0"),
    ],
)
def test_the_schema_refuses_what_is_not_an_evaluation(
    evaluation: Evaluation, path: tuple[str | int, ...], value: object
) -> None:
    tree = json.loads(to_json(evaluation))
    place = tree
    for step in path[:-1]:
        place = place[step]
    place[path[-1]] = value
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.Draft202012Validator(json_schema()).validate(tree)


def test_the_schema_refuses_a_missing_key(evaluation: Evaluation) -> None:
    tree = json.loads(to_json(evaluation))
    del tree["findings"][0]["settle"]
    with pytest.raises(jsonschema.ValidationError, match="settle"):
        jsonschema.Draft202012Validator(json_schema()).validate(tree)


def test_the_published_schema_is_current() -> None:
    # To write it again: json.dumps(json_schema(), indent=2, ensure_ascii=False) and a line end.
    current = json.dumps(json_schema(), indent=2, ensure_ascii=False) + "\n"
    assert _PUBLISHED.read_text(encoding="utf-8") == current


def test_an_infinite_duration_is_refused_instead_of_written(evaluation: Evaluation) -> None:
    endless = replace(evaluation.findings[0], evidence=Evidence(most_s=float("inf")))
    with pytest.raises(ReportError, match="infinite"):
        to_json(replace(evaluation, findings=(endless,)))


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("not JSON", "is not JSON"),
        ("[]", "names the schema None"),
        ('{"schema": "another/1"}', "names the schema 'another/1'"),
        (f'{{"schema": "{SCHEMA}"}}', "is not an evaluation: tool"),
    ],
)
def test_other_documents_are_refused_with_the_reason(text: str, reason: str) -> None:
    with pytest.raises(ReportError, match=reason):
        from_json(text)


def test_text_json_and_csv_cost_no_heavy_import() -> None:
    code = (
        "import sys; from tempwitness.report import to_csv, to_json, to_text; "
        "print([m for m in ('numpy', 'pandas', 'pydantic', 'reportlab') if m in sys.modules])"
    )
    done = subprocess.run(  # noqa: S603 - our own words to our own interpreter
        [sys.executable, "-c", code], capture_output=True, text=True, check=True
    )
    assert done.stdout.strip() == "[]"
