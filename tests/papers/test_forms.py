"""What real kinds of permit form ask: answered by the packet, or asked of the user; none lost."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path
from typing import Any

import pytest

from tempwitness.papers import to_packet
from tempwitness.papers.fill import sayings
from tempwitness.readers.event.questions import all_keys, asked_info, questions
from tests.papers.made import BARE, plan_of, supper, text_of, words_of_packet
from tests.report.reread import squeezed

FORMS: list[dict[str, Any]] = tomllib.loads(
    (Path(__file__).parent / "forms.toml").read_text(encoding="utf-8")
)["form"]
EVERY = [
    pytest.param(form, one, id=f"{form['kind']}: {one['what']}")
    for form in FORMS
    for one in form["asks"]
]
#: Keys that a bare event file must hold, so that nobody has to be asked.
_NEEDED = {"event.name", "day[].date", "food[].name", "food[].step[].do", "equipment[].kind"}
#: Keys that few forms ask for: printed where they are answered, and missed by nobody else.
_OPTIONAL = {
    *("cleaning.hair", "equipment[].number", "person_in_charge.certificate_number"),
    *("vendor.booth_number", "vendor.licence", "vendor.nonprofit_number", "worker[].card"),
}


def general(key: str) -> str:
    """Name a key without the numbers of its entries."""
    return re.sub(r"\[\d+\]", "[]", key)


@pytest.mark.parametrize(("form", "one"), EVERY)
def test_every_field_of_a_form_has_its_place(form: dict[str, Any], one: dict[str, Any]) -> None:
    known = set(all_keys()) | {general(key) for key in sayings(supper())}
    assert one.get("keys") or one.get("part"), form["kind"]
    assert [key for key in one.get("keys", ()) if key not in known] == []
    if "part" in one:
        assert squeezed(one["part"]) in words_of_packet()


@pytest.mark.parametrize(("form", "one"), EVERY)
def test_what_is_answered_stands_in_the_packet(form: dict[str, Any], one: dict[str, Any]) -> None:
    text = words_of_packet()
    said = sayings(supper())
    for key in one.get("keys", ()):
        for name, answer in said.items():
            if general(name) == key and answer and key not in _SHOWN_OTHERWISE:
                for part in answer.split(" / "):
                    assert squeezed(part) in text, (form["kind"], name)


#: Short names and words of the file that are printed as what they stand for.
_SHOWN_OTHERWISE = {
    *("food[].step[].where", "food[].step[].equipment", "equipment[].kind", "food[].process"),
    *("deadline[].days", "food[].step[].do"),
}


@pytest.mark.parametrize(("form", "one"), EVERY)
def test_what_is_not_answered_is_asked(
    form: dict[str, Any], one: dict[str, Any], tmp_path: Path
) -> None:
    plan = plan_of(tmp_path, BARE)
    asked = {general(question.key) for question in questions(plan.file.table)}
    wanted = {key for key in one.get("keys", ()) if ".does." not in key and ".process" not in key}
    for key in wanted - _NEEDED - _OPTIONAL - {"food[].step[].time_control"}:
        assert key in asked or key.partition("[")[0] in asked, (form["kind"], key)


def test_the_keys_that_nobody_is_asked_for_are_few_and_printed() -> None:
    fields = all_keys()
    assert [key for key in _OPTIONAL if asked_info(fields[key])] == []


def test_every_question_of_a_bare_event_is_printed(tmp_path: Path) -> None:
    plan = plan_of(tmp_path, BARE)
    text = squeezed(text_of(to_packet(plan)))
    asked = questions(plan.file.table)
    assert len(asked) > 60
    for question in asked:
        assert squeezed(question.asks) in text
        assert squeezed(question.key) in text


def test_there_are_at_least_six_kinds_of_form() -> None:
    assert len({form["kind"] for form in FORMS}) >= 6
    assert sum(len(form["asks"]) for form in FORMS) > 90
