"""The functions a row may be worked out by, by name: a closed list. Whoever assesses provides them.

A row with ``inputs`` is worked out from other rows, in the order named there. A row without is a reading
whose several places come to one figure.
"""

from typing import Final

FUNCTIONS: Final[dict[str, str]] = {
    "leak_percent": "from a leak-down test: pressure lost across the restrictor over supply, gauge pressures",
    "spread_of_repeats": "largest minus smallest of the repeats of the first input",
    "loss_per_hour": "the first input when last set minus now, over the engine's hours between",
    "used_per_hour": "volume added over the engine's hours between two level checks",
    "out_of_round": "from the bore readings, by the data sheet's out_of_round_definition, at each height",
    "taper": "from the bore readings, by the data sheet's taper_definition, along each axis",
    "piston_clearance": "the bore that counts (the data sheet's bore_for_clearance) minus the skirt",
    "clearance": "hole (first input, largest) minus shaft (second input, smallest) at the same place",
    "interference": "shaft (first input) minus hole (second input) at the same place; positive grips",
    "bore_from_gap_difference": "ring gap at the worn place minus at the unworn place; over pi it is bore",
    "compression_ratio": "from bore and stroke, chamber volume, deck and gasket",
    "difference": "the first input minus all the others",
    "loss_since_first": "the first recorded value of the input minus the newest",
    "intake_lobe_centre": "half of (180 degrees + closing after BDC - opening before TDC)",
    "exhaust_lobe_centre": "half of (180 degrees + opening before BDC - closing after TDC)",
    "chain_elongation": "length over pitch times links, minus one; pitch and links are asked for",
    "mean_of_opposite_pairs": "front with rear and left with right averaged: takes the piston's rock out",
    "smallest_of_opposite_pairs": "front with rear and left with right averaged; the smaller counts",
    "spread": "largest minus smallest of the row's own places",
}
