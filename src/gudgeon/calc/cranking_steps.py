"""The integration behind `cranking`: one set of equations, run on floats for one case, on arrays for a sweep.

The state is the logarithm of temperature and of mass: pressure follows without a power, heat transfer is one
exponential, and neither can become negative.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np

from gudgeon.calc.domain import Array
from gudgeon.calc.gas import AIR_GAS_CONSTANT

State = tuple[Any, Any]
LOG_R = math.log(AIR_GAS_CONSTANT)


@dataclass(frozen=True, slots=True)
class Kit:
    """The few functions the equations need, for floats or for arrays."""

    exp: Callable[[Any], Any]
    log: Callable[[Any], Any]
    expm1: Callable[[Any], Any]
    sqrt: Callable[[Any], Any]
    larger: Callable[[Any, Any], Any]
    smaller: Callable[[Any, Any], Any]
    choose: Callable[[Any, Any, Any], Any]
    everywhere: Callable[[Any], bool]


def _chosen(condition: bool, yes: float, no: float) -> float:
    return yes if condition else no


FLOATS = Kit(math.exp, math.log, math.expm1, math.sqrt, max, min, _chosen, bool)
ARRAYS = Kit(np.exp, np.log, np.expm1, np.sqrt, np.maximum, np.minimum, np.where, np.all)


@dataclass(frozen=True, slots=True)
class Air:
    """Gas and surroundings: cp/R as a polynomial of T/1000 K, ambient [Pa], [K], wall [K]."""

    capacity: tuple[float, ...]
    pressure: float
    temperature: float
    wall_temperature: float

    def cp(self, temperature: Any) -> Any:
        """Heat capacity over R at a temperature."""
        scaled, total = temperature * 1e-3, self.capacity[-1]
        for coefficient in self.capacity[-2::-1]:
            total = total * scaled + coefficient
        return total

    def enthalpy(self, temperature: Any) -> Any:
        """Enthalpy over R at a temperature, the integral of `cp`."""
        scaled, total = temperature * 1e-3, self.capacity[-1] / len(self.capacity)
        for power in range(len(self.capacity) - 1, 0, -1):
            total = total * scaled + self.capacity[power - 1] / power
        return total * temperature


@dataclass(frozen=True, slots=True)
class Places:
    """What the crank's turn fixes beforehand, one value for each place visited.

    ln V, d(ln V)/d(angle), ln of heat transfer over p^a·T^b per angle; and the effective area per angle.
    """

    log_volume: list[float]
    squeeze: list[float]
    log_heat: list[float]
    area: Any


class Charge:
    """The trapped air, its equations, and the steps they are followed in."""

    def __init__(self, kit: Kit, air: Air, places: Places, exponents: tuple[float, float]) -> None:
        self.kit, self.air, self.places, self.exponents = kit, air, places, exponents
        self.leaks = bool(np.any(places.area))
        self.log_ambient = math.log(air.pressure)
        self.ambient_cp = air.cp(air.temperature)
        self.ambient_enthalpy = air.enthalpy(air.temperature)

    def slopes(self, state: State, at: int) -> State:
        """Change of ln T and ln m for a small turn of the crank."""
        kit, places, (log_t, log_m) = self.kit, self.places, state
        log_p = log_m + log_t + (LOG_R - places.log_volume[at])
        temperature, lightness = kit.exp(log_t), kit.exp(-log_m)
        cp = self.air.cp(temperature)
        gained, filling = -places.squeeze[at], 0.0  # gained: heat and flow work over m·R·T
        if places.log_heat[at] > -math.inf:
            first, second = self.exponents
            passed = kit.exp(places.log_heat[at] + first * log_p + second * log_t)
            excess = 1.0 - self.air.wall_temperature / temperature
            gained = gained - passed * excess * lightness / AIR_GAS_CONSTANT
        if self.leaks:
            leaving, carried = self.leak(log_p, temperature, cp)
            filling = -leaving * lightness
            gained = gained + filling * carried
        return gained / (cp - 1.0), filling

    def leak(self, log_p: Any, temperature: Any, cp: Any) -> State:
        """Flow per angle, below 0 when it comes in, and the energy it takes over R·T.

        The nozzle is the one of `gas`, written for the logarithm of the pressures' ratio.
        """
        kit, over = self.kit, log_p - self.log_ambient
        outward = over > 0.0
        if kit.everywhere(outward):
            return self.nozzle(over, log_p, cp, temperature), 1.0
        source = kit.choose(outward, temperature, self.air.temperature)
        capacity = kit.choose(outward, cp, self.ambient_cp)
        flow = self.nozzle(abs(over), kit.larger(log_p, self.log_ambient), capacity, source)
        inner = self.air.enthalpy(temperature) - temperature
        brought = (self.ambient_enthalpy - inner) / temperature
        return kit.choose(outward, flow, -flow), kit.choose(outward, 1.0, brought)

    def nozzle(self, fall: Any, log_upstream: Any, capacity: Any, source: Any) -> Any:
        """Flow per angle from ln of the pressures' ratio, upstream's ln p, its cp/R and temperature."""
        kit = self.kit
        grip = 1.0 / capacity  # (gamma - 1)/gamma
        critical = capacity * kit.log(1.0 + 0.5 / (capacity - 1.0))
        ratio = -kit.smaller(fall, critical)
        inner = kit.exp(2.0 * (1.0 - grip) * ratio) * -kit.expm1(grip * ratio)
        root = kit.sqrt(2.0 * capacity * inner / (AIR_GAS_CONSTANT * source))
        return self.places.area * kit.exp(log_upstream) * root

    def stepped(self, start: State, widths: Array) -> list[State]:
        """Classical fourth-order steps; the places hold three visits a step: its start, middle and end."""
        states, state = [start], start
        for index, width in enumerate(widths.tolist()):
            first = self.slopes(state, 3 * index)
            second = self.slopes(_moved(state, first, width / 2.0), 3 * index + 1)
            third = self.slopes(_moved(state, second, width / 2.0), 3 * index + 1)
            fourth = self.slopes(_moved(state, third, width), 3 * index + 2)
            mean = (
                _weighed(first[0], second[0], third[0], fourth[0]),
                _weighed(first[1], second[1], third[1], fourth[1]),
            )
            state = _moved(state, mean, width)
            states.append(state)
        return states


def _weighed(first: Any, second: Any, third: Any, fourth: Any) -> Any:
    return (first + 2.0 * (second + third) + fourth) / 6.0


def _moved(state: State, slope: State, width: float) -> State:
    return state[0] + slope[0] * width, state[1] + slope[1] * width
