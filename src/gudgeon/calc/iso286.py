"""ISO 286 limits of size for the usual hole and shaft classes to 120 mm."""

import re
from dataclasses import dataclass
from typing import Literal

import numpy as np

from gudgeon.calc.domain import OutOfRangeError, require

LARGEST = 0.120
BANDS = (3, 6, 10, 18, 30, 50, 80, 120)  # mm, up to and including
FINE_BANDS = (3, 6, 10, 18, 24, 30, 40, 50, 65, 80, 100, 120)
GRADES: dict[int, tuple[float, ...]] = {  # µm, ISO 286-1:2010 table 1; IT5 to IT8 from 10 mm were read
    1: (0.8, 1, 1, 1.2, 1.5, 1.5, 2, 2.5),
    2: (1.2, 1.5, 1.5, 2, 2.5, 2.5, 3, 4),
    3: (2, 2.5, 2.5, 3, 4, 4, 5, 6),
    4: (3, 4, 4, 5, 6, 7, 8, 10),
    5: (4, 5, 6, 8, 9, 11, 13, 15),
    6: (6, 8, 9, 11, 13, 16, 19, 22),
    7: (10, 12, 15, 18, 21, 25, 30, 35),
    8: (14, 18, 22, 27, 33, 39, 46, 54),
    9: (25, 30, 36, 43, 52, 62, 74, 87),
    10: (40, 48, 58, 70, 84, 100, 120, 140),
    11: (60, 75, 90, 110, 130, 160, 190, 220),
    12: (100, 120, 150, 180, 210, 250, 300, 350),
}
# µm, ISO 286-1:2010 tables of fundamental deviations: g, k, m, n, p, r in part read, the others from memory.
UPPER_SHAFT: dict[str, tuple[float, ...]] = {
    "d": (-20, -30, -40, -50, -65, -80, -100, -120),
    "e": (-14, -20, -25, -32, -40, -50, -60, -72),
    "f": (-6, -10, -13, -16, -20, -25, -30, -36),
    "g": (-2, -4, -5, -6, -7, -9, -10, -12),
    "h": (0, 0, 0, 0, 0, 0, 0, 0),
}
UPPER_SHAFT_FINE: dict[str, tuple[float, ...]] = {
    "c": (-60, -70, -80, -95, -110, -110, -120, -130, -140, -150, -170, -180),
}
LOWER_SHAFT: dict[str, tuple[float, ...]] = {
    "k": (0, 1, 1, 1, 2, 2, 2, 3),
    "m": (2, 4, 6, 7, 8, 9, 11, 13),
    "n": (4, 8, 10, 12, 15, 17, 20, 23),
    "p": (6, 12, 15, 18, 22, 26, 32, 37),
}
LOWER_SHAFT_FINE: dict[str, tuple[float, ...]] = {
    "r": (10, 15, 19, 23, 28, 28, 34, 34, 41, 43, 51, 54),
    "s": (14, 19, 23, 28, 35, 35, 43, 43, 53, 59, 71, 79),
    "u": (18, 23, 28, 33, 41, 48, 60, 70, 87, 102, 124, 144),
}
LETTERS = (*UPPER_SHAFT_FINE, *UPPER_SHAFT, "js", *LOWER_SHAFT, *LOWER_SHAFT_FINE)


@dataclass(frozen=True, slots=True)
class Deviations:
    """Limits of a class as deviations from the nominal size [m]."""

    lower: float
    upper: float


@dataclass(frozen=True, slots=True)
class FitLimits:
    """Limits of size of hole and shaft [m], and their clearance, negative for interference [m]."""

    hole: Deviations
    shaft: Deviations
    least_clearance: float
    largest_clearance: float
    kind: Literal["clearance", "transition", "interference"]


def tolerance_grade(size: float, grade: int) -> float:
    """Width of a standard tolerance grade.

    Parameters
    ----------
    size : float
        Nominal size [m].
    grade : int
        Number of the grade, 7 for IT7 [-].

    Returns
    -------
    float
        Tolerance [m].

    Notes
    -----
    A table in bands of size; from IT6 on it follows about 10, 16, 25, 40, ... times i, i = 0.45·D^(1/3) +
    0.001·D in µm with D the geometric mean of the band in mm.

    Range
    -----
    Sizes above 0 to 120 mm, IT1 to IT12.

    References
    ----------
    .. [1] ISO 286-1:2010, table 1; IT5 to IT8 above 10 mm read in a secondary source, the rest from memory
       and checked against the formula.

    Examples
    --------
    >>> round(tolerance_grade(0.025, 7) * 1e6, 3)
    21.0
    """
    _require_size(size)
    if grade not in GRADES:
        raise OutOfRangeError(f"tolerance grade is IT{grade}; allowed is IT1 to IT12")
    return GRADES[grade][_band(size, BANDS)] * 1e-6


def shaft_deviations(size: float, tolerance_class: str) -> Deviations:
    """Limits of a shaft class.

    Parameters
    ----------
    size : float
        Nominal size [m].
    tolerance_class : str
        Letter and grade, such as "k6".

    Returns
    -------
    Deviations
        Lower and upper deviation [m].

    Notes
    -----
    c to h: upper from the table, lower = upper - IT; js: plus and minus IT/2, not rounded;
    k to u: lower from the table, upper = lower + IT; k is 0 outside IT4 to IT7.

    Range
    -----
    Letters c d e f g h js k m n p r s u, IT1 to IT12, sizes above 0 to 120 mm.

    References
    ----------
    .. [1] ISO 286-1:2010 and 286-2:2010; h6, k6, m6, n6, p6 from 10 to 80 mm read in a secondary source,
       the rest from memory.

    Examples
    --------
    >>> found = shaft_deviations(0.025, "p6")
    >>> round(found.lower * 1e6, 3), round(found.upper * 1e6, 3)
    (22.0, 35.0)
    """
    letter, grade = _parsed(tolerance_class, capital=False)
    width = tolerance_grade(size, grade) * 1e6
    if letter == "js":
        return _micrometres(-width / 2.0, width / 2.0)
    if letter <= "h":
        upper = _upper_shaft(letter, size)
        return _micrometres(upper - width, upper)
    lower = 0.0 if letter == "k" and not 4 <= grade <= 7 else _lower_shaft(letter, size)
    return _micrometres(lower, lower + width)


def hole_deviations(size: float, tolerance_class: str) -> Deviations:
    """Limits of a hole class.

    Parameters
    ----------
    size : float
        Nominal size [m].
    tolerance_class : str
        Letter and grade, such as "N7".

    Returns
    -------
    Deviations
        Lower and upper deviation [m].

    Notes
    -----
    C to H: lower = - upper of the shaft letter; JS: plus and minus IT/2; K, M, N to IT8 and P, R, S, U to
    IT7: upper = - lower of the shaft letter + (IT_n - IT_(n-1)), above 3 mm; coarser M, P, R, S, U without
    it, N 0.

    Range
    -----
    Letters C D E F G H JS K M N P R S U, IT1 to IT12 (from IT3 where the step of grades is needed, K to IT8),
    sizes above 0 to 120 mm.

    References
    ----------
    .. [1] ISO 286-1:2010 and 286-2:2010; H7, K7, M7, N7, P7 from 18 to 120 mm read in a secondary source,
       the rest from memory.

    Examples
    --------
    >>> found = hole_deviations(0.025, "N7")
    >>> round(found.lower * 1e6, 3), round(found.upper * 1e6, 3)
    (-28.0, -7.0)
    """
    letter, grade = _parsed(tolerance_class, capital=True)
    width = tolerance_grade(size, grade) * 1e6
    if letter == "js":
        return _micrometres(-width / 2.0, width / 2.0)
    if letter <= "h":
        lower = -_upper_shaft(letter, size)
        return _micrometres(lower, lower + width)
    upper = _upper_hole(letter, grade, size)
    return _micrometres(upper - width, upper)


def fit_limits(size: float, hole_class: str, shaft_class: str) -> FitLimits:
    """Clearance and interference two classes can give.

    Parameters
    ----------
    size : float
        Nominal size [m].
    hole_class : str
        Class of the hole, such as "H7".
    shaft_class : str
        Class of the shaft, such as "p6".

    Returns
    -------
    FitLimits
        Deviations of both, least and largest clearance [m], and the kind of fit.

    Notes
    -----
    least = hole lower - shaft upper; largest = hole upper - shaft lower.

    Range
    -----
    As `hole_deviations` and `shaft_deviations`.

    References
    ----------
    .. [1] ISO 286-1:2010, definitions of fits, from memory; Jindal, Machine Design, examples 4-2 and 4-3,
       p. 112 (read there).

    Examples
    --------
    >>> found = fit_limits(0.050, "H8", "g7")
    >>> round(found.least_clearance * 1e6, 3), round(found.largest_clearance * 1e6, 3), found.kind
    (9.0, 73.0, 'clearance')
    """
    hole, shaft = hole_deviations(size, hole_class), shaft_deviations(size, shaft_class)
    least, largest = hole.lower - shaft.upper, hole.upper - shaft.lower
    if least >= 0.0:
        return FitLimits(hole, shaft, least, largest, "clearance")
    return FitLimits(hole, shaft, least, largest, "interference" if largest <= 0.0 else "transition")


def _upper_hole(letter: str, grade: int, size: float) -> float:
    if letter == "k" and grade > 8:
        raise OutOfRangeError(f"hole class is K{grade}; allowed is up to K8")
    tight = -_lower_shaft(letter, size)
    small = _band(size, BANDS) == 0
    if letter == "k" and small:
        return 0.0
    if small or grade > (8 if letter in "kmn" else 7):
        return 0.0 if letter == "n" and not small else tight
    if grade < 3:
        raise OutOfRangeError(f"hole class is {letter.upper()}{grade}; allowed is from {letter.upper()}3")
    return tight + GRADES[grade][_band(size, BANDS)] - GRADES[grade - 1][_band(size, BANDS)]


def _upper_shaft(letter: str, size: float) -> float:
    if letter in UPPER_SHAFT:
        return UPPER_SHAFT[letter][_band(size, BANDS)]
    return UPPER_SHAFT_FINE[letter][_band(size, FINE_BANDS)]


def _lower_shaft(letter: str, size: float) -> float:
    if letter in LOWER_SHAFT:
        return LOWER_SHAFT[letter][_band(size, BANDS)]
    return LOWER_SHAFT_FINE[letter][_band(size, FINE_BANDS)]


def _parsed(tolerance_class: str, capital: bool) -> tuple[str, int]:
    found = re.fullmatch(r"([a-z]{1,2}|[A-Z]{1,2})(\d{1,2})", tolerance_class)
    letter = found.group(1) if found else ""
    if found is None or letter.isupper() is not capital or letter.lower() not in LETTERS:
        allowed = " ".join(name.upper() if capital else name for name in LETTERS)
        whose = "hole" if capital else "shaft"
        raise OutOfRangeError(
            f"{whose} class is {tolerance_class!r}; allowed is one of {allowed} and a grade"
        )
    return letter.lower(), int(found.group(2))


def _band(size: float, bands: tuple[int, ...]) -> int:
    return int(np.searchsorted(np.array(bands) / 1000.0, size * (1.0 - 1e-12)))


def _micrometres(lower: float, upper: float) -> Deviations:
    return Deviations(lower * 1e-6, upper * 1e-6)


def _require_size(size: float) -> None:
    require("nominal size", size, "m", 0.0, LARGEST, above=True)
