"""What a record says of its probes: kind, class, resolution, and what their figures tell."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest

from tempwitness.errors import InputError
from tempwitness.readers.steps import coarsest_step
from tempwitness.units import Unit
from tests.readers.build import bare, record

if TYPE_CHECKING:
    from pathlib import Path

    from tempwitness.model.lot import Probe

_READ = """
[[reading]]
at = 2026-07-04T18:10:00
temp = "{temp}"
probe = "blue"
{place}
"""


def stated(folder: Path, probe: str, *, temp: str = "138.5 F", place: str = "") -> Probe:
    """The probe "blue" of a record with these keys and one reading."""
    body = f'[[probe]]\nid = "blue"\n{probe}\n' + _READ.format(temp=temp, place=place)
    (found,) = record(folder, body).probes
    return found


def test_a_resolution_keeps_its_own_scale(tmp_path: Path) -> None:
    probe = stated(tmp_path, 'resolution = "0.1 C"')
    assert (probe.resolution, probe.resolution_unit) == (0.1, Unit.C)


@pytest.mark.parametrize(
    ("kind", "written", "name"),
    [
        ("Pt100", '"A"', "A"),
        ("platinum RTD", '"AA"', "AA"),
        ("type K thermocouple", "2", "2"),
        ("thermocouple T", '"1"', "1"),
    ],
)
def test_a_class_belongs_to_a_kind(tmp_path: Path, kind: str, written: str, name: str) -> None:
    probe = stated(tmp_path, f'kind = "{kind}"\nclass = {written}')
    assert probe.tolerance_class == name


@pytest.mark.parametrize(
    ("keys", "says", "hint"),
    [
        ('class = "A"', "without the kind of sensor", "'rtd', 'thermocouple k'"),
        ('kind = "dial"\nclass = "A"', "nothing of a probe of kind 'dial'", "leave the class out"),
        ('kind = "thermocouple"\nclass = "1"', "of kind 'thermocouple'", "'thermocouple t'"),
        ('kind = "pt100"\nclass = "2"', "of kind 'pt100'", "a rtd has AA, A, B, C"),
    ],
)
def test_a_class_that_bounds_nothing_is_refused(
    tmp_path: Path, keys: str, says: str, hint: str
) -> None:
    with pytest.raises(InputError, match=says) as caught:
        stated(tmp_path, keys)
    assert caught.value.location is not None
    assert caught.value.location.key == "probe[1].class"
    assert hint in caught.value.hint


def test_an_unknown_class_is_refused_with_those_that_exist(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="class") as caught:
        stated(tmp_path, 'kind = "pt100"\nclass = "1/3 DIN"')
    assert "'AA'" in str(caught.value)


@pytest.mark.parametrize("key", ["accuracy", "resolution"])
def test_nothing_is_neither_an_accuracy_nor_a_step(tmp_path: Path, key: str) -> None:
    with pytest.raises(InputError, match=f"the {key} of a probe is") as caught:
        stated(tmp_path, f'{key} = "0 F"')
    assert caught.value.location is not None
    assert caught.value.location.key == f"probe[1].{key}"


def test_any_other_word_is_kept_as_a_kind(tmp_path: Path) -> None:
    assert stated(tmp_path, 'kind = "the old one"').kind == "the old one"


@pytest.mark.parametrize("place", ["", 'place = "core"', 'place = "air"'])
def test_infrared_reads_no_core(tmp_path: Path, place: str) -> None:
    with pytest.raises(InputError, match="reading 1: probe 'blue' is infrared gun") as caught:
        stated(tmp_path, 'kind = "infrared gun"', place=place)
    assert caught.value.location is not None
    assert caught.value.location.key == "reading[1].place"
    assert 'place = "surface"' in caught.value.hint


def test_infrared_reads_a_surface(tmp_path: Path) -> None:
    probe = stated(tmp_path, 'kind = "infrared gun"', place='place = "surface"')
    assert probe.kind == "infrared gun"


def test_infrared_in_a_file_is_named_with_its_line(tmp_path: Path) -> None:
    body = (
        '[[probe]]\nid = "gun"\nkind = "infrared"\n[[probe]]\nid = "pen"\n'
        '[[file]]\npath = "log.csv"\n'
    )
    rows = "time,temp_f,probe\n2026-07-04 18:10,150,pen\n2026-07-04 18:20,151,gun\n"
    with pytest.raises(InputError, match=r"log\.csv, line 3: probe 'gun' is infrared"):
        record(tmp_path, body, files={"log.csv": rows})


@pytest.mark.parametrize(
    ("figures", "step"),
    [
        ([138.0, 139.0], 1.0),
        ([138.5, 139.0], 0.5),
        ([138.2, 139.4], 0.2),
        ([138.1, 139.0], 0.1),
        ([138.15, 139.0], 0.05),
        ([138.12, 139.0], 0.01),
        ([138.123], 0.01),
        ([-18.3, float("nan")], 0.1),
    ],
)
def test_the_coarsest_step_that_fits(figures: list[float], step: float) -> None:
    """Which of 1, 0.5, 0.2, 0.1, 0.05 and 0.01 divides all figures: by hand."""
    assert coarsest_step(np.array(figures)) == step


def test_no_figure_tells_no_step() -> None:
    assert coarsest_step(np.array([np.nan])) is None


def test_figures_tell_the_step_in_the_scale_that_was_written(tmp_path: Path) -> None:
    log = bare(tmp_path, "time,temp_c\n2026-07-04T18:10Z,58.9\n2026-07-04T18:20Z,59\n")
    (probe,) = log.probes
    assert (probe.step, probe.step_unit) == (0.1, Unit.C)


def test_of_two_scales_the_coarser_step_counts(tmp_path: Path) -> None:
    """0.1 °C is 0.18 °F and 0.5 °F is more: the probe may show no finer than that."""
    body = '[[probe]]\nid = "blue"\n' + _READ.format(temp="58.9 C", place="")
    body += _READ.format(temp="138.5 F", place="").replace("18:10", "18:20")
    (probe,) = record(tmp_path, body).probes
    assert (probe.step, probe.step_unit) == (0.5, Unit.F)


def test_probes_of_one_file_have_steps_of_their_own(tmp_path: Path) -> None:
    rows = (
        "time,temp_f,probe\n2026-07-04T18:10Z,150,pen\n2026-07-04T18:20Z,151.3,leg\n"
        "2026-07-04T18:30Z,152,pen\n"
    )
    assert {p.id: p.step for p in bare(tmp_path, rows).probes} == {"pen": 1.0, "leg": 0.1}
