"""The cam chain: its sprockets, its wear, and what a longer chain or a lower head does to the timing."""

import numpy as np

from gudgeon.calc.domain import Real, require


def sprocket_pitch_radius(pitch: Real, teeth: Real) -> Real:
    """Radius on which a chain's pins run round a sprocket.

    Parameters
    ----------
    pitch : float or array
        Pitch of the chain [m].
    teeth : float or array
        Teeth of the sprocket [-].

    Returns
    -------
    float or array
        Pitch radius [m].

    Notes
    -----
    r = p/(2·sin(pi/N)).

    Range
    -----
    p above 0, 8 to 120 teeth.

    References
    ----------
    .. [1] ISO 606, pitch diameter of a sprocket; from memory, and exact geometry of a polygon.

    Examples
    --------
    >>> round(float(sprocket_pitch_radius(0.00635, 34)) * 1000, 4)
    34.4105
    """
    require("chain pitch", pitch, "m", 0.0, above=True)
    require("teeth", teeth, "", 8, 120)
    radius: Real = pitch / (2.0 * np.sin(np.pi / np.asarray(teeth, dtype=float)))
    return radius


def delay_from_deck(deck_lowered: Real, pitch_radius: Real) -> Real:
    """How much later the cams come when the head sits lower, through the pulling run of the chain.

    Parameters
    ----------
    deck_lowered : float or array
        How much nearer the crank the head sits; negative when it sits higher [m].
    pitch_radius : float or array
        Pitch radius of the cam's sprocket [m].

    Returns
    -------
    float or array
        Delay of the cam timing, crank angle, negative is earlier [rad].

    Notes
    -----
    delay = 2·dh/r, the pulling run along the cylinder.

    Range
    -----
    dh within 5 mm either way, r above 0.

    References
    ----------
    .. [1] Derivation: the slack made in the pulling run is taken up by the cam, which turns half as fast as
       the crank; common practice gives the same figure.

    Examples
    --------
    >>> round(float(np.degrees(delay_from_deck(0.0003, 0.025))), 3)
    1.375
    """
    require("lowered deck", deck_lowered, "m", -0.005, 0.005)
    require("pitch radius", pitch_radius, "m", 0.0, above=True)
    return 2.0 * deck_lowered / pitch_radius


def chain_elongation(measured_length: Real, links: Real, pitch: Real) -> Real:
    """How much longer a chain is than new, as a share.

    Parameters
    ----------
    measured_length : float or array
        Length over the links counted, under the stated pull [m].
    links : float or array
        Links counted [-].
    pitch : float or array
        Pitch of the chain [m].

    Returns
    -------
    float or array
        Elongation [-].

    Notes
    -----
    e = L/(n·p) - 1.

    Range
    -----
    At least 1 link; a result within 5 % of nothing, beyond which the links were miscounted.

    References
    ----------
    .. [1] Definition, common practice of the trade, no source.

    Examples
    --------
    >>> round(chain_elongation(0.1274, 20, 0.00635), 6)
    0.00315
    """
    require("measured length", measured_length, "m", 0.0, above=True)
    require("links", links, "", 1)
    require("chain pitch", pitch, "m", 0.0, above=True)
    share = measured_length / (links * pitch) - 1.0
    require("elongation", share, "", -0.05, 0.05)
    return share


def delay_from_elongation(elongation: Real, pulling_run: Real, pitch_radius: Real) -> Real:
    """How much later the cams come by a longer chain.

    Parameters
    ----------
    elongation : float or array
        How much longer the chain is, as a share [-].
    pulling_run : float or array
        Length of the run that pulls, crank to cam [m].
    pitch_radius : float or array
        Pitch radius of the cam's sprocket [m].

    Returns
    -------
    float or array
        Delay of the cam timing, crank angle [rad].

    Notes
    -----
    delay = 2·e·L/r.

    Range
    -----
    Elongation within 5 %, L and r above 0.

    References
    ----------
    .. [1] Derivation as for the deck: the longer run is taken up by the cam.

    Examples
    --------
    >>> round(float(np.degrees(delay_from_elongation(0.003, 0.200, 0.025))), 2)
    2.75
    """
    require("elongation", elongation, "", -0.05, 0.05)
    require("pulling run", pulling_run, "m", 0.0, above=True)
    require("pitch radius", pitch_radius, "m", 0.0, above=True)
    return 2.0 * elongation * pulling_run / pitch_radius
