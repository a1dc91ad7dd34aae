"""Keys are for ever: stored jobs name rows by them."""

from gudgeon.catalog import catalog
from gudgeon.catalog.keys import frozen_keys, keys_of


def test_no_key_disappears() -> None:
    """A row may be added, reworded or ruled out; its key stays."""
    gone = frozen_keys() - set(keys_of(catalog()))
    assert not gone, f"gone from the catalog: {sorted(gone)}"


def test_every_key_is_frozen() -> None:
    """A new key is added to frozen_keys.txt in the same change."""
    new = set(keys_of(catalog())) - frozen_keys()
    assert not new, f"not yet in frozen_keys.txt: {sorted(new)}"


def test_keys_are_plain() -> None:
    """Small letters, digits and underscores: safe in an address, a file and a database."""
    for line in keys_of(catalog()):
        kind, key, *_ = line.split(" ")
        assert key.replace("_", "").isalnum(), line
        assert key == key.lower() or kind in ("words", "positions"), line
