"""The one room with tables: what was entered, kept for good, and handed on as plain job objects."""
