"""The catalog as loaded: every kind of row by key, read from its files when first asked for."""

from collections.abc import Iterable
from functools import cache, cached_property
from pathlib import Path

import msgspec

from gudgeon.catalog import layout
from gudgeon.catalog.characteristic import Characteristic
from gudgeon.catalog.diagnosis import Diagnosis, read_diagnosis
from gudgeon.catalog.reading import DATA, AnyRow, CatalogErrors, read_rows, read_tables, rows_of
from gudgeon.catalog.reasoning import Reasoning, read_reasoning
from gudgeon.catalog.rows import Bag, Caution, Failure, Operation, Part, Row, Tool, TorqueClass


class Order(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """The phases of the job in their order, and where building is not the reverse of the strip."""

    phases: dict[str, str]
    assembly_not_the_reverse_of_strip: tuple[str, ...]
    basis: tuple[str, ...]


class JobPhase(Row, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A phase of the whole job: what goes in, what is decided, what comes out, what goes wrong."""

    name: str
    inputs: str
    decisions: str
    outputs: str
    what_goes_wrong: str


class Kits(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """Groups of parts in the order of the engine, families as a customer calls them, and what kits hold."""

    groups: dict[str, str]
    families: dict[str, str]
    kits: dict[str, str]
    basis: tuple[str, ...]


class Components(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """What is measured, in the order in which an engine is opened."""

    down_the_engine: tuple[str, ...]
    basis: tuple[str, ...]


class Catalog:
    """What the trade knows. Rows are in the order of the files."""

    def __init__(self, folder: Path = DATA) -> None:
        self.folder = folder

    def _files(self, name: str) -> list[Path]:
        return sorted((self.folder / name).glob("*.toml"))

    @cached_property
    def characteristics(self) -> dict[str, Characteristic]:
        """What is measured, felt or looked at."""
        return read_rows(self._files("characteristics"), Characteristic)

    @cached_property
    def components(self) -> tuple[str, ...]:
        """What is measured, from the top of the engine down."""
        return _whole(self.folder / "components.toml", Components).down_the_engine

    def down_the_engine(self, components: Iterable[str]) -> list[str]:
        """These components, each once, in the order in which an engine is opened."""
        return sorted(set(components), key=self.components.index)

    @cached_property
    def operations(self) -> dict[str, Operation]:
        """The steps of the job."""
        names = (
            "diagnose",
            "access",
            "strip",
            "read",
            "measure",
            "decide",
            "fit",
            "assemble",
            "install",
            "prove",
        )
        return read_rows([self.folder / "operations" / f"{name}.toml" for name in names], Operation)

    @cached_property
    def order(self) -> Order:
        """Phases in their order."""
        return _whole(self.folder / "operations.toml", Order)

    @cached_property
    def parts(self) -> dict[str, Part]:
        """Parts, services and what is used up."""
        return read_rows([self.folder / "parts" / f"{group}.toml" for group in self.kits.groups], Part)

    @cached_property
    def kits(self) -> Kits:
        """Groups and families of parts, and kits."""
        return _whole(self.folder / "parts.toml", Kits)

    @cached_property
    def tools(self) -> dict[str, Tool]:
        """Tools, instruments, fixtures, senses and safety kit."""
        return read_rows(self._files("tools"), Tool)

    @cached_property
    def failures(self) -> dict[str, Failure]:
        """Patterns of failure."""
        return read_rows([self.folder / "failures.toml"], Failure)

    @cached_property
    def cautions(self) -> dict[str, Caution]:
        """Hazards in plain words."""
        return read_rows([self.folder / "cautions.toml"], Caution)

    @cached_property
    def torque_classes(self) -> dict[str, TorqueClass]:
        """Joints that are loosened and tightened."""
        return read_rows([self.folder / "joints.toml"], TorqueClass)

    @cached_property
    def bags(self) -> dict[str, Bag]:
        """Labelled bags and trays."""
        return read_rows([self.folder / "bags.toml"], Bag)

    @cached_property
    def diagnosis(self) -> Diagnosis:
        """Pre-checks, leak-down, ways out, bands and blind spots."""
        return read_diagnosis(self.folder)

    @cached_property
    def reasoning(self) -> Reasoning:
        """Symptoms, causes, and what speaks for or against which."""
        return read_reasoning(self.folder)

    @cached_property
    def job_phases(self) -> dict[str, JobPhase]:
        """The whole job, phase by phase."""
        return read_rows([self.folder / "job_phases.toml"], JobPhase)

    @property
    def holding(self) -> str:
        """How the crank is held under air, in full."""
        return self.cautions[self.diagnosis.leak_down.holding.caution].words

    @cached_property
    def layout_rows(self) -> layout.LayoutRows:
        """layout.toml, read."""
        return _layout_rows(self.folder / "layout.toml")

    @property
    def layout_fields(self) -> dict[str, layout.LayoutField]:
        """The questions about an engine."""
        return self.layout_rows.fields

    @property
    def counts(self) -> dict[str, layout.Count]:
        """How many of what."""
        return self.layout_rows.counts

    @property
    def per(self) -> dict[str, layout.PerWord]:
        """What there is one reading set for."""
        return self.layout_rows.per

    @property
    def scopes(self) -> dict[str, layout.Scope]:
        """How deep a job goes."""
        return self.layout_rows.scopes

    @property
    def facts(self) -> dict[str, layout.JobFact]:
        """What is asked about the engine as it stands."""
        return self.layout_rows.facts

    @property
    def decisions(self) -> dict[str, layout.LaterDecision]:
        """What is decided once the engine is open."""
        return self.layout_rows.decisions


@cache
def catalog() -> Catalog:
    """The trade as shipped."""
    return Catalog()


def _whole(file: Path, wanted: type[AnyRow]) -> AnyRow:
    try:
        return msgspec.convert(read_tables(file), wanted)
    except msgspec.ValidationError as wrong:
        raise CatalogErrors([f"{file.name}: {wrong}."]) from wrong


def _layout_rows(file: Path) -> layout.LayoutRows:
    tables = read_tables(file)
    kinds = {
        "fields": layout.LayoutField,
        "facts": layout.JobFact,
        "decisions": layout.LaterDecision,
        "counts": layout.Count,
        "per": layout.PerWord,
        "scopes": layout.Scope,
    }
    errors: list[str] = []
    for name, row_type in kinds.items():
        try:
            tables[name] = rows_of(tables.get(name, {}), row_type, f"{file.name}: {name}")
        except CatalogErrors as wrong:
            errors += wrong.errors
    if errors:
        raise CatalogErrors(errors)
    return msgspec.convert(tables, layout.LayoutRows)
