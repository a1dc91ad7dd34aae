"""Size at 20 °C of a part measured warm or cold."""

from dataclasses import dataclass

from gudgeon.calc.domain import Real, require
from gudgeon.calc.ledger import Effect, Measured, combination
from gudgeon.calc.repeats import half_width_effect

REFERENCE_TEMPERATURE = 293.15


@dataclass(frozen=True, slots=True)
class Warmth:
    """A gauge or a part as it was when read: temperature [K], expansion [1/K], half-widths of both.

    ``thermometer`` and ``material`` name the sources: one thermometer that read both is one source.
    """

    temperature: float
    expansion: float
    temperature_half_width: float = 0.0
    expansion_half_width: float = 0.0
    thermometer: str = "thermometer"
    material: str = "material"


def size_at_20(
    reading: Real,
    instrument_temperature: Real,
    instrument_expansion: Real,
    part_temperature: Real,
    part_expansion: Real,
    *,
    correction: Real = 0.0,
) -> Real:
    """Size that a part has at 20 °C, from a reading taken at another temperature.

    Parameters
    ----------
    reading : float or array
        Mean of the readings [m].
    instrument_temperature : float or array
        Temperature of the gauge [K].
    instrument_expansion : float or array
        Expansion coefficient of the gauge [1/K].
    part_temperature : float or array
        Temperature of the part [K].
    part_expansion : float or array
        Expansion coefficient of the part [1/K].
    correction : float or array
        Correction of the gauge from its check, added to the reading [m].

    Returns
    -------
    float or array
        Size at 20 °C [m].

    Notes
    -----
    y = (mean + correction)·(1 + a_i·(T_i - 20 °C) - a_p·(T_p - 20 °C)), first order.

    Range
    -----
    Sizes only, never gaps read with a feeler, angles, pressures or weights; 233.15 to 423.15 K.

    References
    ----------
    .. [1] ISO 1:2022, reference temperature 20 °C (definition); the first-order form of JCGM 100:2008 (GUM),
       H.1.2, as quoted.

    Examples
    --------
    >>> round(size_at_20(95.05e-3, 293.15, 11.5e-6, 308.15, 21.5e-6) * 1000, 4)
    95.0193
    """
    require("gauge temperature", instrument_temperature, "K", 233.15, 423.15)
    require("part temperature", part_temperature, "K", 233.15, 423.15)
    gauge = instrument_expansion * (instrument_temperature - REFERENCE_TEMPERATURE)
    part = part_expansion * (part_temperature - REFERENCE_TEMPERATURE)
    return (reading + correction) * (1 + gauge - part)


def measured_at_20(measured: Measured, instrument: Warmth, part: Warmth) -> Measured:
    """Size at 20 °C with the rows that thermometers and expansions add.

    Parameters
    ----------
    measured : Measured
        The size as read, correction added, with its ledger [m].
    instrument : Warmth
        Temperature [K] and expansion [1/K] of the gauge, with half-widths.
    part : Warmth
        Temperature [K] and expansion [1/K] of the part, with half-widths.

    Returns
    -------
    Measured
        Size at 20 °C and its ledger [m].

    Notes
    -----
    y by `size_at_20`. Rows: y·a_i and -y·a_p for the thermometers, y·(T_i - 20 °C) and -y·(T_p - 20 °C) for
    the expansions. One thermometer read on both leaves only y·(a_i - a_p).

    Range
    -----
    As `size_at_20`.

    References
    ----------
    .. [1] JCGM 100:2008 (GUM), annex H.1, as quoted.

    Examples
    --------
    >>> steel = Warmth(303.15, 11.5e-6, 1.0, thermometer="one")
    >>> [row.effect for row in measured_at_20(Measured(0.1, ()), steel, steel).effects]
    []
    """
    bare = (instrument.temperature, instrument.expansion, part.temperature, part.expansion)
    scale = float(size_at_20(1.0, *bare))
    rows = (*_rows(measured.value, instrument), *_rows(-measured.value, part))
    return combination([(scale, measured), *((1.0, Measured(0.0, (row,))) for row in rows)])


def _rows(size: float, body: Warmth) -> tuple[Effect, Effect]:
    warm = size * (body.temperature - REFERENCE_TEMPERATURE)
    return (
        half_width_effect(
            body.thermometer, "the thermometer", size * body.expansion * body.temperature_half_width
        ),
        half_width_effect(
            f"expansion of {body.material}", "how much the material expands", warm * body.expansion_half_width
        ),
    )
