"""One file for each fault, and the words with which it must be refused."""

from __future__ import annotations

import tomllib
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from tempwitness.errors import InputError
from tempwitness.readers import BareOptions, read_any

HERE = Path(__file__).parent
EXPECTED: dict[str, dict[str, Any]] = tomllib.loads((HERE / "expected.toml").read_text("utf-8"))
LAMB: dict[str, Any] = {
    "food": "lamb shoulder",
    "form": "intact",
    "weight": "9 lb",
    "code": "us/food-code/2022",
    "zone": "America/Chicago",
}


def read(name: str, case: dict[str, Any]) -> None:
    path = HERE / name
    if path.suffix == ".toml":
        read_any(path)
        return
    read_any(path, BareOptions(**{**LAMB, **case.get("options", {})}))


@pytest.mark.parametrize("name", sorted(EXPECTED))
def test_a_fault_is_named_with_its_place_and_its_remedy(name: str) -> None:
    case = EXPECTED[name]
    with pytest.raises(InputError) as caught:
        read(name, case)
    text = str(caught.value)
    missing = [words for words in case["words"] if words not in text]
    assert missing == [], text
    location = caught.value.location
    assert location is not None
    if "line" in case:
        assert location.line == case["line"]
    if "key" in case:
        assert location.key == case["key"]
    assert caught.value.message[0].islower() or not caught.value.message[0].isalpha()
    assert "to mend it" in text or case.get("plain", False)


def test_every_file_of_the_folder_has_its_words() -> None:
    found = {p.name for p in HERE.iterdir() if p.is_file() and p.suffix not in (".py", ".pyc")}
    assert found - {"expected.toml"} == set(EXPECTED)


@pytest.mark.parametrize("name", sorted(n for n in EXPECTED if EXPECTED[n].get("mended")))
def test_the_remedy_that_is_named_mends_it(name: str) -> None:
    mended = dict(EXPECTED[name]["mended"])
    if "date" in mended:
        mended["date"] = date.fromisoformat(mended["date"])
    if "ignore" in mended:
        mended["ignore"] = tuple(mended["ignore"])
    log = read_any(HERE / name, BareOptions(**{**LAMB, **mended}))
    assert log.channels
