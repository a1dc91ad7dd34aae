"""Which program wrote something down."""

from gudgeon import __version__

PROGRAM = f"Gudgeon {__version__}"
