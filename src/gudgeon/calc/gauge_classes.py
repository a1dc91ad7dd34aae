"""What a gauge of a class may be off by, for as long as nobody has checked the one in hand."""

from gudgeon.calc.domain import require

_RANGE = 0.025
_MICROMETER_LIMITS = (4e-6, 4e-6, 5e-6, 5e-6, 6e-6)


def micrometer_permissible_error(size: float) -> float:
    """Largest error a new outside micrometer may have, from the range that reads a size.

    Parameters
    ----------
    size : float
        Size to be read [m].

    Returns
    -------
    float
        Permissible error either way, a half-width [m].

    Notes
    -----
    Ranges of 25 mm: to 50 mm = 4 µm, to 100 mm = 5 µm, to 125 mm = 6 µm. A size on the join
    = the smaller range.

    Range
    -----
    Above 0, to 125 mm.

    References
    ----------
    .. [1] DIN 863-1, as quoted; the edition was not stated. ISO 3611:2023 leaves the figures to the maker.

    Examples
    --------
    >>> micrometer_permissible_error(0.077)
    5e-06
    """
    require("size", size, "m", 0.0, 0.125, above=True)
    return _MICROMETER_LIMITS[min(int(size / _RANGE * (1 - 1e-12)), 4)]
