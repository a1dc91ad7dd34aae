"""Metric threads and bolts: geometry, strength by property class."""

from dataclasses import dataclass

import numpy as np

from gudgeon.calc.domain import OutOfRangeError, Real, require

LARGEST_SMALL = 0.016  # m: up to here class 8.8 is the weaker of its two


@dataclass(frozen=True, slots=True)
class ThreadGeometry:
    """Basic diameters [m] and stress area [m²] of a metric thread."""

    pitch_diameter: Real
    minor_diameter: Real
    root_diameter: Real
    stress_diameter: Real
    stress_area: Real


@dataclass(frozen=True, slots=True)
class BoltStrength:
    """Least strengths of a property class [Pa]."""

    tensile: float
    yield_point: float
    proof: float


CLASSES = {
    "4.6": BoltStrength(400e6, 240e6, 225e6),
    "4.8": BoltStrength(420e6, 340e6, 310e6),
    "5.6": BoltStrength(500e6, 300e6, 280e6),
    "5.8": BoltStrength(520e6, 420e6, 380e6),
    "6.8": BoltStrength(600e6, 480e6, 440e6),
    "8.8": BoltStrength(800e6, 640e6, 580e6),
    "9.8": BoltStrength(900e6, 720e6, 650e6),
    "10.9": BoltStrength(1040e6, 940e6, 830e6),
    "12.9": BoltStrength(1220e6, 1100e6, 970e6),
}
LARGE_8_8 = BoltStrength(830e6, 660e6, 600e6)


def thread_geometry(diameter: Real, pitch: Real) -> ThreadGeometry:
    """Diameters and stress area of a metric thread.

    Parameters
    ----------
    diameter : float or array
        Nominal diameter [m].
    pitch : float or array
        Pitch [m].

    Returns
    -------
    ThreadGeometry
        Pitch, minor, root and stress diameters [m], stress area [m²].

    Notes
    -----
    d2 = d - 0.649519·P; d1 = d - 1.082532·P; d3 = d - 1.226869·P; d_s = (d2 + d3)/2; A_s = pi/4·d_s².

    Range
    -----
    Diameter from 1 to 100 mm; pitch above 0 and at most 0.3 of the diameter.

    References
    ----------
    .. [1] ISO 724:1993, formulas as read in a secondary source.
    .. [2] ISO 898-1:2013, stress area; the table was read in a secondary source.

    Examples
    --------
    >>> round(float(thread_geometry(0.008, 0.00125).stress_area) * 1e6, 2)
    36.61
    """
    require("thread diameter", diameter, "m", 0.001, 0.1)
    require("pitch", pitch, "m", 0.0, above=True)
    require("pitch over diameter", np.divide(pitch, diameter), "", 0.0, 0.3)
    height = np.sqrt(3.0) / 2.0 * pitch
    mean = diameter - 0.75 * height
    root = diameter - 17.0 / 12.0 * height
    stressed = (mean + root) / 2.0
    minor = diameter - 1.25 * height
    return ThreadGeometry(mean, minor, root, stressed, np.pi / 4.0 * stressed**2)


def bolt_strength(property_class: str, diameter: float) -> BoltStrength:
    """Least strengths of a bolt.

    Parameters
    ----------
    property_class : str
        Marking on the head, such as "8.8".
    diameter : float
        Nominal diameter [m].

    Returns
    -------
    BoltStrength
        Tensile strength, yield and proof stress [Pa].

    Notes
    -----
    Rm = 100·a MPa and Re = 10·a·b MPa for the marking a.b, nominally; the table holds least values.

    Range
    -----
    Classes 4.6 to 12.9, diameter from 1 to 39 mm.

    References
    ----------
    .. [1] ISO 898-1:2013; proof and tensile loads read in a secondary source for 8.8, 10.9 and 12.9, the
       other classes from memory.

    Examples
    --------
    >>> bolt_strength("10.9", 0.008).proof / 1e6
    830.0
    """
    require("thread diameter", diameter, "m", 0.001, 0.039)
    if property_class not in CLASSES:
        raise OutOfRangeError(f"property class is {property_class!r}; allowed is one of {', '.join(CLASSES)}")
    large = property_class == "8.8" and diameter > LARGEST_SMALL
    return LARGE_8_8 if large else CLASSES[property_class]


def bolt_load(stress: Real, diameter: Real, pitch: Real) -> Real:
    """Load on a bolt at a stress in its thread: the proof or the breaking load.

    Parameters
    ----------
    stress : float or array
        Proof stress, or tensile strength [Pa].
    diameter : float or array
        Nominal diameter [m].
    pitch : float or array
        Pitch [m].

    Returns
    -------
    float or array
        Load [N].

    Notes
    -----
    F = A_s·stress.

    Range
    -----
    As `thread_geometry`; stress at or above 0.

    References
    ----------
    .. [1] ISO 898-1:2013, proof loads; the table was read in a secondary source.

    Examples
    --------
    >>> round(float(bolt_load(580e6, 0.008, 0.00125)), -2)
    21200.0
    """
    require("stress", stress, "Pa", 0.0)
    return stress * thread_geometry(diameter, pitch).stress_area


def bolt_stiffness(
    shank_area: Real, shank_length: Real, stress_area: Real, thread_length: Real, modulus: Real
) -> Real:
    """Load for each length a bolt is stretched, shank and free thread one behind the other.

    Parameters
    ----------
    shank_area : float or array
        Section of the shank [m²].
    shank_length : float or array
        Length of the shank in the grip [m].
    stress_area : float or array
        Stress area of the thread [m²].
    thread_length : float or array
        Length of thread in the grip, with about half the diameter for each engaged end [m].
    modulus : float or array
        Young's modulus of the bolt [Pa].

    Returns
    -------
    float or array
        Stiffness [N/m].

    Notes
    -----
    1/k = (L_shank/A_shank + L_thread/A_s)/E.

    Range
    -----
    Areas and modulus above 0, lengths at or above 0 and not both 0.

    References
    ----------
    .. [1] Derivation: bars in series.

    Examples
    --------
    >>> round(bolt_stiffness(50e-6, 0.040, 36.6e-6, 0.020, 206e9) / 1e6, 1)
    153.0
    """
    for name, area in (("shank area", shank_area), ("stress area", stress_area)):
        require(name, area, "m²", 0.0, above=True)
    require("modulus", modulus, "Pa", 0.0, above=True)
    require("shank length", shank_length, "m", 0.0)
    require("thread length", thread_length, "m", 0.0)
    compliance = shank_length / shank_area + thread_length / stress_area
    require("length over area", compliance, "1/m", 0.0, above=True)
    return modulus / compliance
