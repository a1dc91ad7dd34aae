"""Cranking compression: what the starter or the kick makes in a cylinder that leaks."""

from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

import numpy as np

from gudgeon.calc.cranking_steps import ARRAYS, FLOATS, LOG_R, Air, Charge, Places, State
from gudgeon.calc.domain import Array, OutOfRangeError, Real, require
from gudgeon.calc.gas import AIR_GAS_CONSTANT
from gudgeon.calc.slider_crank import crank_radius_for_stroke, depth_per_angle, piston_depth

Heat = Literal["none", "constant", "hohenberg", "woschni"]

# cp/R of dry air over T/1000 K, fitted to the ideal-gas heat capacity of Lemmon and others (2000) as computed
# with CoolProp 8.0.0: within 0.06 % from 240 K to 1150 K, 0.23 % from 150 K to 1400 K.
DRY_AIR = (3.556144, -0.524408, 0.732213, 1.972473, -2.593031, 0.833479)
COLDEST, HOTTEST = 150.0, 1400.0
END = np.radians(60.0)
WIDEST_STEP = np.radians(1.5)
CALM = 0.4  # what a step may be, times the fastest rate in it, for the explicit steps to stay true
QUIET = 1e-4  # how near ambient, as a share of it, a wide open cylinder is followed
FINEST = 64  # cut finer than this, implicit steps are quicker
LARGEST_HOLE = 2e-4  # m²: a hole of 16 mm is no leak any more


@dataclass(frozen=True, slots=True)
class Cylinder:
    """Bore, stroke, rod, offset [m]; compression ratio [-]; dead volume beside it, as a gauge's hose [m³]."""

    bore: float
    stroke: float
    rod_length: float
    compression_ratio: float
    pin_offset: float = 0.0
    extra_volume: float = 0.0


@dataclass(frozen=True, slots=True)
class CrankingAir:
    """Air at intake closing [Pa], [K], surroundings [Pa], [K], and wall [K]."""

    ambient_pressure: float
    ambient_temperature: float
    start_pressure: float
    start_temperature: float
    wall_temperature: float


@dataclass(frozen=True, slots=True)
class HeatTransfer:
    """Form of the heat transfer, its factor [-], or for the constant form its coefficient [W/(m²·K)]."""

    form: Heat = "hohenberg"
    factor: float = 1.0


@dataclass(frozen=True, slots=True)
class Cranking:
    """Traces over crank angle [rad] (first axis; a sweep adds a second) and what is read from them."""

    angles: Array
    volume: Array
    pressure: Array
    temperature: Array
    mass: Array
    peak_pressure: Real
    peak_angle: Real
    mass_lost_at_tdc: Real
    mass_lost_at_end: Real
    share_lost_at_tdc: Real
    share_lost_at_end: Real


def cranking(
    cylinder: Cylinder,
    air: CrankingAir,
    *,
    intake_closing: float,
    angular_speed: float,
    leak_area: Real = 0.0,
    decompressor_area: float = 0.0,
    decompressor_closing: float = 0.0,
    heat: HeatTransfer = HeatTransfer(),
    gamma: float | None = None,
) -> Cranking:
    """Pressure, temperature and mass in a cylinder from intake closing to 60 degrees after TDC.

    Parameters
    ----------
    cylinder : Cylinder
        Bore, stroke, rod, offset [m], compression ratio [-], extra dead volume [m³].
    air : CrankingAir
        Ambient, start and wall: pressures absolute [Pa], temperatures [K].
    intake_closing : float
        Intake closing after bottom dead centre, at the lift that counts as shut [rad].
    angular_speed : float
        Speed of the crank, taken as constant [rad/s].
    leak_area : float or array, optional
        Effective area of all leaks to ambient, Cd·A; an array gives a sweep in one call [m²].
    decompressor_area : float, optional
        Effective area of the decompressor, open from intake closing [m²].
    decompressor_closing : float, optional
        Where the decompressor closes, before TDC [rad].
    heat : HeatTransfer, optional
        Form of heat transfer and its factor [-]; for the constant form the coefficient [W/(m²·K)].
    gamma : float, optional
        Constant ratio of specific heats; without it dry air's cp(T) [-].

    Returns
    -------
    Cranking
        Traces over angle [rad]: volume [m³], pressure [Pa], temperature [K], mass [kg]; peak pressure [Pa]
        and its angle [rad]; mass lost at TDC and at the end [kg] and as shares [-].

    Notes
    -----
    V = A_p·stroke/(CR - 1) + extra + A_p·depth; p = m·R·T/V; dm/dt = m_in - m_out;
    m·cv·dT/dt = -p·dV/dt - Q + m_in·(h_amb - u) - m_out·(h - u); Q = h·A_w·(T - T_wall),
    A_w = pi·B²/2 + 4·V/B, v = 2·stroke·n. Hohenberg h = f·130·V^-0.06·p_bar^0.8·T^-0.4·(v + 1.4)^0.8;
    Woschni, motored, h = f·3.26·B^-0.2·p_kPa^0.8·T^-0.55·(2.28·v)^0.8.
    Leaks are nozzles with the gamma of the gas that flows; below ambient, air flows back in.
    Left out: crevice volume, pressure in the crankcase, pumping up of a gauge's hose over several strokes,
    change of speed within the stroke, moisture and fuel.

    Range
    -----
    Compression ratio above 1, closing from 0 to 180 degrees after BDC, temperatures of the gas from 150 K to
    1400 K unless gamma is given, areas up to 200 mm².

    References
    ----------
    .. [1] G. F. Hohenberg, Advanced approaches for heat transfer calculations, SAE 790825, 1979; from memory.
    .. [2] G. Woschni, A universally applicable equation for the instantaneous heat transfer coefficient, SAE
       670931, 1967; motored form from memory.
    .. [3] E. W. Lemmon and others, Thermodynamic properties of air, J. Phys. Chem. Ref. Data 29, 2000, as in
       CoolProp 8.0.0; the whole model is checked against Cantera 3.2.0's reactor network.

    Examples
    --------
    >>> engine = Cylinder(bore=0.088, stroke=0.0574, rod_length=0.104, compression_ratio=12.2)
    >>> bench = CrankingAir(101325.0, 293.15, 101325.0, 300.0, 300.0)
    >>> case = {"intake_closing": np.radians(60.0), "angular_speed": 400.0 / 60.0 * 2.0 * np.pi}
    >>> tight = cranking(engine, bench, **case)
    >>> leaking = cranking(engine, bench, **case, leak_area=1e-6)
    >>> round(float(tight.peak_pressure) / 1e5, 2), round(float(leaking.peak_pressure) / 1e5, 2)
    (21.27, 17.68)
    """
    _require_case(cylinder, air, intake_closing, angular_speed, heat)
    require("leak area", leak_area, "m²", 0.0, LARGEST_HOLE)
    require("decompressor area", decompressor_area, "m²", 0.0, LARGEST_HOLE)
    require("decompressor closing", decompressor_closing, "rad", 0.0, np.pi)
    capacity = DRY_AIR if gamma is None else _constant_capacity(gamma)
    gas = Air(capacity, air.ambient_pressure, air.ambient_temperature, air.wall_temperature)
    turn = _Turn(cylinder, angular_speed, heat, leak_area, decompressor_area)
    first_angle = intake_closing - np.pi
    first_volume = float(turn.volume(np.array([first_angle]))[0])
    first_mass = air.start_pressure * first_volume / (AIR_GAS_CONSTANT * air.start_temperature)
    start = (float(np.log(air.start_temperature)), float(np.log(first_mass)))
    closing = -decompressor_closing if decompressor_area else first_angle
    angles, states = _integrated(turn, gas, start, first_angle, closing)
    return _read(turn, gamma, angles, states)


class _Turn:
    """What the crank's turn fixes: volume, surface, heat transfer, open areas."""

    def __init__(
        self, cylinder: Cylinder, speed: float, heat: HeatTransfer, leak: Real, decompressor: float
    ) -> None:
        self.cylinder, self.speed, self.heat = cylinder, speed, heat
        self.leak, self.decompressor = leak, decompressor
        self.piston_area = np.pi / 4.0 * cylinder.bore**2
        self.radius = crank_radius_for_stroke(cylinder.stroke, cylinder.rod_length, cylinder.pin_offset)
        self.exponents = {"hohenberg": (0.8, -0.4), "woschni": (0.8, -0.55)}.get(heat.form, (0.0, 0.0))

    def volume(self, angles: Array) -> Array:
        size = self.cylinder
        depth = piston_depth(angles, self.radius, size.rod_length, size.pin_offset)
        top = self.piston_area * size.stroke / (size.compression_ratio - 1.0) + size.extra_volume
        return np.asarray(top + self.piston_area * depth)

    def coefficient(self, volume: Array) -> Array:
        """Heat transfer coefficient over p^a·T^b, SI."""
        mean_speed = self.cylinder.stroke * self.speed / np.pi
        if self.heat.form == "hohenberg":
            return np.asarray(
                self.heat.factor * 130.0 * volume**-0.06 * 1e5**-0.8 * (mean_speed + 1.4) ** 0.8
            )
        size = self.heat.factor if self.heat.form == "constant" else 0.0
        if self.heat.form == "woschni":
            size = self.heat.factor * 3.26 * self.cylinder.bore**-0.2 * 1e3**-0.8 * (2.28 * mean_speed) ** 0.8
        return np.full_like(volume, size)

    def places(self, angles: Array, open_now: bool) -> Places:
        """All the equations need at these angles; ``open_now``: the decompressor is open."""
        volume = self.volume(angles)
        arm = depth_per_angle(angles, self.radius, self.cylinder.rod_length, self.cylinder.pin_offset)
        surface = np.pi * self.cylinder.bore**2 / 2.0 + 4.0 * volume / self.cylinder.bore
        passed = self.coefficient(volume) * surface / self.speed
        with np.errstate(divide="ignore"):  # no heat transfer is the logarithm minus infinity
            log_heat = np.log(passed)
        area = (self.leak + self.decompressor * open_now) / self.speed
        squeeze = self.piston_area * np.asarray(arm) / volume
        return Places(np.log(volume).tolist(), squeeze.tolist(), log_heat.tolist(), area)


def _integrated(
    turn: _Turn, gas: Air, start: State, first_angle: float, closing: float
) -> tuple[Array, list[State]]:
    """Through the places where something changes at once, and TDC, to the end."""
    edges = sorted({first_angle, max(first_angle, closing), 0.0, float(END)})
    angles, states = [first_angle], [start]
    for first, last in pairwise(edges):
        is_open = (first + last) / 2.0 < closing
        steps = max(1, int(np.ceil((last - first) / WIDEST_STEP - 1e-9)))
        cuts = _cuts(turn, gas, states[-1], np.linspace(first, last, steps + 1), is_open)
        method, pieces = (_implicit, steps) if cuts > FINEST else (_explicit, steps * cuts)
        nodes, found = method(turn, gas, states[-1], np.linspace(first, last, pieces + 1), is_open)
        angles += nodes[1:].tolist()
        states += found[1:]
    return np.array(angles), states


def _cuts(turn: _Turn, gas: Air, state: State, nodes: Array, is_open: bool) -> int:
    """Into how many a step is cut, so that the fastest exchange stays slow against it."""
    volume, mass = turn.volume(nodes), float(np.min(np.exp(state[1])))
    temperature = float(np.max(np.exp(state[0]))) * (volume[0] / volume) ** 0.4
    pressure = float(np.max(np.exp(state[1]))) * AIR_GAS_CONSTANT * temperature / volume
    power, root = turn.exponents
    surface = np.pi * turn.cylinder.bore**2 / 2.0 + 4.0 * volume / turn.cylinder.bore
    heat = turn.coefficient(volume) * pressure**power * temperature**root * surface
    heat_rate = heat / (mass * AIR_GAS_CONSTANT * (gas.cp(gas.temperature) - 1.0))
    area = float(np.max(turn.leak)) + turn.decompressor * is_open
    # Near ambient a nozzle answers to the root of a small difference; so much is a ten-thousandth of ambient.
    quiet = 2.0 * np.sqrt(2.0 * QUIET / (AIR_GAS_CONSTANT * gas.temperature))
    leak_rate = CALM * area / (quiet * volume)
    step = (nodes[1] - nodes[0]) / turn.speed
    return max(1, int(np.ceil(float(np.max(heat_rate + leak_rate)) * step / CALM)))


def _explicit(turn: _Turn, gas: Air, start: State, nodes: Array, is_open: bool) -> tuple[Array, list[State]]:
    middles = (nodes[:-1] + nodes[1:]) / 2.0
    visited = np.column_stack([nodes[:-1], middles, nodes[1:]]).ravel()
    places = turn.places(visited, is_open)
    lanes = np.shape(turn.leak)
    if lanes:
        start = (np.broadcast_to(start[0], lanes), np.broadcast_to(start[1], lanes))
    charge = Charge(ARRAYS if lanes else FLOATS, gas, places, turn.exponents)
    return nodes, charge.stepped(start, np.diff(nodes))


def _implicit(turn: _Turn, gas: Air, start: State, nodes: Array, is_open: bool) -> tuple[Array, list[State]]:
    """Each case by itself with SciPy's Radau, where exchange is so fast that explicit steps would crawl."""
    from scipy.integrate import solve_ivp

    leaks = np.atleast_1d(turn.leak)
    columns = []
    for index, leak in enumerate(leaks.tolist()):
        one = _Turn(turn.cylinder, turn.speed, turn.heat, leak, turn.decompressor)

        def change(angle: float, state: Array, one: _Turn = one) -> State:
            places = one.places(np.array([angle]), is_open)
            charge = Charge(FLOATS, gas, places, one.exponents)
            return charge.slopes((float(state[0]), float(state[1])), 0)

        first = [float(np.broadcast_to(part, leaks.shape)[index]) for part in start]
        span = (nodes[0], nodes[-1])
        solved = solve_ivp(change, span, first, "Radau", t_eval=nodes, rtol=1e-8, atol=1e-10)
        if not solved.success:
            raise OutOfRangeError(f"heat transfer or leak too fast to follow: {solved.message}")
        columns.append(solved.y)
    stacked = np.stack(columns, axis=-1)
    if np.ndim(turn.leak) == 0:
        stacked = stacked[..., 0]
    return nodes, [(state[0], state[1]) for state in np.moveaxis(stacked, 1, 0)]


def _read(turn: _Turn, gamma: float | None, angles: Array, states: list[State]) -> Cranking:
    shape = np.shape(turn.leak)
    log_t = np.array([np.broadcast_to(state[0], shape) for state in states])
    log_m = np.array([np.broadcast_to(state[1], shape) for state in states])
    temperature, mass = np.exp(log_t), np.exp(log_m)
    if gamma is None:
        require("temperature of the gas", temperature, "K", COLDEST, HOTTEST)
    volume = turn.volume(angles)
    over_volume = volume.reshape(-1, *[1] * len(shape))
    pressure = np.exp(log_m + log_t + LOG_R) / over_volume
    peak, peak_angle = _peak(angles, pressure)
    top = mass[int(np.argmin(np.abs(angles)))]
    return Cranking(
        angles=angles,
        volume=volume,
        pressure=pressure,
        temperature=temperature,
        mass=mass,
        peak_pressure=peak,
        peak_angle=peak_angle,
        mass_lost_at_tdc=mass[0] - top,
        mass_lost_at_end=mass[0] - mass[-1],
        share_lost_at_tdc=1.0 - top / mass[0],
        share_lost_at_end=1.0 - mass[-1] / mass[0],
    )


def _peak(angles: Array, pressure: Array) -> tuple[Real, Real]:
    """Top of the parabola through the highest value and its neighbours; the ends stay as they are."""
    at = np.argmax(pressure, axis=0)
    inner = np.clip(at, 1, len(angles) - 2)
    left, middle, right = (np.take_along_axis(pressure, (inner + k)[None], 0)[0] for k in (-1, 0, 1))
    before, after = angles[inner] - angles[inner - 1], angles[inner + 1] - angles[inner]
    rise, fall = (middle - left) / before, (right - middle) / after
    curve = (fall - rise) / (before + after)
    slope = (rise * after + fall * before) / (before + after)
    bent = (curve < 0.0) & (at == inner)
    shift = np.where(bent, -slope / np.where(bent, 2.0 * curve, 1.0), 0.0)
    peak = np.where(at == inner, middle + slope * shift / 2.0, np.max(pressure, axis=0))
    return peak[()], (angles[at] + shift)[()]


def _constant_capacity(gamma: float) -> tuple[float, ...]:
    require("gamma", gamma, "", 1.0, 2.0, above=True)
    return (gamma / (gamma - 1.0),)


def _require_case(
    cylinder: Cylinder, air: CrankingAir, closing: float, speed: float, heat: HeatTransfer
) -> None:
    require("bore", cylinder.bore, "m", 0.0, above=True)
    require("compression ratio", cylinder.compression_ratio, "", 1.0, above=True)
    require("extra volume", cylinder.extra_volume, "m³", 0.0)
    for name in ("ambient_pressure", "start_pressure"):
        require(name.replace("_", " "), getattr(air, name), "Pa", 0.0, above=True)
    for name in ("ambient_temperature", "start_temperature", "wall_temperature"):
        require(name.replace("_", " "), getattr(air, name), "K", 150.0, 1500.0)
    require("intake closing", closing, "rad", 0.0, np.pi, below=True)
    require("crank speed", speed, "rad/s", 0.0, above=True)
    require("heat transfer factor", heat.factor, "", 0.0)
