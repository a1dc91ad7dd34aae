"""The files read: what is wrong is told all at once: file, row, key, what was given, what is allowed."""

import shutil
from pathlib import Path

import pytest

from gudgeon.catalog import Catalog, CatalogErrors, catalog
from gudgeon.catalog.reading import DATA
from gudgeon.catalog.references import check, faults


@pytest.fixture
def copy(tmp_path: Path) -> Path:
    """The shipped files, to be spoilt."""
    return Path(shutil.copytree(DATA, tmp_path / "data"))


def _spoil(file: Path, old: str, new: str) -> None:
    text = file.read_text("utf-8")
    assert old in text
    file.write_text(text.replace(old, new, 1), "utf-8")


def test_the_shipped_catalog_is_whole() -> None:
    """Every key named by one row is found in another."""
    check(catalog())


def test_the_kinds_are_as_many_as_the_trade_has() -> None:
    """A file that is forgotten when packing would show here."""
    trade = catalog()
    assert len(trade.characteristics) >= 225
    assert len(trade.operations) == 185
    assert len(trade.parts) >= 131
    assert len(trade.tools) >= 127
    assert len(trade.failures) == 84
    assert len(trade.cautions) == 33
    assert len(trade.torque_classes) == 48
    assert len(trade.bags) == 48
    assert len(trade.job_phases) == 21


def test_every_part_is_of_a_family_that_has_a_name(copy: Path) -> None:
    _spoil(copy / "parts" / "top_end.toml", 'family = "piston"', 'family = "pistons"')
    told = [one for one in faults(Catalog(copy)) if "family" in one]
    assert told == ['parts: piston: family: "pistons" is given, and no family is called that.']


def test_every_mistake_of_a_file_in_one_answer(copy: Path) -> None:
    """A wrong word, an unknown key, a missing key, a wrong type: four sentences, not one."""
    file = copy / "characteristics" / "cylinder.toml"
    _spoil(file, 'purpose = "condemning"', 'purpose = "maybe"')
    _spoil(file, 'component = "cylinder"\nmeasured', 'colour = "red"\nmeasured')
    _spoil(file, "reads_to = 0.001", 'reads_to = "fine"')
    with pytest.raises(CatalogErrors) as caught:
        _ = Catalog(copy).characteristics
    errors = caught.value.errors
    assert len(errors) == 4
    assert any(
        'cylinder.toml: bore_diameter: purpose: "maybe" is given; allowed are setting, condemning' in one
        for one in errors
    )
    assert any('the key "colour" is not known; allowed are basis, name, component' in one for one in errors)
    assert any('bore_diameter: the key "component" is missing.' in one for one in errors)
    assert any('reads_to: "fine" is given' in one for one in errors)


def test_mistakes_of_several_files_in_one_answer(copy: Path) -> None:
    """The second file is read although the first is wrong."""
    _spoil(copy / "parts" / "head.toml", "cost = 5", "cost = 9")
    _spoil(copy / "parts" / "gearbox.toml", 'lead_time = "days"', 'lead_time = "soon"')
    with pytest.raises(CatalogErrors) as caught:
        _ = Catalog(copy).parts
    assert sorted(error.split(":")[0] for error in caught.value.errors) == ["gearbox.toml", "head.toml"]


def test_a_key_stands_once(copy: Path) -> None:
    """The same row in two files is told, not silently replaced."""
    (copy / "characteristics" / "zz.toml").write_bytes((copy / "characteristics" / "proof.toml").read_bytes())
    with pytest.raises(CatalogErrors, match="stands in another file already"):
        _ = Catalog(copy).characteristics


def test_a_file_that_is_not_toml(copy: Path) -> None:
    """The parser's place is passed on."""
    (copy / "failures.toml").write_text("[pst_dust\n", "utf-8")
    with pytest.raises(CatalogErrors, match=r"failures.toml is not TOML that can be read: .*line 1"):
        _ = Catalog(copy).failures


def test_a_mistake_in_the_layout(copy: Path) -> None:
    """layout.toml has several kinds of rows; the sentence names which."""
    _spoil(copy / "layout.toml", 'ask = "Coolant or fins?"', 'question = "?"')
    with pytest.raises(CatalogErrors) as caught:
        _ = Catalog(copy).layout_rows
    assert caught.value.errors == (
        'layout.toml: fields: cooling: the key "question" is not known; allowed are name, ask, values.',
        'layout.toml: fields: cooling: the key "ask" is missing.',
    )


@pytest.mark.parametrize(
    ("file", "old", "new", "sentence"),
    [
        (
            "operations/strip.toml",
            'step = "scope_agreed"',
            'step = "scope_agred"',
            'operations: stand_and_battery_off: follows: "scope_agred" is given, and no step is called that.',
        ),
        (
            "parts/top_end.toml",
            'quantity = "2 * cylinders"',
            'quantity = "2 * pots"',
            'parts: pin_circlips: quantity: "pots" is given, and no count is called that.',
        ),
        (
            "characteristics/cylinder.toml",
            'computed_by = "taper"',
            'computed_by = "tapr"',
            'characteristics: bore_taper: computed_by: "tapr" is given, and no function is called that.',
        ),
        (
            "characteristics/cylinder.toml",
            'applies_if = { bore = "liner" }',
            'applies_if = { bore = "brass" }',
            'characteristics: bore_look: "brass" is given, and no answer to bore is called that.',
        ),
    ],
)
def test_a_key_that_leads_nowhere(copy: Path, file: str, old: str, new: str, sentence: str) -> None:
    """Each kind of reference, spoilt once."""
    text = (copy / file).read_text("utf-8")
    assert old in text
    spoilt = new.join(text.rsplit(old, 1)) if "bore_look" in sentence else text.replace(old, new, 1)
    (copy / file).write_text(spoilt, "utf-8")
    assert sentence in tuple(faults(Catalog(copy)))


def test_every_number_has_a_plausible_range() -> None:
    """A slip is caught everywhere: each range runs upward, and goes below nothing only on a signed row."""
    for row in catalog().characteristics.values():
        if row.kind != "number":
            assert row.rough is None, row.key
            assert row.step is None, row.key
            continue
        assert row.rough is not None, row.key
        assert row.step, row.key
        assert row.rough.low < row.rough.high, row.key
        assert row.plausible is not None
        assert row.signed or row.plausible[0] >= 0, row.key
        assert row.step < row.rough.high - row.rough.low, row.key


def test_figures_reach_si_with_their_unit() -> None:
    """40 to 110 mm, read to 0.001 mm; from 55 °C, read to 1 K (0 °C is 273.15 K by the ITS-90)."""
    rows = catalog().characteristics
    bore, thermostat = rows["bore_diameter"], rows["thermostat_opening"]
    assert bore.rough is not None
    assert thermostat.rough is not None
    assert (bore.rough.low, bore.rough.high, bore.step) == (0.04, 0.11, 1e-6)
    assert (thermostat.rough.low, thermostat.step, thermostat.quantity) == (328.15, 1.0, "temperature")


def test_what_is_worked_out_has_inputs_or_a_test() -> None:
    """A derived row names its inputs, or is worked out from a leak-down test; a read row has none."""
    for row in catalog().characteristics.values():
        assert bool(row.inputs) == (row.derived and row.computed_by != "leak_percent"), row.key
        assert not row.derived or row.computed_by, row.key
        assert ("computed" in row.reads) <= row.derived, row.key


def test_words_in_order() -> None:
    """A grade's words stand best first; in the crankcase a whisper is in order, at a port it is not."""
    rows = catalog().characteristics
    debris, path = rows["oil_debris_grade"], rows["leakdown_path"]
    assert debris.in_order == debris.words[: len(debris.in_order)]
    assert path.finds_in_order("faint", "breather")
    assert not path.finds_in_order("faint", "exhaust")
    assert not path.finds_in_order("steady", "breather")
