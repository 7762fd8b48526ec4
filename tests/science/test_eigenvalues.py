"""Roots and coefficients against printed tables and against scipy."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import optimize, special

from tempwitness.science.bessel import LARGEST, j0, j1, zeros
from tempwitness.science.eigenvalues import Geometry, coefficients, eigenvalues
from tempwitness.science.ranges import OutOfRangeError


def test_bessel_functions_agree_with_scipy() -> None:
    x = np.concatenate([np.linspace(0, 30, 301), np.linspace(30, LARGEST, 997)])
    np.testing.assert_allclose(j0(x), special.j0(x), rtol=0, atol=2e-14)
    np.testing.assert_allclose(j1(x), special.j1(x), rtol=0, atol=2e-14)


@pytest.mark.parametrize("order", [0, 1])
def test_zeros_agree_with_scipy(order: int) -> None:
    np.testing.assert_allclose(zeros(order, 300), special.jn_zeros(order, 300), rtol=1e-14)


# Incropera and DeWitt, table 5.1; Çengel, table 4-2.
@pytest.mark.parametrize(
    ("geometry", "biot", "root", "coefficient"),
    [
        (Geometry.SLAB, 0.2, 0.4328, 1.0311),
        (Geometry.SLAB, 1.0, 0.8603, 1.1191),
        (Geometry.CYLINDER, 1.0, 1.2558, 1.2071),
        (Geometry.SPHERE, 1.0, 1.5708, 1.2732),
        (Geometry.SPHERE, 30.0, 3.0372, 1.9898),
    ],
)
def test_first_root_and_coefficient_of_the_textbooks_table(
    geometry: Geometry, biot: float, root: float, coefficient: float
) -> None:
    zeta = eigenvalues(geometry, biot, 1)
    assert zeta[0] == pytest.approx(root, abs=5.1e-5)
    assert coefficients(geometry, zeta)[0] == pytest.approx(coefficient, abs=1.01e-4)


def _left_minus_right(geometry: Geometry, biot: float, zeta: float) -> float:
    if geometry is Geometry.SLAB:
        return float(zeta * np.sin(zeta) - biot * np.cos(zeta))
    if geometry is Geometry.CYLINDER:
        return float(zeta * special.j1(zeta) - biot * special.j0(zeta))
    return float((1 - biot) * np.sin(zeta) - zeta * np.cos(zeta))


@pytest.mark.parametrize("biot", [1e-3, 0.05, 1.0, 5.617, 300.0, 1e6])
@pytest.mark.parametrize("geometry", list(Geometry))
def test_every_root_is_the_one_that_brent_finds(geometry: Geometry, biot: float) -> None:
    found = eigenvalues(geometry, biot, 60)
    assert (np.diff(found) > 0).all()
    for n, zeta in enumerate(found):
        # Between the roots' own neighbours there is exactly one change of sign.
        low = 1e-3 if n == 0 else (found[n - 1] + zeta) / 2
        high = (zeta + found[n + 1]) / 2 if n + 1 < len(found) else zeta + 1
        root = optimize.brentq(
            lambda x: _left_minus_right(geometry, biot, x), low, high, xtol=1e-15, rtol=1e-14
        )
        assert zeta == pytest.approx(root, rel=1e-9 if biot < 0.01 else 2e-13)


@pytest.mark.parametrize("geometry", list(Geometry))
def test_roots_of_a_held_surface_are_those_of_the_limit(geometry: Geometry) -> None:
    # Bi → ∞: cos ζ = 0, J0(ζ) = 0 and sin ζ = 0.
    limit = {
        Geometry.SLAB: (np.arange(10) + 0.5) * np.pi,
        Geometry.CYLINDER: special.jn_zeros(0, 10),
        Geometry.SPHERE: np.arange(1, 11) * np.pi,
    }[geometry]
    np.testing.assert_allclose(eigenvalues(geometry, 1e6, 10), limit, rtol=2e-6)


@pytest.mark.parametrize("biot", [-1.0, 0.0, 1e7, float("nan")])
def test_a_biot_number_without_roots_is_refused(biot: float) -> None:
    with pytest.raises(OutOfRangeError, match="the Biot number is"):
        eigenvalues(Geometry.SLAB, biot)


# ASHRAE Handbook Refrigeration, chapter on cooling times: root of the slab and of the cylinder as a
# polynomial in ln Bi. It drifts by 1.3 % at Bi = 20, which is why roots are found here instead.
_SLAB = (0.860972, 0.312133, 0.007986, -0.016192, -0.001190, 0.000581)
_CYLINDER = (1.257493, 0.487941, 0.025322, -0.026568, -0.002888, 0.001078)


@pytest.mark.parametrize(
    ("geometry", "fit", "biot", "near"),
    [
        (Geometry.SLAB, _SLAB, 0.2, 1e-3),
        (Geometry.SLAB, _SLAB, 1.0, 1e-3),
        (Geometry.SLAB, _SLAB, 5.0, 1e-3),
        (Geometry.SLAB, _SLAB, 20.0, 1.4e-2),
        (Geometry.CYLINDER, _CYLINDER, 1.0, 2e-3),
        (Geometry.CYLINDER, _CYLINDER, 5.0, 1e-3),
        (Geometry.CYLINDER, _CYLINDER, 20.0, 1.4e-2),
    ],
)
def test_roots_agree_with_the_handbooks_polynomial(
    geometry: Geometry, fit: tuple[float, ...], biot: float, near: float
) -> None:
    handbook = sum(a * np.log(biot) ** n for n, a in enumerate(fit))
    assert eigenvalues(geometry, biot, 1)[0] == pytest.approx(handbook, rel=near)
