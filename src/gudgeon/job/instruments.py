"""Measuring instruments as the bench knows them: a series of checks, and what each was set on."""

import msgspec


class Check(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True, omit_defaults=True):
    """One check of an instrument. Quantities are texts with a unit; the correction is added to a reading."""

    date: str  # plain date, ISO 8601
    correction: str
    expanded_uncertainty: str
    coverage: float = 2.0
    due: str | None = None
    by: str = ""


class Instrument(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True, omit_defaults=True):
    """A gauge. ``repeat_sd`` with ``repeat_dof`` is its own history (or its class's) of repeating itself."""

    key: str
    name: str
    tool: str  # key of a catalog tool
    step: str  # smallest step it is read to, with unit
    repeat_sd: str | None = None
    repeat_dof: float = 4.0
    expansion: float = 11.5e-6  # of the instrument [1/K]; steel
    blades: tuple[str, ...] = ()  # a feeler's blades, thin to thick
    checks: tuple[Check, ...] = ()


class Zeroing(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True, omit_defaults=True):
    """A gauge set to zero on something: a ring, a micrometer, or the mating part itself."""

    key: str
    instrument: str
    against: str  # Instrument.key of a micrometer or ring, or "part:<Part.id>" when zeroed on the mate
    at: str
    size: str = ""  # the size it was set at, with unit
    half_width: str = ""  # how well a zeroing repeats (rectangular)


class Tester(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True, omit_defaults=True):
    """A leak-down tester. No ``restrictor``: not known, and percentages compare with this tester only."""

    key: str
    name: str
    restrictor: str | None = None
    discharge: float = 0.8
    percent_only: bool = False
    gauge_match: str = ""  # the two gauges agree to this at zero flow (half-width)
    gauge_step: str = ""  # smallest step either gauge is read to
    gauge_scale: float = 0.01  # shared scale error, relative, half-width
