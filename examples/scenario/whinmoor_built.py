"""Whinmoor 349 put right: new parts read, seats cut, trial build, and the engine proved."""

from examples.scenario.notebook import Notebook
from examples.scenario.shop import LEVER, MIC_0, MIC_75, SEAT

INTAKE = ("1.in.1", "1.in.2")


def seats_cut(book: Notebook) -> None:
    """Both intake seats cut again, nothing lapped."""
    for valve in INTAKE:
        for position, text in (("1", "1.02"), ("3", "1,04")):
            book.text("seat_width", valve, position, text, instrument="caliper-new")
        book.look("seat_position", valve, "", "middle third")
        book.size("seat_runout", valve, "", 0.012, SEAT)
        book.text("valve_vacuum_test", valve, "", "78", instrument="vacuum")
    for valve, minutes in (("1.in.1", "15"), ("1.in.2", "15")):
        book.text("valve_seal_test", valve, "", minutes, instrument="timer")


def new_parts(book: Notebook, piston: str, ring_set: str, chain: str, fitted: dict[str, str]) -> None:
    """What came in the post is measured before it is believed."""
    book.size("piston_skirt_diameter", "1", "", 81.6565, MIC_75, times=2, expands=19.5e-6, part=piston)
    for text in ("0.058", "0.057"):
        book.text(
            "piston_to_bore",
            "1",
            "",
            text,
            how="direct_clearance",
            instrument="bore-gauge",
            zeroing="on-new-piston",
        )
    book.text("piston_weight", "1", "", "238.9", instrument="scale", part=piston)
    book.feel("ring_gap_top", "1", "unworn_place", "0.26 goes, 0.28 does not", part=ring_set)
    book.feel("ring_gap_top", "1", "worn_place", "0.28/0.30", part=ring_set)
    book.feel("ring_gap_second", "1", "unworn_place", "0.40/0.45", part=ring_set)
    book.feel("ring_gap_second", "1", "worn_place", "0.40/0.45", part=ring_set)
    for valve in INTAKE:
        book.size("stem_od", valve, "middle/1", 4.984, MIC_0, part=fitted[valve])
        book.size("valve_head_runout", valve, "", 0.008, LEVER, part=fitted[valve])
        book.look("valve_tip_look", valve, "", "flat and smooth", part=fitted[valve])
    book.text("cam_chain_length", "1", "", "127.02", instrument="caliper-new", part=chain)


def built(book: Notebook) -> None:
    """Trial build and final build."""
    for position, text in (("front", "1.02"), ("rear", "1.00"), ("left", "0.97"), ("right", "0.98")):
        book.text("squish", "1", position, text, instrument="mic-0-25")
    for position, text in (("front", "0.02"), ("rear", "0.00"), ("left", "0.01"), ("right", "0.01")):
        book.text("crown_deck", "1", position, text, instrument="dial")
    for boss in ("1.left", "1.right"):
        book.look("circlip_seat", boss, "", "fully seated")
    for lobe, opens, closes in (("1.in.1", "13.5", "45.5"), ("1.ex.1", "47.5", "11.5")):
        book.text("cam_timing_event", lobe, "opens", opens, instrument="wheel")
        book.text("cam_timing_event", lobe, "closes", closes, instrument="wheel")
    for valve, true in (("1.in.1", 1.902), ("1.in.2", 1.951)):
        book.size("shim_thickness", valve, "", true, MIC_0)
    book.text("clutch_lever_play", "1", "", "11", instrument="rule", note="as tight as the band allows")
    book.feel("valve_clearance_in", "1.in.1", "", "0.16 goes, 0.17 does not")
    book.feel("valve_clearance_in", "1.in.2", "", "0.12/0.13")
    book.feel("valve_clearance_ex", "1.ex.1", "", "0.23/0.24")
    book.feel("valve_clearance_ex", "1.ex.2", "", "0.24/0.25")
    book.feel("plug_gap", "1", "", "0.70 goes, 0.75 does not", instrument="wires")
    book.text("cam_chain_tensioner_extension", "1", "", "11.2", instrument="depth")
    for position, text in (("clutch_pulled", "5.5"), ("clutch_let_go", "7.0")):
        book.text("final_turnover", "1", position, text, instrument="beam")
    book.look("air_path", "1", "", "clean", "lid seal renewed, airbox washed out")
    book.text("oil_volume", "1", "engine", "1350", instrument="jug")
    book.text("coolant_volume", "1", "", "1100 ml", instrument="jug")


def proved(book: Notebook) -> None:
    """After the first hours."""
    book.look("oil_at_head", "1", "", "seen")
    book.look("final_torque_audit", "1", "", "no movement")
    book.text("cranking_compression", "1", "", "1010", instrument="compression")
    book.look("oil_debris_grade", "1", "drain", "1 fuzz")
    book.look("oil_debris_grade", "1", "magnet", "2 visible grains")
    for position in ("level", "smell", "colour"):
        book.look("oil_look", "1", position, "in order")
    book.text("oil_pressure_hot", "1", "", "230 kPa", instrument="oil-gauge")
    book.feel("valve_clearance_in", "1.in.1", "", "0.15 goes, 0.16 does not")
    book.feel("valve_clearance_in", "1.in.2", "", "0.12 goes, 0.13 does not")
    book.feel("valve_clearance_ex", "1.ex.1", "", "0.23/0.24")
    book.feel("valve_clearance_ex", "1.ex.2", "", "0.24/0.25")
