"""`rules compare`: tables that read well at every width, and the same as JSON."""

from __future__ import annotations

import json

import pytest
from click.testing import CliRunner, Result

from tempwitness.cli import wrapping
from tempwitness.cli.rules import rules
from tempwitness.errors import RuleError
from tempwitness.model.vocabulary import Topic

TRIOS = [
    ("us/food-code/2022", "us/ca/retail-food-code", "us/ny/14-1"),
    ("gb/eng/2013", "gb/sct/2006", "ie/852-2004"),
    ("nz/simply-safe-suitable", "au/3.2.2", "ca/frfsc/2016"),
    ("us/food-code/2022", "us/ny/14-1"),
    ("us/food-code/2022", "us/ny/14-1", "gb/eng/2013", "au/3.2.2"),
]


def run(*arguments: str) -> Result:
    return CliRunner().invoke(rules, ["compare", *arguments])


def shown(monkeypatch: pytest.MonkeyPatch, width: int, *arguments: str) -> str:
    monkeypatch.setattr(wrapping, "width", lambda: width)
    result = run(*arguments)
    assert result.exit_code == 0, result.output
    return result.output


def joined(text: str) -> str:
    return " ".join(text.split())


@pytest.mark.parametrize("codes", TRIOS, ids=" ".join)
@pytest.mark.parametrize("width", [60, 80, 100])
def test_no_line_is_longer_than_the_width(
    codes: tuple[str, ...], width: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    lines = shown(monkeypatch, width, *codes).splitlines()
    assert [line for line in lines if len(line) > width] == []
    assert [line for line in lines if line != line.rstrip()] == []
    assert [line for line in lines if line.strip().startswith("°")] == []


def test_the_first_lines_say_what_the_codes_are(monkeypatch: pytest.MonkeyPatch) -> None:
    text = joined(shown(monkeypatch, 80, "gb/eng/2013", "gb/sct/2006"))
    # SI 2013/2996 is in force from 31 December 2013, SSI 2006/3 from 11 January 2006.
    assert text.startswith("gb/eng/2013 Food Safety and Hygiene (England) Regulations, Schedule 4")
    assert "SI 2013/2996; place gb/eng; law; from 2013-12-31" in text
    assert "SSI 2006/3; place gb/sct; law and guidance; from 2006-01-11" in text


def test_the_last_lines_explain_the_marks_and_defer(monkeypatch: pytest.MonkeyPatch) -> None:
    text = joined(shown(monkeypatch, 80, *TRIOS[2]))
    assert "* second-hand, not confirmed from the text." in text
    assert "** from memory, not confirmed from the text." in text
    assert "it does not say that the code has no rule" in text
    assert "an entry is law; guidance is not" in text
    assert text.endswith(
        "The local health authority decides which text applies and what it means; where it says "
        "otherwise, it is right."
    )


def test_a_mark_that_does_not_stand_there_is_not_explained(monkeypatch: pytest.MonkeyPatch) -> None:
    text = shown(monkeypatch, 80, "us/food-code/2022", "us/ny/14-1", "--topic", "hot")
    assert "second-hand" not in text
    assert "no leave:" not in text


def test_two_codes_stand_in_columns_at_80_and_three_at_100(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    heads = [
        [line.split() for line in shown(monkeypatch, width, *codes, "--topic", "hot").splitlines()]
        for width, codes in ((80, TRIOS[3]), (100, TRIOS[0]))
    ]
    assert list(TRIOS[3]) in heads[0]
    assert list(TRIOS[0]) in heads[1]


def test_three_codes_stand_below_each_other_at_80(monkeypatch: pytest.MonkeyPatch) -> None:
    text = shown(monkeypatch, 80, *TRIOS[0], "--topic", "hot")
    # 3-501.16(A)(1); 10 NYCRR 14-1.40(a).
    assert "Rest, hot hold: least temperature\n  us/food-code/2022       at least 135 °F" in text
    assert "  us/ny/14-1              at least 140 °F (60 °C) [10 NYCRR 14-1.40(a)]\n" in text
    assert "  -> strictest: us/ny/14-1\n" in text


def test_the_tables_come_in_one_order_and_only_those_asked_for(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    text = shown(monkeypatch, 80, *TRIOS[0], "--topic", "reheat", "--topic", "cook")
    assert text.index("COOKING") < text.index("REHEATING")
    assert "COOLING" not in text


def test_an_empty_topic_is_said_to_be_empty(monkeypatch: pytest.MonkeyPatch) -> None:
    text = shown(monkeypatch, 80, "gb/eng/2013", "gb/sct/2006", "--topic", "date")
    assert "Nothing was found under these topics." in text


def test_as_json() -> None:
    document = json.loads(run(*TRIOS[0], "--json").output)
    assert [code["id"] for code in document["codes"]] == list(TRIOS[0])
    assert [t["topic"] for t in document["tables"]] == [topic.value for topic in Topic]
    row = next(t for t in document["tables"] if t["topic"] == "hot")["rows"][0]
    assert row["strictest"] == ["us/ny/14-1"]
    assert row["cells"]["us/ny/14-1"] == {
        "entries": [
            {
                "limit": "at least 140 °F (60 °C)",
                "section": "10 NYCRR 14-1.40(a)",
                "weight": "law",
                "confirmed": "text",
                "also": [],
                "other_ways": [],
            }
        ],
        "requirements": ["hot-hold"],
        "elsewhere": None,
    }


def test_a_code_named_twice_counts_once() -> None:
    result = run("us/ny/14-1", "us/ny/14-1")
    assert result.exit_code == 2
    assert "at least two" in result.output


def test_an_unknown_code_and_an_unknown_topic_are_refused() -> None:
    assert isinstance(run("us/ny/14-1", "us/ny/14-9").exception, RuleError)
    assert run("us/ny/14-1", "gb/eng/2013", "--topic", "soup").exit_code == 2
