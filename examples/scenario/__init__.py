"""The invented shop and what its three engines went through."""
