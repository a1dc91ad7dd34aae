"""What the picture of a sum needs, as plain numbers in SI; the drawing room turns them into lines."""

from dataclasses import dataclass
from typing import TypeAlias

from gudgeon.assess.diagnosis.simulated import PressureTrace


@dataclass(frozen=True, slots=True)
class HoleOnRule:
    """A leak and its equivalent hole: diameters [m]."""

    hole: float
    restrictor: float
    shown: str
    message: str


@dataclass(frozen=True, slots=True)
class CrankingCurves:
    """Cranking pressure over angle, for several leaks."""

    traces: tuple[PressureTrace, ...]
    message: str


@dataclass(frozen=True, slots=True)
class ValveGap:
    """Gap [m] over crank angle [rad], the least of it, and the gap not to go below."""

    angles: tuple[float, ...]
    gaps: tuple[float, ...]
    least_angle: float
    least_gap: float
    floor: float
    message: str


@dataclass(frozen=True, slots=True)
class FitOverHeat:
    """Interference [m] over temperature [K]; where it lets go, and the temperatures of interest."""

    temperatures: tuple[float, ...]
    interferences: tuple[float, ...]
    lets_go: float | None
    marks: tuple[tuple[str, float], ...]
    message: str


@dataclass(frozen=True, slots=True)
class CrankToTrue:
    """A pressed crank's errors: spread and twist [rad], runouts [m], their high angles [rad]."""

    spread: float
    twist: float
    left: float
    right: float
    left_high: float
    right_high: float
    spread_words: str
    twist_words: str
    message: str


@dataclass(frozen=True, slots=True)
class PreloadBand:
    """Preload [N]: expected, least, largest; and the loads it is held against."""

    least: float
    expected: float
    largest: float
    proof: float
    yields: float
    message: str


@dataclass(frozen=True, slots=True)
class ShimPlace:
    """One valve: gap before and after [m], shim before and after [m], where the new one comes from."""

    words: str
    gap_before: float
    gap_after: float
    shim_before: float
    shim_after: float
    source: str
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class ShimMoves:
    """Shims before and after."""

    places: tuple[ShimPlace, ...]
    message: str


Drawing: TypeAlias = (
    HoleOnRule | CrankingCurves | ValveGap | FitOverHeat | CrankToTrue | PreloadBand | ShimMoves
)
