"""Transient conduction: textbooks' examples, and an independent solution in finite volumes."""

from __future__ import annotations

import numpy as np
import pytest

from tempwitness.science.conduction import (
    ONE_TERM_FOURIER,
    Body,
    Material,
    Point,
    brick,
    cylinder,
    excess,
    excess_along,
    short_cylinder,
    slab,
    slowest,
    sphere,
    sphere_of,
    time_until,
)
from tempwitness.science.eigenvalues import Geometry, coefficients, eigenvalues
from tempwitness.science.ranges import OutOfRangeError

HOUR = 3600.0


def material(conductivity: float, diffusivity: float, density: float = 1000.0) -> Material:
    return Material(conductivity, density, conductivity / diffusivity / density)


def test_steaks_in_a_freezer() -> None:
    # Çengel, solutions manual, problem 11-44: 2 cm thick, 25 °C in air of -11 °C, h 9; the surface
    # is at 2 °C after 93.1 min.
    body, meat = slab(0.01), material(0.45, 0.91e-7)
    time = time_until(body, meat, 9.0, (2 + 11) / (25 + 11), Point.FACE)
    assert time / 60 == pytest.approx(93.1, abs=0.05)
    zeta = eigenvalues(Geometry.SLAB, 0.2, 1)
    assert zeta[0] == pytest.approx(0.4328, abs=5e-5)
    assert coefficients(Geometry.SLAB, zeta)[0] == pytest.approx(1.0311, abs=5e-5)
    assert meat.diffusivity * time / 0.01**2 == pytest.approx(5.085, abs=2e-3)


def test_beef_carcass_in_a_chill_room() -> None:
    # Çengel, chapter 4, problem 65: cylinder 24 cm across, 37 °C, air of -10 °C, h 22; the middle
    # is at 4 °C after 12.2 h. By then the outside is at -7 °C: it has frozen.
    body, meat = cylinder(0.12), material(0.47, 0.13e-6)
    time = time_until(body, meat, 22.0, (4 + 10) / (37 + 10))
    assert time / HOUR == pytest.approx(12.2, abs=0.05)
    outside = -10 + 47 * excess(body, meat, 22.0, time, Point.FACE)
    assert outside == pytest.approx(-7.1, abs=0.05)


def _left_of_roast(biot: float, one_term: bool) -> float:
    radius = (3 * 3.2 / (4 * np.pi * 1200.0)) ** (1 / 3)
    meat = Material(0.45, 1200.0, 0.45 / 0.91e-7 / 1200.0)
    coefficient, time = biot * 0.45 / radius, 2.75 * HOUR
    if not one_term:
        return excess(sphere(radius), meat, coefficient, time)
    rate, first, _ = slowest(sphere(radius), meat, coefficient)
    return float(first * np.exp(-rate * time))


def test_rib_roast_for_which_one_term_is_wrong() -> None:
    # Çengel, chapter 4: 3.2 kg, ρ 1200, k 0.45, α 0.91e-7; 4.5 °C to 60 °C in the middle after
    # 2 h 45 min in 163 °C. The text takes one term and so h ≈ 156.9 from its table's entry Bi = 30,
    # at a Fourier number of 0.12. All terms give Bi 17.86, h 93.4 (independent solution).
    radius = (3 * 3.2 / (4 * np.pi * 1200.0)) ** (1 / 3)
    assert radius == pytest.approx(0.08603, abs=1e-5)  # as the text prints it
    fourier = 0.91e-7 * 2.75 * HOUR / radius**2
    assert fourier == pytest.approx(0.1217, abs=1e-4)
    assert fourier < ONE_TERM_FOURIER
    left = (60 - 163) / (4.5 - 163)
    assert _left_of_roast(28.33, one_term=True) == pytest.approx(left, abs=2e-4)
    assert _left_of_roast(17.86, one_term=False) == pytest.approx(left, abs=2e-4)
    assert abs(_left_of_roast(28.33, one_term=False) - left) > 0.02
    roast = Material(0.45, 1200.0, 0.45 / 0.91e-7 / 1200.0)
    assert pytest.approx(93.4, abs=0.1) == 17.86 * 0.45 / radius
    # One term gives a surface of 159.3 °C and 71 °C in the middle after 3.03 h; all terms do not.
    rate, first, face = slowest(sphere(radius), roast, 28.33 * 0.45 / radius)
    outside = 163 + (4.5 - 163) * first * np.exp(-rate * 2.75 * HOUR) * face
    assert outside == pytest.approx(159.3, abs=0.1)
    done = np.log(first / ((71 - 163) / (4.5 - 163))) / rate
    assert done / HOUR == pytest.approx(3.03, abs=0.01)
    h = 17.86 * 0.45 / radius
    skin = 163 + (4.5 - 163) * excess(sphere(radius), roast, h, 2.75 * HOUR, Point.FACE)
    assert skin < 157


def test_small_roast() -> None:
    # Çengel, chapter 4: 1.5 kg, k 0.5, ρ 1000, cp 4000, h 18, 20 to 77 °C in 163 °C. The answer,
    # 2.21 h, comes from an independent full series.
    body = sphere_of(1.5, 1000.0)
    assert body.shortest == pytest.approx(0.0710, abs=5e-5)
    time = time_until(body, Material(0.5, 1000.0, 4000.0), 18.0, (77 - 163) / (20 - 163))
    assert time == pytest.approx(7967, abs=3)


def _finite_volumes(radius: float, meat: Material, h: float, end: float) -> tuple[float, float]:
    """Ball in 400 shells, implicit steps in time; excess at the middle and at the surface."""
    shells, steps = 400, 6000
    edges = np.linspace(0, radius, shells + 1)
    volumes = 4 / 3 * np.pi * np.diff(edges**3) * meat.density * meat.heat_capacity
    inner = 4 * np.pi * edges[1:-1] ** 2 * meat.conductivity / (radius / shells)
    half = meat.conductivity / (radius / shells / 2)
    outer = 4 * np.pi * radius**2 / (1 / h + 1 / half)
    step = end / steps
    matrix = np.diag(volumes / step)
    for k, conductance in enumerate(inner):
        matrix[k, k] += conductance
        matrix[k + 1, k + 1] += conductance
        matrix[k, k + 1] -= conductance
        matrix[k + 1, k] -= conductance
    matrix[-1, -1] += outer
    advance = np.linalg.inv(matrix) * (volumes / step)
    state = np.linalg.matrix_power(advance, steps) @ np.ones(shells)
    # Flux continuity: h Ts = half (T_last - Ts).
    return float(state[0]), float(half * state[-1] / (h + half))


@pytest.mark.parametrize("h", [2.0, 20.0, 300.0])
def test_ball_agrees_with_finite_volumes(h: float) -> None:
    radius, meat = 0.093, Material(0.47, 1040.0, 3240.0)
    middle, outside = _finite_volumes(radius, meat, h, 3 * HOUR)
    assert excess(sphere(radius), meat, h, 3 * HOUR) == pytest.approx(middle, abs=5e-4)
    found = excess(sphere(radius), meat, h, 3 * HOUR, Point.FACE)
    assert found == pytest.approx(outside, abs=5e-4)


def test_products() -> None:
    meat, h, time = material(0.45, 1.3e-7), 30.0, 2 * HOUR
    one = [excess(slab(edge / 2), meat, h, time) for edge in (0.33, 0.16, 0.13)]
    block = brick(0.33, 0.16, 0.13)
    assert excess(block, meat, h, time) == pytest.approx(np.prod(one), rel=1e-14)
    can = short_cylinder(0.06, 0.2)
    parts = excess(cylinder(0.06), meat, h, time) * excess(slab(0.1), meat, h, time)
    assert excess(can, meat, h, time) == pytest.approx(parts, rel=1e-14)
    # A corner is colder than a face, a face colder than the middle; the mean lies between.
    at = {point: excess(block, meat, h, time, point) for point in Point}
    assert at[Point.CORNER] < at[Point.FACE] < at[Point.CENTRE]
    assert at[Point.CORNER] < at[Point.MEAN] < at[Point.CENTRE]


@pytest.mark.parametrize(
    ("body", "volume", "area"),
    [
        (brick(0.4, 0.2, 0.1), 0.4 * 0.2 * 0.1, 2 * (0.08 + 0.04 + 0.02)),
        (sphere(0.1), 4 / 3 * np.pi * 1e-3, 4 * np.pi * 1e-2),
        (short_cylinder(0.1, 0.3), np.pi * 0.01 * 0.3, 2 * np.pi * 0.1 * 0.3 + 2 * np.pi * 0.01),
    ],
)
def test_volume_and_area(body: Body, volume: float, area: float) -> None:
    # Elementary geometry.
    assert body.volume == pytest.approx(volume, rel=1e-12)
    assert body.area == pytest.approx(area, rel=1e-12)


@pytest.mark.parametrize("body", [slab(0.05), cylinder(0.05), sphere(0.05), brick(0.3, 0.2, 0.1)])
@pytest.mark.parametrize("point", list(Point))
def test_time_and_excess_are_each_others_inverse(body: Body, point: Point) -> None:
    meat, h = material(0.47, 1.4e-7), 20.0
    for left in (0.7, 0.3, 0.01):
        time = time_until(body, meat, h, left, point)
        assert excess(body, meat, h, time, point) == pytest.approx(left, rel=1e-9)
    times = np.linspace(600, 40000, 200)
    assert (np.diff(excess_along(body, meat, h, times, point)) < 0).all()


def test_mean_falls_as_fast_as_heat_leaves_the_surface() -> None:
    # Balance of heat: d(mean)/dt = -h A / (ρ cp V) × surface excess.
    body, meat, h = sphere(0.08), Material(0.47, 1040.0, 3240.0), 25.0
    times = np.array([3599.0, 3601.0])
    slope = float(np.diff(excess_along(body, meat, h, times, Point.MEAN))[0]) / 2
    skin = excess(body, meat, h, 3600.0, Point.FACE)
    flow = -h * body.area / (meat.density * meat.heat_capacity * body.volume) * skin
    assert slope == pytest.approx(flow, rel=1e-6)


def test_what_cannot_be_answered_is_refused() -> None:
    meat = material(0.47, 1.4e-7)
    with pytest.raises(OutOfRangeError, match="Fourier number"):
        excess(slab(0.05), meat, 10.0, 0.1)
    with pytest.raises(OutOfRangeError, match="share of the difference"):
        time_until(slab(0.05), meat, 10.0, 1.2)
    with pytest.raises(OutOfRangeError, match="before the series holds"):
        time_until(slab(0.05), meat, 1e4, 0.5, Point.FACE)
    with pytest.raises(OutOfRangeError, match="half-thickness or radius"):
        slab(-1.0)
    with pytest.raises(OutOfRangeError, match="conductivity"):
        Material(0.0, 1000.0, 4000.0)
    assert excess(slab(0.05), meat, 10.0, 0.0) == 1.0
