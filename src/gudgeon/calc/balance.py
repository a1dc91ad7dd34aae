"""Balance factor of a single's crank."""

from gudgeon.calc.domain import Real, require


def reciprocating_mass(piston_set: Real, rod_small_end: Real) -> Real:
    """Mass that goes up and down.

    Parameters
    ----------
    piston_set : float or array
        Piston with rings, pin and circlips [kg].
    rod_small_end : float or array
        Share of the rod weighed at its small end, the rod level [kg].

    Returns
    -------
    float or array
        Reciprocating mass [kg].

    Notes
    -----
    m_rec = m_piston + m_small_end.

    Range
    -----
    masses above zero.

    References
    ----------
    .. [1] Two-mass rod, common practice of the trade, no source.

    Examples
    --------
    >>> round(reciprocating_mass(0.280, 0.090), 3)
    0.37
    """
    require("piston set", piston_set, "kg", 0.0, above=True)
    require("rod's small-end share", rod_small_end, "kg", 0.0)
    return piston_set + rod_small_end


def balance_factor(bob_mass: Real, rotating_mass: Real, reciprocating: Real) -> Real:
    """Share of the reciprocating mass that a crank's webs balance.

    Parameters
    ----------
    bob_mass : float or array
        Bob hung at the crankpin that makes the crank stay in any position on knife edges [kg].
    rotating_mass : float or array
        Rod's big-end share and what turns with the pin that was not fitted while weighing [kg].
    reciprocating : float or array
        Mass that goes up and down [kg].

    Returns
    -------
    float or array
        Balance factor [-].

    Notes
    -----
    b = (m_bob - m_rot)/m_rec.

    Range
    -----
    Masses at or above zero, reciprocating mass above zero; a result below zero says the webs are
    lighter than the rod.

    References
    ----------
    .. [1] Definition as the trade uses it, common practice, no source.

    Examples
    --------
    >>> round(balance_factor(0.620, 0.430, 0.370), 4)
    0.5135
    """
    require("bob mass", bob_mass, "kg", 0.0)
    require("rotating mass", rotating_mass, "kg", 0.0)
    require("reciprocating mass", reciprocating, "kg", 0.0, above=True)
    return (bob_mass - rotating_mass) / reciprocating


def bob_for_factor(factor: Real, rotating_mass: Real, reciprocating: Real) -> Real:
    """Bob that must balance a crank which is to have a balance factor.

    Parameters
    ----------
    factor : float or array
        Balance factor wanted [-].
    rotating_mass : float or array
        Rod's big-end share and what turns with the pin that was not fitted while weighing [kg].
    reciprocating : float or array
        Mass that goes up and down [kg].

    Returns
    -------
    float or array
        Bob hung at the crankpin [kg].

    Notes
    -----
    m_bob = m_rot + b·m_rec.

    Range
    -----
    factor from 0 to 1.5.

    References
    ----------
    .. [1] Inverse of the definition of the factor.

    Examples
    --------
    >>> round(bob_for_factor(0.5, 0.430, 0.370), 3)
    0.615
    """
    require("balance factor", factor, "", 0.0, 1.5)
    require("rotating mass", rotating_mass, "kg", 0.0)
    require("reciprocating mass", reciprocating, "kg", 0.0, above=True)
    return rotating_mass + factor * reciprocating
