"""A torque wrench with an extension."""

import numpy as np

from gudgeon.calc.domain import Real, require

HALF_TURN = np.pi


def wrench_setting(torque: Real, wrench_length: Real, extension: Real, angle: Real = 0.0) -> Real:
    """What the wrench is set to, so that the fastener gets a torque through an extension.

    Parameters
    ----------
    torque : float or array
        Torque wanted at the fastener [N·m].
    wrench_length : float or array
        From the middle of the grip to the wrench's own drive [m].
    extension : float or array
        From the wrench's drive to the fastener [m].
    angle : float or array, optional
        Between extension and wrench: 0 straight out, 90 degrees changes nothing, 180 back [rad].

    Returns
    -------
    float or array
        Setting of the wrench [N·m].

    Notes
    -----
    T_set = T·L/(L + E·cos a).

    Range
    -----
    L + E cos(angle) above zero; the hand at the middle of the grip.

    References
    ----------
    .. [1] Moment of one force about two axes; formula read in a maker's general guide (edition not stated).

    Examples
    --------
    >>> round(float(wrench_setting(50.0, 16.0, 2.0)), 2)
    44.44
    """
    require("torque", torque, "N·m", 0.0)
    setting: Real = torque * wrench_length / _arm(wrench_length, extension, angle)
    return setting


def fastener_torque(setting: Real, wrench_length: Real, extension: Real, angle: Real = 0.0) -> Real:
    """What the fastener gets when the wrench clicks behind an extension.

    Parameters
    ----------
    setting : float or array
        What the wrench is set to [N·m].
    wrench_length : float or array
        From the middle of the grip to the wrench's own drive [m].
    extension : float or array
        From the wrench's drive to the fastener [m].
    angle : float or array, optional
        Between extension and wrench: 0 straight out, 90 degrees changes nothing, 180 back [rad].

    Returns
    -------
    float or array
        Torque at the fastener [N·m].

    Notes
    -----
    T = T_set·(L + E·cos a)/L.

    Range
    -----
    L + E cos(angle) above zero; the hand at the middle of the grip.

    References
    ----------
    .. [1] Moment of one force about two axes; formula read in a maker's general guide (edition not stated).

    Examples
    --------
    >>> round(float(fastener_torque(40.0, 0.4, 0.1)), 9)
    50.0
    """
    require("setting", setting, "N·m", 0.0)
    torque: Real = setting * _arm(wrench_length, extension, angle) / wrench_length
    return torque


def _arm(wrench_length: Real, extension: Real, angle: Real) -> Real:
    require("wrench length", wrench_length, "m", 0.0, above=True)
    require("extension", extension, "m", 0.0)
    require("angle of the extension", angle, "rad", -HALF_TURN, HALF_TURN)
    arm: Real = wrench_length + extension * np.cos(angle)
    require("arm from hand to fastener", arm, "m", 0.0, above=True)
    return arm
