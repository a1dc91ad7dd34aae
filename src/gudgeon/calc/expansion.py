"""Thermal expansion of what engines and gauges are made of."""

from dataclasses import dataclass

from gudgeon.calc.domain import OutOfRangeError

_TABLE = "W. D. Callister, Materials Science and Engineering, table B.6, as read"
_MEMORY = "from memory, not read"


@dataclass(frozen=True, slots=True)
class Material:
    """A material's expansion [1/K] about room temperature, how far it may be off [1/K], and who says so."""

    words: str
    expansion: float
    half_width: float
    source: str


def _row(words: str, millionths: float, half_width: float = 1.0, source: str = _TABLE) -> Material:
    return Material(words, millionths / 1e6, half_width / 1e6, source)


# The half-widths are our own reading: 1e-6/K is what the example H.1 of the GUM allows between two steels.
MATERIALS = {
    "steel_1020": _row("plain carbon steel (1020)", 11.7),
    "steel_4140": _row("chromium-molybdenum steel (4140)", 12.3),
    "steel_4340": _row("nickel-chromium-molybdenum steel (4340)", 12.3),
    "grey_iron": _row("grey cast iron (G3000)", 11.4),
    "ductile_iron": _row("ductile cast iron (60-40-18)", 11.2),
    "aluminium_cast_356": _row("cast aluminium (356.0)", 21.5),
    "aluminium_6061": _row("wrought aluminium (6061)", 23.6),
    "aluminium_piston_4032": _row("low-expansion piston alloy (4032)", 19.4, 2.0, _MEMORY),
    "aluminium_piston_2618": _row("forged piston alloy (2618)", 22.3, 2.0, _MEMORY),
    "titanium_6_4": _row("titanium (6Al-4V)", 8.6),
    "phosphor_bronze": _row("phosphor bronze", 17.8),
}


def material(key: str) -> Material:
    """Material by its key, with its expansion.

    Parameters
    ----------
    key : str
        Key of the row [-].

    Returns
    -------
    Material
        Expansion and half-width [1/K], words and source.

    Notes
    -----
    A table, no equation: dL = L·expansion·dT is `size_at_20`.

    Range
    -----
    0 to 100 °C; the mean expansion to working temperature is some 5 to 10 % larger (from memory).

    References
    ----------
    .. [1] W. D. Callister, Materials Science and Engineering, table B.6, as read; rows marked otherwise
       are from memory.

    Examples
    --------
    >>> material("aluminium_cast_356").expansion
    2.15e-05
    """
    if key not in MATERIALS:
        raise OutOfRangeError(f"the material {key!r} is not in the table; allowed are {', '.join(MATERIALS)}")
    return MATERIALS[key]
