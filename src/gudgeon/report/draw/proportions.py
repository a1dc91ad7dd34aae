"""An engine's own numbers as lengths on the sheet: where each thing of the section lies."""

import math
from dataclasses import dataclass
from typing import Literal

from gudgeon.report.draw.svg import Point

WIDTH = 390.0
MIDDLE = WIDTH / 2
DECK = 152.0  # the joint between head and cylinder
FLOOR = DECK - 66  # where the valve springs stand
COVER = 16.0


@dataclass(frozen=True, slots=True)
class EngineSection:
    """The numbers an engine is drawn from; lengths in one unit, angles (degrees) from the cylinder's axis."""

    bore: float
    stroke: float
    cooling: Literal["liquid", "air"] = "liquid"
    rockers: bool = False
    cylinders: int = 1
    intake_valves: int = 1  # of one cylinder
    exhaust_valves: int = 1
    intake_size: float | None = None  # diameter of a valve's head
    exhaust_size: float | None = None
    intake_angle: float | None = None
    exhaust_angle: float | None = None
    rod_length: float | None = None
    usual: bool = False  # bore and stroke are not known: drawn to usual proportions


@dataclass(frozen=True, slots=True)
class Valve:
    """A valve in its place: the middle of its face, the way up its stem, its half width, its port's side."""

    face: Point
    up: Point
    half: float
    side: int  # -1 intake (left), 1 exhaust (right)

    def at(self, along: float, across: float) -> Point:
        """A point ``along`` the stem from the face and ``across`` it toward the outside."""
        (x, y), (ux, uy), s = self.face, self.up, self.side
        return (x + ux * along - s * uy * across, y + uy * along + s * ux * across)


@dataclass(frozen=True, slots=True)
class Proportions:
    """The engine's numbers as lengths on the sheet."""

    half_bore: float
    throw: float
    rod: float
    intake: Valve
    exhaust: Valve
    apex: Point

    @property
    def pin(self) -> Point:
        """The gudgeon pin's centre, the piston standing at top dead centre."""
        return (MIDDLE, DECK + 0.74 * self.half_bore)

    @property
    def crank_pin(self) -> Point:
        """The crankpin's centre."""
        return (MIDDLE, self.pin[1] + self.rod)

    @property
    def crank(self) -> Point:
        """The crankshaft's centre."""
        return (MIDDLE, self.crank_pin[1] + self.throw)

    @property
    def mouth(self) -> float:
        """Where the cylinder stands on the crankcase."""
        return DECK + 2 * self.throw + 0.55 * self.half_bore

    @property
    def bottom(self) -> float:
        """Where the drawing is broken off."""
        return self.crank[1] + 16


def proportions(engine: EngineSection) -> Proportions:
    """Scale the engine to the sheet; what is not known is drawn at usual proportions."""
    scale = min(106 / engine.bore, 90 / engine.stroke)
    half = scale * engine.bore / 2
    usual = 13.0 if engine.intake_valves + engine.exhaust_valves > 2 else 24.0
    angles = [
        min(max(a if a is not None else usual, 4), 38) for a in (engine.intake_angle, engine.exhaust_angle)
    ]
    slopes = [math.tan(math.radians(angle)) for angle in angles]
    apex_x = half * (slopes[1] - slopes[0]) / (slopes[0] + slopes[1])
    apex = (MIDDLE + apex_x, DECK - (half + apex_x) * slopes[0])
    share = 0.8 if max(engine.intake_valves, engine.exhaust_valves) > 1 else 0.92
    sizes = (
        engine.intake_size or share * engine.bore / 2,
        engine.exhaust_size or 0.86 * share * engine.bore / 2,
    )
    valves = [
        _valve(side, half, apex, angle, scale * size / 2)
        for side, angle, size in zip((-1, 1), angles, sizes, strict=True)
    ]
    rod = scale * (engine.rod_length or 1.85 * engine.stroke)
    return Proportions(half, scale * engine.stroke / 2, min(rod, 190), valves[0], valves[1], apex)


def _valve(side: int, half_bore: float, apex: Point, angle: float, half: float) -> Valve:
    foot = (MIDDLE + side * half_bore, DECK)
    length = math.dist(foot, apex)
    tilt = math.radians(angle)
    face = ((foot[0] + apex[0]) / 2, (foot[1] + apex[1]) / 2)
    return Valve(face, (side * math.sin(tilt), -math.cos(tilt)), min(half, 0.47 * length), side)


def port_line(valve: Valve, steps: int = 16) -> list[Point]:
    """The middle of a port, from the valve's seat to the head's side."""
    a, b = valve.at(4, 0), valve.at(26, 0)
    d = (MIDDLE + valve.side * 106, FLOOR + 18 if valve.side < 0 else FLOOR + 30)
    c = (d[0] - valve.side * 34, d[1])
    return [_bezier(a, b, c, d, i / steps) for i in range(steps + 1)]


def _bezier(a: Point, b: Point, c: Point, d: Point, t: float) -> Point:
    w = ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3)
    return (
        w[0] * a[0] + w[1] * b[0] + w[2] * c[0] + w[3] * d[0],
        w[0] * a[1] + w[1] * b[1] + w[2] * c[1] + w[3] * d[1],
    )


def web_radius(p: Proportions) -> float:
    """How far the crank webs reach."""
    return p.throw + 28


def case_radius(p: Proportions) -> float:
    """How far the crankcase reaches, outside."""
    return max(web_radius(p) + 16, p.half_bore + 34)


def breather_height(p: Proportions) -> float:
    """Where the breather leaves the case."""
    return p.crank[1] - 0.45 * case_radius(p)
