"""One number, as a table or a rule file prints it, so that the two can be compared."""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal

__all__ = ["DAY", "Figure", "seconds", "typed_figure"]

DAY = 86400
_SECONDS = {"s": 1, "min": 60, "h": 3600, "d": DAY, "weeks": 7 * DAY}
_MONTHS = {"months": 1, "years": 12}
#: What a number of each kind and unit is a number of; times are compared in seconds.
_WHAT = {
    ("temp", "F"): "°F",
    ("temp", "C"): "°C",
    ("z", "C"): "z °C",
    ("tolerance", "F"): "± °F",
    ("tolerance", "C"): "± °C",
    ("days", "business d"): "business days",
    ("length", "in"): "in",
    ("length", "cm"): "cm",
    ("percent", ""): "number",
    **{("mass", unit): unit for unit in ("g", "kg", "lb")},
    **{("count", unit): "number" for unit in ("", "log", "ppm", "aw", "pH", "gal")},
}
_OTHER_SIDE = {">=": "<", ">": "<=", "<=": ">", "<": ">="}
#: "More than 40" and "41 or more" are one for what is counted.
_NEXT = {">": ">=", "<=": "<"}


@dataclass(frozen=True, slots=True)
class Figure:
    """A number with what it counts and its direction.

    Parameters
    ----------
    what : str
        Unit, or ``number`` for a bare one; times are in ``s`` or in ``months``.
    op : str
        Direction of what is allowed; empty where none is printed.
    edge : bool
        Whether it is where something begins, so that a text may print the direction of either
        side: a band above 5 °C begins where "at most 5 °C" ends.
    step : Decimal
        What the next number is away from it, if it is counted one by one; else 0.
    asked : bool
        Whether a published row must print it; a hold of 0 s need not be printed.
    """

    what: str
    value: Decimal
    op: str = ""
    edge: bool = False
    step: Decimal = Decimal(0)
    asked: bool = True

    def meets(self, other: Figure) -> bool:
        """Whether both are the same number, in the same direction where both print one."""
        if not self.op or not other.op:
            return self.same_number(other)
        step = max(self.step, other.step)
        ours = {figure.counted(step) for figure in self._sides()}
        return bool(ours & {figure.counted(step) for figure in other._sides()})

    def same_number(self, other: Figure) -> bool:
        """Whether both are the same number, whatever their direction."""
        return (self.what, self.value) == (other.what, other.value)

    def counted(self, step: Decimal) -> tuple[str, Decimal, str]:
        """Return it with one direction of the two that a counted number may be given by."""
        if step and self.op in _NEXT:
            return self.what, self.value + step, _NEXT[self.op]
        return self.what, self.value, self.op

    def _sides(self) -> list[Figure]:
        return [self, replace(self, op=_OTHER_SIDE[self.op])] if self.edge else [self]

    def __str__(self) -> str:
        return f"{self.op}{self.value:f} {self.what}"


def seconds(amount: float | Decimal) -> Decimal:
    """Return seconds as an exact number: 63.3 min is 3798 s and no hair more."""
    return Decimal(f"{amount:.6f}").normalize()


def typed_figure(kind: str, op: str, value: str, unit: str) -> Figure:
    """Return the number of a line of a typed table.

    Less than a second means at once and has no duration.

    Raises
    ------
    ValueError
        If the kind and the unit do not belong together.
    """
    number = Decimal(value)
    if kind in ("time", "days") and unit in _SECONDS:
        if (op, value, unit) == ("<", "1", "s"):
            return Figure("s", Decimal(0))
        return Figure("s", seconds(number * _SECONDS[unit]), op)
    if kind == "days" and unit in _MONTHS:
        return Figure("months", number * _MONTHS[unit], op)
    if (kind, unit) == ("length", "mm"):
        return Figure("cm", number / 10, op)
    if (kind, unit) not in _WHAT:
        raise ValueError(f"a number of kind '{kind}' has no unit '{unit}'")
    step = Decimal(1) if kind == "count" and not unit else Decimal(0)
    return Figure(_WHAT[kind, unit], number, op, step=step)
