"""How a page is written: heads, facts, conditions in words."""

from collections.abc import Iterable, Iterator

from gudgeon.catalog import Catalog, Condition
from gudgeon.catalog.layout import Between

MADE = (
    "This page is written from the catalog by `python3 run.py docs`; "
    "edit the files under `src/gudgeon/catalog/data`."
)


Lines = Iterator[str]


def head(title: str, says: str, basis: Iterable[str] = (), made: str = MADE) -> Lines:
    yield from (f"# {title}", "", made, "", says + (f" Basis: {'; '.join(basis)}." if basis else ""), "")


def facts(*facts: tuple[str, str]) -> Lines:
    yield from (f"- {name}: {words}" for name, words in facts if words)
    yield ""


def parts_named(keys: Iterable[str], trade: Catalog) -> str:
    return ", ".join(trade.parts[key].name for key in keys)


def counted(formula: str) -> str:
    return formula if formula.replace(".", "").isdigit() else f"`{formula}`"


def span(span: tuple[float, float], unit: str) -> str:
    low, high = span
    return (f"{low:g}" if low == high else f"{low:g} to {high:g}") + (
        f" {unit}" if unit not in ("", "1") else ""
    )


def condition_words(condition: Condition, trade: Catalog) -> Lines:
    for key, wanted in condition.items():
        if isinstance(wanted, Between):
            bounds = [
                f"at least {wanted.min:g}" if wanted.min is not None else "",
                f"at most {wanted.max:g}" if wanted.max is not None else "",
            ]
            yield f"{trade.counts[key].words}: {' and '.join(filter(None, bounds))}"
            continue
        field = trade.layout_fields[key]
        words = [field.values[value] for value in ([wanted] if isinstance(wanted, str) else wanted)]
        yield f"{field.name.lower()}: {' or '.join(words)}"


def answered(condition: Condition, trade: Catalog) -> str:
    return "".join(f" · {words}" for words in condition_words(condition, trade))


def with_condition(name: str, condition: Condition, trade: Catalog) -> str:
    extra = ", ".join(condition_words(condition, trade))
    return name + (f" ({extra})" if extra else "")


def each(per: str, trade: Catalog) -> str:
    """How often there is one: "once", "for each intake valve"."""
    return "once" if per == "engine" else f"for each {trade.per[per].words}"


def cell(words: str) -> str:
    """The words as they may stand in a table."""
    return words.replace("|", "\\|").replace("\n", " ")


def capital(words: str) -> str:
    """The words with their first letter large."""
    return words[:1].upper() + words[1:]
