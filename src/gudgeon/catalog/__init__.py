"""What the trade knows, as rows read from files, and the layout of an engine they are worked out for."""

from gudgeon.catalog.bearing import bears_on, cylinder_of
from gudgeon.catalog.characteristic import Characteristic, Choice, Rough, RoughLimit
from gudgeon.catalog.diagnosis import Diagnosis
from gudgeon.catalog.formula import FormulaError
from gudgeon.catalog.layout import Condition, Layout, applies, completed, contradictions, count
from gudgeon.catalog.places import instances, words_for
from gudgeon.catalog.reading import CatalogErrors
from gudgeon.catalog.rows import Bag, Caution, Failure, Operation, Part, Replace, Tool, TorqueClass
from gudgeon.catalog.scopes import scopes_with_brought
from gudgeon.catalog.store import Catalog, catalog
from gudgeon.catalog.titles import part_name, part_title, position_words, title

__all__ = [
    "Bag",
    "Catalog",
    "CatalogErrors",
    "Caution",
    "Characteristic",
    "Choice",
    "Condition",
    "Diagnosis",
    "Failure",
    "FormulaError",
    "Layout",
    "Operation",
    "Part",
    "Replace",
    "Rough",
    "RoughLimit",
    "Tool",
    "TorqueClass",
    "applies",
    "bears_on",
    "catalog",
    "completed",
    "contradictions",
    "count",
    "cylinder_of",
    "instances",
    "part_name",
    "part_title",
    "position_words",
    "scopes_with_brought",
    "title",
    "words_for",
]
