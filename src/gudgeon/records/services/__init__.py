"""Every write, as verbs. Each opens one short transaction and is done."""
