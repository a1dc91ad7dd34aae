"""A sheet read from text: what is right comes back the same, and everything wrong is said at once."""

import json
import tomllib
from pathlib import Path

import msgspec
import pytest
from click.testing import CliRunner

from gudgeon.cli.datasheet import datasheet
from gudgeon.datasheet import (
    DataSheet,
    LimitRow,
    SheetErrors,
    TorqueRow,
    completeness,
    content_hash,
    empty_sheet,
    faults,
    read,
    read_file,
    schema,
    slips,
    with_limit,
    with_torque,
    write,
)

GOOD = """
key = "fell-pony"
name = "Fell Pony 200"
invented = true
manual = "Workshop notes"

[layout.fields]
cooling = "air"
water_pump = "none"
bore = "liner"

[layout.counts]
cylinders = 1

[geometry]
bore = "62.4 mm"
stroke = "2.25 in"
pin_offset = "-0.5 mm"

[materials.piston]
name = "cast aluminium"
expansion = "20 µm/(m·K)"

[choices]

[limits.bore_diameter]
band_low = "62.400 mm"
band_high = "62.412 mm"
service_max = "62.50 mm"
page = "3-4"

[[limits.stem_od]]
instance = "*.in.*"
service_min = "5.450 mm"

[[limits.stem_od]]
instance = "*.ex.*"
service_min = "5.430 mm"

[[limits.stem_od]]
service_min = "5.440 mm"

[capacities.oil_dry]
volume = "1,2 L"
"""


def wrong(text):
    with pytest.raises(SheetErrors) as error:
        read(text, "mine.toml")
    return [str(fault) for fault in error.value.faults]


def test_a_good_sheet_is_read_and_written_the_same():
    sheet = read(GOOD)
    assert read(write(sheet)) == msgspec.structs.replace(sheet, limits=read(write(sheet)).limits)
    assert write(read(write(sheet))) == write(sheet)
    assert content_hash(read(write(sheet))) == content_hash(sheet)


def test_the_order_of_rows_and_tables_does_not_change_the_hash():
    head, _, rest = GOOD.partition("[geometry]")
    middle, _, tail = rest.partition("[materials.piston]")
    assert content_hash(read(f"{head}[materials.piston]{tail}\n[geometry]{middle}")) == content_hash(
        read(GOOD)
    )


def test_a_changed_figure_changes_the_hash():
    assert content_hash(read(GOOD.replace("62.50", "62.51"))) != content_hash(read(GOOD))


def test_limits_come_in_si_and_the_closest_row_counts():
    sheet = read(GOOD)
    bore = sheet.limit("bore_diameter", "1", "top/thrust")
    assert (bore.upper, bore.lower, bore.page) == (62.5e-3, None, "3-4")
    assert (bore.band_low, bore.band_high) == (62.4e-3, 62.412e-3)
    assert sheet.limit("stem_od", "1.in.1", "top/1").lower == 5.45e-3
    assert sheet.limit("stem_od", "1.ex.1", "top/1").lower == 5.43e-3
    assert sheet.limit("stem_od").lower == 5.44e-3
    assert sheet.limit("squish", "1") is None
    assert sheet.size("stroke") == pytest.approx(57.15e-3)
    assert sheet.size("pin_offset") == -0.5e-3
    assert sheet.expansion("piston") == 20e-6
    assert sheet.expansion("liner") is None


def test_everything_wrong_is_said_in_one_answer():
    text = (
        GOOD.replace('service_max = "62.50 mm"', 'service_max = "62.40 mm"')
        .replace('bore = "62.4 mm"', 'bore = "62.4 kPa"')
        .replace('cooling = "air"', 'cooling = "steam"')
        .replace("cylinders = 1", "cylinders = 1.5")
        .replace('"1,2 L"', '"1,2.0 L"')
        .replace(
            "[limits.bore_diameter]",
            "[limits]\nbore_diametre = { service_max = '1 mm' }\n[limits.bore_diameter]",
        )
    )
    said = wrong(text)
    for part in (
        "mine.toml, layout, fields, cooling: “steam” was given; allowed are liquid, air.",
        "mine.toml, layout, counts, cylinders: 1.5 was given",
        "mine.toml, geometry, bore: “kPa” measures a pressure; here a length is wanted",
        "mine.toml, limits, bore_diametre: “bore_diametre” is not known here; did you mean “bore_diameter”?",
        "mine.toml, limits, bore_diameter, row 1, service_max: 62.40 mm lies below the new size",
        "mine.toml, capacities, oil_dry, volume: “1,2.0 L” has two decimal marks",
    ):
        assert any(part in fault for fault in said), part
    assert len(said) == 6


def test_wrong_shapes_do_not_hide_wrong_figures():
    said = wrong(
        GOOD.replace('page = "3-4"', "page = 34\npages = 3")
        .replace('service_max = "62.50 mm"', "service_max = 62.5")
        .replace('expansion = "20 µm/(m·K)"', 'expansion = "20 mm"')
        .replace("invented = true", 'invented = "yes"\ncolour = "red"')
    )
    assert "mine.toml, limits, bore_diameter, row 1, page: 34 was given; a text is allowed." in said
    assert any("“pages” is not known here; did you mean “page”?" in fault for fault in said)
    assert any("the bare number 62.5 was given; write a text with its unit" in fault for fault in said)
    assert any("materials, piston, expansion: “mm” measures a length" in fault for fault in said)
    assert any("invented: “yes” was given; true or false is allowed." in fault for fault in said)
    assert any("colour: “colour” is not known here" in fault for fault in said)


def test_a_wrong_entry_hides_nothing_in_its_own_row():
    said = wrong(
        """key = "a"\nname = "A"
        "odd, name" = 1
        [limits]
        squish = { service_min = 0.9 }
        bore_diameter = { band_low = "77.2 mm", band_high = "77.0 mm", service_max = 78 }
        [torques]
        head = { stages = ["30 J", 25] }
        [capacities]
        coolant = { page = "2" }"""
    )
    assert len(said) == 7
    assert any("“25 N·m”" in fault for fault in said)
    assert any("77.2 mm to 77.0 mm was given; the lower end" in fault for fault in said)
    assert any("“J” measures an energy" in fault for fault in said)
    assert not any("no limit was given" in fault for fault in said)


BAD_ROWS = [
    (
        'band_low = "2 mm"\nband_high = "1 mm"',
        "2 mm to 1 mm was given; the lower end comes first",
    ),
    (
        'service_min = "70 mm"\nservice_max = "60 mm"',
        "at least 70 mm and at most 60 mm: no size",
    ),
    ('band_low = "60 mm"\nservice_min = "61 mm"', "61 mm lies above the new size"),
    ('service_max = "-60 mm"', "below nought"),
    ('service_max = "60"', "has no unit"),
    ('page = "3"', "no limit was given"),
    ('service_max = "60 mm"\nnot_given = true', "one of the two is allowed"),
    ('instance = "2"\nservice_max = "60 mm"', "“2” is no place on this engine; its places are 1."),
    ('position = "left"\nservice_max = "60 mm"', "“left” is no position here"),
]


@pytest.mark.parametrize(("row", "says"), BAD_ROWS, ids=[says for _, says in BAD_ROWS])
def test_a_limit_that_cannot_be(row, says):
    said = wrong(f'key = "a"\nname = "A"\n[limits.bore_diameter]\n{row}\n')
    assert len(said) == 1
    assert says in said[0]
    assert "limits, bore_diameter, row 1" in said[0]


@pytest.mark.parametrize(
    ("text", "says"),
    [
        (
            '[limits.cam_journal_clearance]\nservice_min = "0.1 mm"',
            "0.1 mm was given as the least it may be; this wears the other way, so the most",
        ),
        ('[limits.bore_diameter]\nservice_min = "81.65 mm"', "so the most it may be is wanted (service_max)"),
        ('[limits.piston_to_bore]\nservice_min = "0.1 mm"', "so the most it may be is wanted (service_max)"),
        ('[limits.oil_screen]\nservice_max = "1 mm"', "judged by eye in words"),
        ('[layout.fields]\ncooling = "air"\nwater_pump = "head"', "water_pump"),
        ('[layout.fields]\ncoolant = "air"', "did you mean “cooling”?"),
        ('[choices]\ntaper_definition = "mine"', "allowed are"),
        ('[torques.NO_SUCH]\nstages = ["10 N·m"]', "not known here"),
        ('[fluids]\nbrake = "dot"', "not known here"),
        ('[leakdown]\nsupply = "6 mm"', "a pressure is wanted"),
        ("revision = 0", "1 or more is allowed"),
        ("limits = 3", "a table is allowed"),
        ('[limits]\nbore_diameter = "62 mm"', "a list is allowed"),
    ],
)
def test_other_things_that_cannot_be(text, says):
    head = "" if text.startswith("[") else text
    body = text if text.startswith("[") else ""
    said = wrong(f'key = "a"\nname = "A"\n{head}\n{body}')
    assert len(said) == 1
    assert says in said[0]


def test_a_joint_needs_a_torque_or_to_be_absent():
    from gudgeon.catalog import catalog

    joint = next(iter(catalog().torque_classes))
    for row, says in (
        ('stages = ["10 J"]', "an energy; here a torque"),
        ("absent = false", "give stages or an angle"),
        ('stages = ["10 N·m"]\non_thread = "wet"', "allowed are anti_seize, dry, greased, locker, oiled"),
    ):
        said = wrong(f'key = "a"\nname = "A"\n[torques.{joint}]\n{row}\n')
        assert len(said) == 1
        assert says in said[0]
    sheet = with_torque(empty_sheet("A"), joint, TorqueRow(stages=("10 N·m", "20 N·m"), angle="90 deg"))
    assert sheet.torques[joint][0].stages == ("10 N·m", "20 N·m")


def test_what_is_no_toml_is_said_in_one_sentence(tmp_path):
    assert "this is not TOML" in wrong("key = ")[0]
    for name, data, says in (
        ("binary.toml", b"\xff\xfe\x00", "not text in UTF-8"),
        ("large.toml", b"#" * 2_000_001, "2 MB"),
    ):
        (tmp_path / name).write_bytes(data)
        with pytest.raises(SheetErrors, match=says):
            read_file(tmp_path / name)


def test_key_and_name_are_needed():
    assert [fault.split(": ")[0] for fault in wrong("")] == ["mine.toml, key", "mine.toml, name"]
    assert "small letters" in wrong('key = "My Engine"\nname = "x"')[0]


def test_a_limit_asked_for_at_the_bench_makes_the_next_revision():
    sheet = empty_sheet("Fell Pony 200")
    assert sheet.key == "fell-pony-200"
    second = with_limit(sheet, "squish", LimitRow(band_low="0.9 mm", service_min="0.8 mm", page="5-2"))
    third = with_limit(second, "squish", LimitRow(service_min="0.7 mm"))
    assert [each.revision for each in (sheet, second, third)] == [1, 2, 3]
    assert third.limit("squish", "1", "front").lower == 0.7e-3
    assert sheet.limits == {}
    with pytest.raises(SheetErrors, match="no size is allowed by both"):
        with_limit(sheet, "squish", LimitRow(service_min="0.9 mm", service_max="0.8 mm"))


def test_an_unusual_limit_is_a_warning_and_never_refused():
    sheet = with_limit(empty_sheet("A"), "squish", LimitRow(service_min="12 mm"))
    assert faults(sheet) == ()
    assert "12 mm was given; usual is 0.3 to 3 mm" in str(slips(sheet)[0])


def test_what_is_missing_shrinks_as_it_is_given():
    sheet = empty_sheet("A")
    missing = {each.key for each in completeness(sheet, ["top_end"])}
    assert {"bore_diameter", "bore", "cooling"} <= missing
    fuller = with_limit(sheet, "bore_diameter", LimitRow(service_max="77 mm"))
    assert "bore_diameter" not in {each.key for each in completeness(fuller, ["top_end"])}
    none = with_limit(sheet, "bore_diameter", LimitRow(not_given=True))
    assert "bore_diameter" not in {each.key for each in completeness(none, ["top_end"])}
    half = with_limit(sheet, "stem_od", LimitRow(instance="*.in.*", service_min="5 mm"))
    words = next(each.words for each in completeness(half, ["head"]) if each.key == "stem_od")
    assert "exhaust valve" in words
    assert "intake" not in words


def test_the_schema_names_every_field():
    described = schema()
    assert set(described["$defs"]["DataSheet"]["properties"]) == set(DataSheet.__struct_fields__)


def test_the_command_says_everything_and_leaves_with_its_code(tmp_path: Path):
    good, bad = tmp_path / "good.toml", tmp_path / "bad.toml"
    good.write_text(GOOD, "utf-8")
    bad.write_text(GOOD.replace("62.50", "62.40").replace("1,2 L", "1,2 mm"), "utf-8")
    run = CliRunner().invoke
    answer = run(datasheet, ["check", str(good), "--scope", "top_end"])
    assert answer.exit_code == 0
    assert "Fell Pony 200, revision 1, invented for practice: in order." in answer.output
    assert "Missing for top_end:" in answer.output
    answer = run(datasheet, ["check", str(bad)])
    assert answer.exit_code == 3
    assert "2 things are wrong" in answer.output
    answer = run(datasheet, ["check", str(bad), "--json"])
    assert {fault["key"] for fault in json.loads(answer.output)["faults"]} == {"service_max", "volume"}
    assert json.loads(run(datasheet, ["check", str(good), "--json"]).output)["usable"] is True
    assert run(datasheet, ["check", str(tmp_path / "none.toml")]).exit_code == 3
    assert run(datasheet, ["check", str(good), "--scope", "everything"]).exit_code == 1
    assert run(datasheet, ["check"]).exit_code == 2
    assert json.loads(run(datasheet, ["schema"]).output)["$ref"] == "#/$defs/DataSheet"


def test_written_text_is_toml_people_can_read():
    assert tomllib.loads(write(read(GOOD)))["geometry"]["stroke"] == "2.25 in"
