"""The reference pages of the trade, one module for each kind of page."""
