"""Makes cranking.toml: the cranking cases run through Cantera's reactor network.

`python -m tests.check_values.generate_cranking` from the top folder writes it again. The reactor has a moving
wall, a wall that passes heat, and two valves, one each way, with the nozzle form written out here for
itself.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass, field
from itertools import pairwise
from pathlib import Path
from typing import Any

import cantera as ct
import tomli_w

R = 287.05
TABLE = Path(__file__).with_name("cranking.toml")
BASE: dict[str, Any] = {
    "bore": 0.088,
    "stroke": 0.0574,
    "rod_length": 0.104,
    "compression_ratio": 12.2,
    "extra_volume": 0.0,
    "ambient_pressure": 101325.0,
    "ambient_temperature": 293.15,
    "start_pressure": 101325.0,
    "start_temperature": 300.0,
    "wall_temperature": 300.0,
    "intake_closing_degrees": 60.0,
    "speed_rpm": 400.0,
    "leak_area": 0.0,
    "decompressor_area": 0.0,
    "decompressor_closing_degrees": 0.0,
    "heat": "none",
    "heat_factor": 1.0,
}
CASES: dict[str, dict[str, Any]] = {
    "tight, no heat": {},
    "small leak": {"leak_area": 2e-7, "heat": "hohenberg"},
    "middling leak": {"leak_area": 8e-7, "heat": "hohenberg"},
    "large leak": {"leak_area": 4e-6, "heat": "hohenberg"},
    "slow kick": {"leak_area": 8e-7, "heat": "hohenberg", "speed_rpm": 180.0},
    "Woschni": {"leak_area": 3e-7, "heat": "woschni", "heat_factor": 1.5},
    "constant coefficient": {"leak_area": 3e-7, "heat": "constant", "heat_factor": 300.0},
    "decompressor": {
        "leak_area": 2e-7,
        "heat": "hohenberg",
        "decompressor_area": 8e-6,
        "decompressor_closing_degrees": 60.0,
    },
    "altitude": {
        "leak_area": 4e-7,
        "heat": "hohenberg",
        "ambient_pressure": 79501.41,
        "start_pressure": 77000.0,
    },
    "cold morning, gauge hose": {
        "leak_area": 4e-7,
        "heat": "hohenberg",
        "ambient_temperature": 263.15,
        "start_temperature": 265.0,
        "wall_temperature": 263.15,
        "extra_volume": 4e-6,
    },
    "starts below ambient": {"leak_area": 2e-6, "heat": "hohenberg", "start_pressure": 85000.0},
    "constant gamma, no heat": {"gamma": 1.4, "leak_area": 5e-7},
    "constant gamma, heat": {"gamma": 1.38, "leak_area": 5e-7, "heat": "hohenberg"},
    "constant gamma, decompressor": {
        "gamma": 1.4,
        "leak_area": 1e-6,
        "heat": "woschni",
        "decompressor_area": 8e-6,
        "decompressor_closing_degrees": 45.0,
    },
}


def air() -> ct.Solution:
    """Dry air of three species, no reactions, NASA polynomials of Cantera's own file."""
    species = [one for one in ct.Species.list_from_file("air.yaml") if one.name in ("N2", "O2", "AR")]
    gas = ct.Solution(thermo="ideal-gas", species=species)
    gas.X = {"N2": 0.7812, "O2": 0.2095, "AR": 0.0093}
    return gas


def perfect(gamma: float) -> ct.Solution:
    """A gas of constant gamma with the gas constant of the model."""
    weight, capacity = ct.gas_constant / R, gamma / (gamma - 1.0) * ct.gas_constant
    return ct.Solution(
        yaml=f"""
elements: [{{symbol: Ai, atomic-weight: {weight}}}]
phases: [{{name: gas, thermo: ideal-gas, elements: [Ai], species: [Air]}}]
species:
- name: Air
  composition: {{Ai: 1}}
  thermo: {{model: constant-cp, T0: 298.15 K, h0: 0.0 J/kmol, s0: 0.0 J/kmol/K, cp0: {capacity} J/kmol/K}}
"""
    )


def gas_for(case: dict[str, Any]) -> Callable[[], ct.Solution]:
    """What makes the gas of a case."""
    return (lambda: perfect(case["gamma"])) if "gamma" in case else air


@dataclass
class Network:
    """One case as a reactor network, with time as its variable."""

    case: dict[str, Any]
    make: Callable[[], ct.Solution]
    tolerance: float = 1e-10
    trace: list[tuple[float, float, float]] = field(default_factory=list)

    def __post_init__(self) -> None:
        case = self.case
        self.speed = case["speed_rpm"] / 60.0 * 2.0 * math.pi
        self.radius, self.rod = case["stroke"] / 2.0, case["rod_length"]
        self.area = math.pi / 4.0 * case["bore"] ** 2
        self.top = self.area * case["stroke"] / (case["compression_ratio"] - 1.0) + case["extra_volume"]
        self.first = math.radians(case["intake_closing_degrees"] - 180.0)
        self.closing = -math.radians(case["decompressor_closing_degrees"])
        self._build()

    def depth(self, angle: float) -> float:
        across = self.radius * math.sin(angle)
        return self.radius * (1.0 - math.cos(angle)) + self.rod - math.sqrt(self.rod**2 - across**2)

    def velocity(self, time: float) -> float:
        angle = self.first + self.speed * time
        across = self.radius * math.sin(angle)
        arm = across + across * self.radius * math.cos(angle) / math.sqrt(self.rod**2 - across**2)
        return self.speed * arm

    def _build(self) -> None:
        case, gas, around = self.case, self.make(), self.make()
        around.TP = case["ambient_temperature"], case["ambient_pressure"]
        self.ambient_gamma = around.cp / around.cv
        self.specific = ct.gas_constant / around.mean_molecular_weight
        outside = ct.Reservoir(around, clone=False)
        gas.TP = case["start_temperature"], case["start_pressure"]
        volume = self.top + self.area * self.depth(self.first)
        self.reactor = ct.IdealGasReactor(gas, clone=False, volume=volume)
        self.piston = ct.Wall(outside, self.reactor, A=self.area)
        self.piston.velocity = lambda time: -self.velocity(time)
        self.wall = ct.Wall(self.reactor, outside, A=1.0)
        self.wall.heat_flux = self.heat
        self.leaving = ct.Valve(self.reactor, outside, K=1.0)
        self.leaving.pressure_function = self.flow_out
        self.entering = ct.Valve(outside, self.reactor, K=1.0)
        self.entering.pressure_function = self.flow_in
        self.net = ct.ReactorNet([self.reactor])
        self.net.rtol, self.net.atol = self.tolerance, 1e-14

    def heat(self, _time: float) -> float:
        case, reactor = self.case, self.reactor
        pressure, temperature, volume = reactor.phase.P, reactor.phase.T, reactor.volume
        mean = 2.0 * case["stroke"] * case["speed_rpm"] / 60.0
        form, factor = case["heat"], case["heat_factor"]
        size = {"none": 0.0, "constant": factor}.get(form, 0.0)
        if form == "hohenberg":
            size = (
                factor
                * 130.0
                * volume**-0.06
                * (pressure / 1e5) ** 0.8
                * temperature**-0.4
                * (mean + 1.4) ** 0.8
            )
        if form == "woschni":
            size = factor * 3.26 * case["bore"] ** -0.2 * (pressure / 1e3) ** 0.8 * temperature**-0.55
            size *= (2.28 * mean) ** 0.8
        surface = math.pi * case["bore"] ** 2 / 2.0 + 4.0 * volume / case["bore"]
        return size * surface * (temperature - case["wall_temperature"])

    def nozzle(self, upstream: float, downstream: float, temperature: float, gamma: float) -> float:
        opened = self.first + self.speed * self.net.time < self.closing
        area = self.case["leak_area"] + (self.case["decompressor_area"] if opened else 0.0)
        ratio = max(downstream / upstream, (2.0 / (gamma + 1.0)) ** (gamma / (gamma - 1.0)))
        powers = max(ratio ** (2.0 / gamma) - ratio ** ((gamma + 1.0) / gamma), 0.0)
        return (
            area * upstream * math.sqrt(2.0 * gamma / ((gamma - 1.0) * self.specific * temperature) * powers)
        )

    def flow_out(self, difference: float) -> float:
        if difference <= 0.0:
            return 0.0
        phase = self.reactor.phase
        return self.nozzle(phase.P, self.case["ambient_pressure"], phase.T, phase.cp / phase.cv)

    def flow_in(self, difference: float) -> float:
        if difference <= 0.0:
            return 0.0
        ambient = self.case["ambient_pressure"]
        return self.nozzle(
            ambient, self.reactor.phase.P, self.case["ambient_temperature"], self.ambient_gamma
        )

    def run(self, step_degrees: float = 0.25) -> dict[str, float]:
        """Peak, its angle, and shares of mass lost at TDC and at 60 degrees after it."""
        first_mass, at_top = self.reactor.mass, 0.0
        edges = sorted({self.first, max(self.first, self.closing), 0.0, math.radians(60.0)})
        for begin, end in pairwise(edges):
            self.net.initial_time = (begin - self.first) / self.speed
            self.net.reinitialize()
            steps = math.ceil(math.degrees(end - begin) / step_degrees)
            for index in range(1, steps + 1):
                angle = begin + (end - begin) * index / steps
                self.net.advance((angle - self.first) / self.speed)
                self.trace.append((angle, self.reactor.phase.P, self.reactor.mass))
            if end == 0.0:
                at_top = self.reactor.mass
        peak, angle = self._peak()
        return {
            "peak_pressure": peak,
            "peak_angle_degrees": math.degrees(angle),
            "share_lost_at_tdc": 1.0 - at_top / first_mass,
            "share_lost_at_end": 1.0 - self.reactor.mass / first_mass,
        }

    def _peak(self) -> tuple[float, float]:
        at = max(range(len(self.trace)), key=lambda index: self.trace[index][1])
        at = min(max(at, 1), len(self.trace) - 2)
        (a, p, _), (b, q, _), (c, r, _) = self.trace[at - 1 : at + 2]
        rise, fall = (q - p) / (b - a), (r - q) / (c - b)
        curve = (fall - rise) / (c - a)
        slope = (rise * (c - b) + fall * (b - a)) / (c - a)
        shift = -slope / (2.0 * curve)
        return q + slope * shift / 2.0, b + shift


def rows(name: str, case: dict[str, Any]) -> list[dict[str, Any]]:
    """Three checks of one case: the two airs differ by up to 0.4 % in cp(T), with one gamma by nothing."""
    found = Network(case, gas_for(case)).run()
    pressure, angle, share = (5e-5, 0.01, 2e-5) if "gamma" in case else (7e-4, 0.02, 2e-4)
    peak = {"peak_pressure": found["peak_pressure"]}
    top = {"peak_angle": [found["peak_angle_degrees"], "deg"]}
    lost = {key: found[key] for key in ("share_lost_at_tdc", "share_lost_at_end")}
    shared = {
        "of": "sum_recipes.cranking",
        "modules": ["cranking", "cranking_steps"],
        "inputs": case,
        "kind": "library",
        "source": f"Cantera {ct.__version__}, reactor network with moving wall, heat and two valves",
        "evidence": "computed with Cantera by the generator beside the table",
    }
    return [
        {"id": f"cranking, {name}: peak", **shared, "expected": peak, "rtol": pressure},
        {"id": f"cranking, {name}: angle", **shared, "expected": top, "atol": [angle, "deg"]},
        {"id": f"cranking, {name}: air lost", **shared, "expected": lost, "atol": share},
    ]


def main() -> None:
    made = [row for name, changes in CASES.items() for row in rows(name, BASE | changes)]
    TABLE.write_text(
        "# Made by generate_cranking.py beside it with Cantera's reactor network and its own NASA air.\n"
        + tomli_w.dumps({"check": made}),
        encoding="utf-8",
    )


if __name__ == "__main__":
    main()
