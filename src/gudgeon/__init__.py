"""Gudgeon: the whole job of rebuilding a four-stroke off-road engine."""

__version__ = "0.1.0"
