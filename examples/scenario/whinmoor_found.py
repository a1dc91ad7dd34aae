"""Whinmoor 349 as it came in: checks on the bike, then everything on the bench, on a cold day."""

from examples.scenario.notebook import ALUMINIUM, Gauge, Notebook
from examples.scenario.shop import (
    BLADES,
    BORE,
    BORE_MIC,
    CALIPER,
    DEPTH,
    DIAL,
    LEVER,
    MIC_0,
    MIC_25,
    MIC_75,
    SEAT,
    SMALL_HOLE,
    SPRINGS,
    WIRES,
)

VALVES = ("1.in.1", "1.in.2", "1.ex.1", "1.ex.2")
INTAKE_1 = "1.in.1"


def on_the_bike(book: Notebook) -> None:
    """Warm first look, then a night, then stone cold."""
    book.look("turn_by_hand", "1", "", "free")
    for position, word in (("level", "in order"), ("smell", "in order"), ("colour", "burnt or black")):
        book.look("oil_look", "1", position, word)
    book.look("air_path", "1", "", "grit", "fine sand behind the filter, all the way to the throttle")
    book.look("breather_clear", "1", "", "free")
    book.look("kick_return", "1", "", "returns")
    book.look("spark_quality", "1", "", "strong")
    book.feel(
        "plug_gap", "1", "", "1.25/1.30", blades=WIRES, instrument="wires", slip_confirmed=True, note="worn"
    )
    book.text("ambient_pressure", "1", "", "98.6 kPa", instrument="barometer")
    book.text("ambient_temperature", "1", "air", "9", instrument="thermometer")
    book.text("ambient_temperature", "1", "cylinder", "78", instrument="thermometer")
    book.text("tester_zero", "1", "", "0")
    book.text("cranking_compression", "1", "", "690", instrument="compression")
    book.text("battery_cranking_volts", "1", "", "10.9", instrument="volts")
    book.text("cranking_speed", "1", "", "520", instrument="tacho")
    book.text("charging_voltage", "1", "idle", "13.4", instrument="volts")
    book.text("charging_voltage", "1", "raised", "14.3", instrument="volts")
    for phase, ohms in (("1", "0.52"), ("2", "0.53"), ("3", "0.52")):
        book.text("stator_resistance", phase, "", ohms, instrument="ohms")
    book.text("fuel_pressure", "1", "", "348 kPa", instrument="fuel-gauge")
    book.look("coolant_head_bubbles", "1", "", "none")
    for position, word in (
        ("drain", "1 fuzz"),
        ("magnet", "2 visible grains"),
        ("screen", "1 fuzz"),
        ("pleats", "1 fuzz"),
    ):
        book.look("oil_debris_grade", "1", position, word)
    book.find("Airbox lid seal pinched at the left rear corner; sand lies behind it")


def stone_cold(book: Notebook) -> None:
    """The next morning, before anything is opened."""
    book.feel(
        "valve_clearance_in",
        "1.in.1",
        "",
        "none enters",
        blades=BLADES,
        note="pressed down, turned, tried again",
    )
    book.feel("valve_clearance_in", "1.in.2", "", "0.07 goes, 0.08 does not")
    book.feel("valve_clearance_ex", "1.ex.1", "", "0.21 goes, 0.22 does not")
    book.feel("valve_clearance_ex", "1.ex.2", "", "0.22/0.23")
    book.look("decomp_return", "ex", "", "free, returns")
    book.feel("decomp_clearance", "1", "", "0.35 goes, 0.38 does not")
    for text in ("0,04", "0,05"):
        book.text("rod_play_tdc_onbike", "1", "", text, instrument="dial")
    book.text("crank_end_float_onbike", "1", "", "0.14", instrument="dial")
    book.text("output_shaft_play", "1", "", "0.05", instrument="dial")
    book.text("cam_chain_tensioner_extension", "1", "", "19.3", instrument="depth")
    book.look("coolant_pressure_hold", "1", "", "holds")
    book.text("radiator_cap_opening", "1", "", "126 kPa", instrument="cap-tester")
    book.look("water_pump_seal", "1", "", "dry")
    book.text("clutch_lever_play", "1", "", "7 mm", instrument="rule", note="owner likes it tight; told")


def strip(book: Notebook, chain: str) -> None:
    """What is read while it comes apart, still dirty."""
    book.find("Matt grey skirt from its lower edge up; ring faces matt", "pst_dust", "piston")
    book.find("Intake valve 1 dished at its face, valve 2 less so", "valve_recess_in", "valve_in")
    book.find("Head gasket print whole all round", part="head_gasket")
    for instance, true in (("1.in.1", 2.104), ("1.in.2", 2.146), ("1.ex.1", 2.398), ("1.ex.2", 2.402)):
        book.size("shim_thickness", instance, "", true, MIC_0)
    for position, word in (("wall", "score without edge"), ("top_edge", "none"), ("port_edges", "none")):
        book.look("plating_defects", "1", position, word)
    for position in ("head", "barrel", "cases"):
        book.look("head_crack_look", "1", position, "none seen")
    for guide, millimetres in (("1", "0,4"), ("2", "0,6")):
        book.text("cam_chain_guide_wear", guide, "", millimetres, instrument="depth")
    for sprocket, word in (("crank", "even"), ("in", "polished"), ("ex", "polished")):
        book.look("cam_sprocket_wear", sprocket, "", word)
    book.text("cam_chain_side_slack", "1", "", "9", instrument="rule")
    for text in ("128.20", "128,18", "128.20"):
        book.text("cam_chain_length", "1", "", text, instrument="caliper", part=chain)


def barrel(book: Notebook, piston: str) -> None:
    """Bore, piston and what goes with them: 8 °C in the shop, and written down."""
    bore = {
        "top/thrust": (81.7165, 3),
        "top/pin": (81.7110, 2),
        "middle/thrust": (81.7145, 3),
        "middle/pin": (81.7100, 2),
        "bottom/thrust": (81.7080, 2),
        "bottom/pin": (81.7060, 2),
    }
    for position, (true, times) in bore.items():
        book.size(
            "bore_diameter", "1", position, true, BORE, times=times, expands=ALUMINIUM, zeroing="on-mic"
        )
    book.size("piston_skirt_diameter", "1", "", 81.6105, MIC_75, times=3, expands=19.5e-6, part=piston)
    for text in ("0.106", "0.107", "0,105"):
        book.text(
            "piston_to_bore",
            "1",
            "",
            text,
            how="direct_clearance",
            instrument="bore-gauge",
            zeroing="on-piston",
        )
    for boss in ("1.left", "1.right"):
        for position, true in (("vertical", 18.012), ("horizontal", 18.0095)):
            book.size("piston_pin_bore", boss, position, true, BORE_MIC, expands=19.5e-6, part=piston)
    for position, true in (("left", 17.996), ("middle", 17.991), ("right", 17.996)):
        book.size("piston_pin_od", "1", position, true, MIC_0)
    for position, true in (("left/1", 18.021), ("left/2", 18.022), ("right/1", 18.021), ("right/2", 18.023)):
        book.size("small_end_bore", "1", position, true, BORE_MIC)
    book.text("piston_weight", "1", "", "238,4", instrument="scale", part=piston)


def rings(book: Notebook, ring_set: str) -> None:
    """Gaps where the bore is worn and where it is not, sides all round."""
    book.feel("ring_gap_top", "1", "worn_place", "0.60 goes, 0.65 does not", part=ring_set)
    book.feel("ring_gap_top", "1", "unworn_place", "0.55 goes, 0.60 does not", part=ring_set)
    book.feel("ring_gap_second", "1", "worn_place", "0.65 goes, 0.70 does not", part=ring_set)
    book.feel("ring_gap_second", "1", "unworn_place", "0.65/0.70", part=ring_set)
    for rail, answer in (("1.upper", "0.75/0.80"), ("1.lower", "0.80/0.85")):
        book.feel("ring_gap_oil_rail", rail, "", answer, part=ring_set)
    for position, answer in (("1", "0.08/0.09"), ("2", "0.08/0.09"), ("3", "0.09/0.10"), ("4", "0.08/0.09")):
        book.feel("ring_side_top", "1", position, answer)
    for position in ("1", "3"):
        book.feel("ring_side_second", "1", position, "0.06/0.07")
    for ring, true in (("1.top", 8.4), ("1.second", 9.1)):
        book.size("ring_free_gap", ring, "", true, CALIPER, part=ring_set)


def faces(book: Notebook) -> None:
    """Straight edge and feeler, six ways over the head."""
    for position in ("diagonal_1", "diagonal_2", "front", "rear", "left", "right"):
        book.feel("cylinder_top_flatness", "1", position, "none enters", blades=BLADES)
        answer = "0.03 goes, 0.04 does not" if position == "diagonal_2" else "none enters"
        book.feel("head_flatness", "1", position, answer, blades=BLADES)
    for position in ("diagonal_1", "diagonal_2"):
        book.feel("cylinder_base_flatness", "1", position, "none enters", blades=BLADES)


STEMS = {"1.in.1": 4.9705, "1.in.2": 4.9760, "1.ex.1": 4.9640, "1.ex.2": 4.9650}
GUIDES = {"1.in.1": 5.0210, "1.in.2": 5.0160, "1.ex.1": 5.0180, "1.ex.2": 5.0385}
PLACES = (("top/1", 0.002), ("bottom/2", 0.001))


def valves(book: Notebook, fitted: dict[str, str]) -> None:
    """Stems, guides and seats. Two slips of the pen happen here, and both are put right."""
    for valve in VALVES:
        for position, more in PLACES:
            book.size("guide_bore", valve, position, GUIDES[valve] + more, SMALL_HOLE)
    turned_round = book.text("guide_bore", "1.in.2", "middle/2", "5.061", instrument="small-hole")
    book.text(
        "guide_bore",
        "1.in.2",
        "middle/2",
        "5.016",
        instrument="small-hole",
        replaces=turned_round.id,
        note="two figures turned round",
    )
    for valve in VALVES:
        for position, more in PLACES:
            book.size("stem_od", valve, position, STEMS[valve] - abs(more) / 2, MIC_0, part=fitted[valve])
    ten_times = book.text(
        "stem_od", "1.ex.1", "middle/1", "49.64", instrument="mic-0-25", part=fitted["1.ex.1"]
    )
    book.text(
        "stem_od",
        "1.ex.1",
        "middle/2",
        "4.964",
        instrument="mic-0-25",
        part=fitted["1.ex.1"],
        replaces=ten_times.id,
        note="the point was in the wrong place",
    )
    for valve, true in (("1.in.1", 0.016), ("1.in.2", 0.006), ("1.ex.1", 0.008), ("1.ex.2", 0.006)):
        book.size("stem_runout", valve, "middle", true, LEVER, part=fitted[valve])
    for valve, true in (("1.in.1", 0.052), ("1.in.2", 0.014), ("1.ex.1", 0.012), ("1.ex.2", 0.016)):
        book.size("valve_head_runout", valve, "", true, LEVER, part=fitted[valve])
    for valve, true in (("1.in.1", 0.72), ("1.in.2", 0.92), ("1.ex.1", 1.08), ("1.ex.2", 1.10)):
        book.size("valve_margin", valve, "1", true, CALIPER, part=fitted[valve])
    for valve, word in (
        ("1.in.1", "step seen"),
        ("1.in.2", "flat and smooth"),
        ("1.ex.1", "flat and smooth"),
        ("1.ex.2", "flat and smooth"),
    ):
        book.look("valve_tip_look", valve, "", word, part=fitted[valve])


def seats(book: Notebook) -> None:
    """Blue on the faces, the seats by gauge, then solvent in the ports."""
    for valve, true in (("1.in.1", 1.72), ("1.in.2", 1.42), ("1.ex.1", 1.14), ("1.ex.2", 1.16)):
        for position in ("1", "3"):
            book.size("seat_width", valve, position, true, CALIPER)
        word = "high" if valve == INTAKE_1 else "middle third"
        book.look("seat_position", valve, "", word)
        book.size("seat_runout", valve, "", 0.042 if valve == INTAKE_1 else 0.015, SEAT)
    for valve, minutes in (("1.in.1", "0.5"), ("1.in.2", "4"), ("1.ex.1", "12"), ("1.ex.2", "10")):
        book.text("valve_seal_test", valve, "", minutes, instrument="timer")


def springs_and_cams(book: Notebook) -> None:
    """Springs, buckets, lobes and journals."""
    lengths = {"1.in.1": 39.5, "1.in.2": 39.6, "1.ex.1": 39.8, "1.ex.2": 39.7}
    for valve, true in lengths.items():
        book.size("spring_free_length", valve, "1", true, CALIPER)
        book.size("spring_squareness", valve, "", 0.5, DEPTH)
        book.size("spring_seat_load", valve, "", 160 + 5 * (true - 38), SPRINGS)
    for valve in ("1.in.1", "1.ex.1"):
        book.size("bucket_bore", valve, "top/1", 27.012, BORE_MIC)
        book.size("bucket_od", valve, "top/1", 26.978, MIC_25)
    for valve in VALVES:
        book.size("bucket_face", valve, "", 0.01 if valve != INTAKE_1 else 0.02, DIAL)
    for lobe, true in (("1.in.1", 33.93), ("1.in.2", 33.94), ("1.ex.1", 33.36), ("1.ex.2", 33.35)):
        book.size("cam_lobe_height", lobe, "", true, Gauge("mic-25-50", 0.01, 0.002, decimals=2))
    for journal in ("in.1", "ex.1"):
        book.size("cam_journal_od", journal, "1", 21.974, MIC_0)
        book.size("cam_journal_bore", journal, "1", 22.026, BORE_MIC)
    for shaft in ("in", "ex"):
        book.size("cam_runout", shaft, "", 0.01, LEVER)
        book.size("cam_end_float", shaft, "", 0.14, DIAL)


def below(book: Notebook) -> None:
    """What the open barrel shows of the bottom end, and the starter while it is in reach."""
    for position, true in (("12h", 0.018), ("3h", 0.016), ("6h", 0.018), ("9h", 0.016)):
        book.size("big_end_radial", "1", position, true, LEVER)
    for position, answer in (("1", "0.45/0.50"), ("3", "0.45/0.50")):
        book.feel("big_end_side", "1", position, answer)
    book.size("starter_brush_length", "1", "", 8.6, CALIPER)
