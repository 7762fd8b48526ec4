"""Event files: read strictly, refused in words with file, line and key."""

from __future__ import annotations

from pathlib import Path

import pytest
from pydantic import ValidationError

from tempwitness.errors import InputError
from tempwitness.readers.event import read_event
from tempwitness.readers.event.questions import all_keys, answers, asked_info, questions
from tests.papers.made import BARE, ROOT, SUPPER


def written(folder: Path, *changes: tuple[str, str], text: str = "") -> Path:
    """Write the sample event, or a text, with some words changed."""
    said = text or SUPPER.read_text(encoding="utf-8")
    for old, new in changes:
        assert old in said
        said = said.replace(old, new, 1)
    path = folder / "event.toml"
    path.write_text(said, encoding="utf-8")
    return path


def line_of(path: Path, words: str) -> int:
    lines = path.read_text(encoding="utf-8").splitlines()
    return next(i for i, line in enumerate(lines, 1) if words in line)


@pytest.mark.parametrize(
    ("old", "new", "key", "says"),
    [
        ('do = "receive"', 'do = "receeve"', "food[1].step[1].do", "did you mean 'receive'"),
        ("patrons = 240", "patrns = 240", "event.patrns", "did you mean 'patrons'"),
        ('purpose = "nonprofit"', 'purpose = "gift"', "event.purpose", "'profit' or 'nonprofit'"),
        ('["smoker"]', '["smokr"]', "food[1].step[5].equipment", "did you mean 'smoker'"),
        ('where = "grange"', 'where = "garage"', "equipment[1].where", "did you mean 'grange'"),
        ('weight = "9 lb"', 'weight = "9"', "food[1].weight", "not a weight"),
        ('air = "255 F"', 'air = "255"', "food[1].step[5].air", "with its unit"),
        ("days = 15", "days = 15\nbusiness_days = 2", "deadline[1]", "exactly one"),
        ("set_up = 07:00:00", 'set_up = "seven"', "day[1].set_up", "time of day"),
        ("date = 2026-10-03", 'date = "3 Oct"', "day[1].date", "is not a day"),
        ("start = 2026-10-01 09:00:00", "start = 2026-10-01", "food[1].step[1].start", "date with"),
        ('name = "beans"', 'name = "stuff"', "food[4].name", "not known by its name"),
        ('every = "4 h"', 'every = "often"', "food[1].step[2].every", "not a duration"),
    ],
)
def test_what_is_wrong_is_said_with_its_line(
    tmp_path: Path, old: str, new: str, key: str, says: str
) -> None:
    path = written(tmp_path, (old, new))
    with pytest.raises(InputError) as caught:
        read_event(path)
    where = caught.value.location
    assert where is not None
    assert where.file == str(path)
    assert where.key == key
    wanted = line_of(path, "[[deadline]]" if key == "deadline[1]" else new.partition("\n")[0])
    assert where.line == wanted
    assert says in caught.value.message


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ("2026-10-02 22:00:00", "2026-10-01 08:00:00", "before the step above it"),
        ('id = "chiller"', 'id = "walk-in"', "'walk-in' stands twice"),
        ('code = "us/food-code/2022"', "", "names no code and no place"),
        ('zone = "America/Chicago"', 'zone = "America/Chikago"', "America/Chikago"),
        ('never = ["thaw"', 'never = ["cook", "thaw"', "also among those never done"),
        ("corner = [22, 2]\n", "", "both corner"),
        (
            'zone = "A',
            'weekend = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"]\nzone = "A',
            "no day",
        ),
        ('id = "grange"\nname', 'id = "event"\nname', "means the event itself"),
    ],
)
def test_parts_that_do_not_fit_together_are_refused(
    tmp_path: Path, old: str, new: str, says: str
) -> None:
    with pytest.raises(InputError) as caught:
        read_event(written(tmp_path, (old, new)))
    assert says in caught.value.message


def test_an_event_without_day_or_food_is_refused(tmp_path: Path) -> None:
    head = BARE.partition("[[day]]")[0]
    with pytest.raises(InputError, match="'day'"):
        read_event(written(tmp_path, text=head + '[[food]]\nname = "beans"\n'))
    with pytest.raises(InputError, match="has no food"):
        read_event(written(tmp_path, text=head.replace("[event]", "food = []\n[event]") + _DAY))


_DAY = "[[day]]\ndate = 2026-10-03\n"


def test_a_record_is_not_taken_for_an_event() -> None:
    with pytest.raises(InputError, match="a record of one lot, not an event file"):
        read_event(ROOT / "sample_records" / "01-lamb-all-day" / "record.toml")


def test_an_event_cannot_be_changed_afterwards() -> None:
    event = read_event(SUPPER)
    with pytest.raises(ValidationError, match="frozen"):
        event.table.event.name = "Other"  # type: ignore[misc]
    with pytest.raises(AttributeError):
        event.file = "other"  # type: ignore[misc]


def test_what_is_left_out_is_asked_and_nothing_else() -> None:
    # Left out of the sample on purpose, as its first lines say.
    keys = {question.key for question in questions(read_event(SUPPER).table)}
    assert keys == {
        "cleaning.sanitizer",
        "food[4].leftovers",
        "food[4].step",
        "food[3].ingredients",
    }


def test_a_missing_answer_is_an_empty_text_and_never_a_default(tmp_path: Path) -> None:
    event = read_event(written(tmp_path, text=BARE)).table
    fields = all_keys()
    said = {key: a.text for key, a in answers(event).items() if "[" not in key}
    invented = [key for key, text in said.items() if text and asked_info(fields[key])]
    assert invented == []


def test_a_food_that_changes_its_place_without_a_trip_is_asked_about(tmp_path: Path) -> None:
    text = BARE.replace('do = "receive"', 'do = "receive"\nwhere = "hall"').replace(
        'do = "cold_hold"', 'do = "cold_hold"\nwhere = "event"'
    )
    asked = [q.asks for q in questions(read_event(written(tmp_path, text=text)).table)]
    assert "How does it get from 'hall' to 'event'? No transport is listed." in asked


def test_beans_are_not_asked_whether_they_are_injected(tmp_path: Path) -> None:
    text = BARE.replace("lamb shoulder", "beans")
    keys = {q.key for q in questions(read_event(written(tmp_path, text=text)).table)}
    assert not keys & {"food[1].form", "food[1].weight"}
