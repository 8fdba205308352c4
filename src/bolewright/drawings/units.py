"""SI numbers as the words a crew reads: feet, inches and pounds, or metres, kilograms and kilonewtons, rounded once."""

from __future__ import annotations

import math
from typing import Literal

from bolewright.core.base.range import Range

Units = Literal["us", "metric"]

POUND_KG = 0.45359237  # international avoirdupois pound, exact
POUND_FORCE_N = POUND_KG * 9.80665  # standard gravity, ISO 80000-3
FOOT_M = 0.3048  # international foot, exact
INCH_M = FOOT_M / 12
YARD3_M3 = (3 * FOOT_M) ** 3  # cubic yard, exact
PSI_KPA = POUND_FORCE_N / INCH_M**2 / 1000
MILE_PER_HOUR = 0.44704  # m/s, exact


def one_time(hours: float) -> str:
    """How long one thing takes, "25 min" or "2.1 h": minutes below three hours."""
    return f"{hours * 60.0:.0f} min" if hours < 3.0 else f"{hours:.1f} h"


def force(newtons: float, units: Units) -> str:
    """A force, "1,240 lb" or "5.5 kN"."""
    if not math.isfinite(newtons):
        return "no bound"
    return f"{_force_number(newtons, units)} {force_unit(units)}"


def force_range(value: Range, units: Units) -> str:
    """A force with its range, "1,240 lb (980 to 1,560)"; one number where rounding leaves no range."""
    return _with_range(value, units, force_unit(units), _force_number)


def force_unit(units: Units) -> str:
    """The unit forces are written in."""
    return "lb" if units == "us" else "kN"


def mass(kilograms: float, units: Units) -> str:
    """A mass, "240 lb" or "110 kg"."""
    return f"{_mass_number(kilograms, units)} {'lb' if units == 'us' else 'kg'}"


def mass_range(value: Range, units: Units) -> str:
    """A mass with its range, "240 lb (190 to 300)"."""
    return _with_range(value, units, "lb" if units == "us" else "kg", _mass_number)


def length(metres: float, units: Units) -> str:
    """A length on the site, "14 ft 6 in" to the nearest inch, or "4.42 m"."""
    if not math.isfinite(metres):
        return "no limit"
    if units == "metric":
        return f"{round(metres, 2) + 0.0:.2f} m"  # + 0.0: no "-0.00"
    inches = round(abs(metres) / INCH_M)
    sign = "-" if metres < 0 and inches else ""
    feet, inches = divmod(inches, 12)
    if feet == 0:
        return f"{sign}{inches} in"
    return f"{sign}{feet} ft {inches} in" if inches else f"{sign}{feet} ft"


def size(metres: float, units: Units) -> str:
    """A diameter or a depth of cut, "18 in" or "46 cm"."""
    return f"{_halves(metres / INCH_M)} in" if units == "us" else f"{metres * 100:.0f} cm"


def small(metres: float, units: Units) -> str:
    """A movement of a kerf or a gap, in sixteenths of an inch or millimetres."""
    if not math.isfinite(metres):
        return "no limit"
    if units == "metric":
        return f"{metres * 1000:.0f} mm"
    sixteenths = round(abs(metres) / INCH_M * 16)
    whole, part = divmod(sixteenths, 16)
    if whole >= 12:
        return length(abs(metres), units)
    if whole >= 2:
        whole, part = divmod(round(abs(metres) / INCH_M * 4) * 4, 16)
    down = math.gcd(part, 16) if part else 1
    fraction = f"{part // down}/{16 // down}" if part else ""
    return f"{' '.join(p for p in (str(whole) if whole or not part else '', fraction) if p)} in"


def measured(value: Range, units: Units) -> str:
    """A length read with a tape or off a picture, with its range: "25 in (23 to 27)", "64 cm (59 to 69)"; in feet and
    inches or metres where it is long."""
    if value.high > (10 * FOOT_M if units == "us" else 3.0):
        likely, low, high = (length(v, units) for v in (value.likely, value.low, value.high))
        return likely if low == high else f"{likely} ({low} to {high})"
    step = 0.5 if value.likely < 10 * (INCH_M if units == "us" else 0.01) else 1.0
    one = INCH_M if units == "us" else 0.01
    return _with_range(value, units, "in" if units == "us" else "cm", lambda v, _: thousands(v / one, step))


def small_range(value: Range, units: Units) -> str:
    """A small movement with its range; up is written as a minus."""
    likely, low, high = (_signed(v, units) for v in (value.likely, value.low, value.high))
    return likely if low == high else f"{likely} ({low} to {high})"


def _signed(metres: float, units: Units) -> str:
    words = small(abs(metres), units)
    return f"-{words}" if metres < 0.0 and words != small(0.0, units) else words


def reading(value: Range, kind: str, units: Units) -> str:
    """What was read or foreseen: a mass, a movement, or else a force."""
    words = {"mass": mass_range, "settled": small_range}.get(kind, force_range)
    return words(value, units)


def speed(metres_per_second: float, units: Units) -> str:
    """A wind speed, "75 mph" or "34 m/s"."""
    return f"{_speed_number(metres_per_second, units)} {'mph' if units == 'us' else 'm/s'}"


def speed_range(value: Range, units: Units) -> str:
    """A wind speed with its range, "75 mph (60 to 92)"."""
    return _with_range(value, units, "mph" if units == "us" else "m/s", _speed_number)


def moment_range(value: Range, units: Units) -> str:
    """A moment with its range, "120,000 lb ft (90,000 to 160,000)" or "160 kN m (120 to 220)"."""
    return _with_range(value, units, "lb ft" if units == "us" else "kN m", _moment_number)


def pressure(kilopascals: float, units: Units) -> str:
    """A pressure on the ground, "7.3 psi" or "50 kPa"."""
    return f"{_pressure_number(kilopascals, units)} {'psi' if units == 'us' else 'kPa'}"


def pressure_range(value: Range, units: Units) -> str:
    """A pressure with its range, "7.3 psi (5 to 9.4)"."""
    return _with_range(value, units, "psi" if units == "us" else "kPa", _pressure_number)


def _pressure_number(kilopascals: float, units: Units) -> str:
    psi = kilopascals / PSI_KPA
    return thousands(psi, 0.1 if psi < 20 else 1) if units == "us" else thousands(kilopascals, 1)


def room_range(value: Range, units: Units) -> str:
    """The room something loose takes, with its range: "12.5 yd³ (9.5 to 17)"."""
    return _with_range(value, units, "yd³" if units == "us" else "m³", _room_number)


def bulk(kilograms_per_cubic_metre: float, units: Units) -> str:
    """How much loose stuff weighs for its room, "500 lb/yd³" or "300 kg/m³"."""
    if units == "us":
        return f"{thousands(kilograms_per_cubic_metre * YARD3_M3 / POUND_KG, 10.0)} lb/yd³"
    return f"{thousands(kilograms_per_cubic_metre, 10.0)} kg/m³"


def _room_number(cubic_metres: float, units: Units) -> str:
    value = cubic_metres / YARD3_M3 if units == "us" else cubic_metres
    return _halves(value) if value < 20.0 else thousands(value, 1.0)


def degrees(radians: float) -> str:
    """A slope, "2°"."""
    return f"{math.degrees(radians):.0f}°"


def clock(hours: float) -> str:
    """A clock position to the half hour, "3 o'clock", "4:30"."""
    halves = round(hours * 2) % 24
    hour = halves // 2 or 12
    return f"{hour}:30" if halves % 2 else f"{hour} o'clock"


def thousands(value: float, step: float) -> str:
    """A number rounded to a step, with thousands marked."""
    places = max(0, -math.floor(math.log10(step) + 1e-9))
    rounded = round(value / step) * step
    return f"{rounded + 0.0:,.{places}f}".replace("-0", "0", 1) if rounded == 0 else f"{rounded:,.{places}f}"


def _with_range(value: Range, units: Units, unit: str, number: object) -> str:
    assert callable(number)
    low, likely, high = (number(v, units) for v in (value.low, value.likely, value.high))
    return f"{likely} {unit}" if low == high else f"{likely} {unit} ({low} to {high})"


def _force_number(newtons: float, units: Units) -> str:
    if not math.isfinite(newtons):
        return "no bound"
    if units == "us":
        return _pounds(newtons / POUND_FORCE_N)
    kilonewtons = newtons / 1000
    return thousands(kilonewtons, 0.01 if abs(kilonewtons) < 1 else 0.1 if abs(kilonewtons) < 100 else 1)


def _mass_number(kilograms: float, units: Units) -> str:
    return _pounds(kilograms / POUND_KG) if units == "us" else _pounds(kilograms)


def _speed_number(metres_per_second: float, units: Units) -> str:
    return f"{metres_per_second / MILE_PER_HOUR:.0f}" if units == "us" else f"{metres_per_second:.0f}"


def _moment_number(newton_metres: float, units: Units) -> str:
    return _pounds(newton_metres / POUND_FORCE_N / FOOT_M) if units == "us" else _force_number(newton_metres, units)


def _pounds(value: float) -> str:
    steps = ((50, 1), (500, 5), (5000, 10), (20000, 50))
    return thousands(value, next((step for below, step in steps if abs(value) < below), 100))


def _halves(value: float) -> str:
    halves = round(value * 2)
    return f"{halves // 2}" if halves % 2 == 0 else f"{halves // 2}.5"
