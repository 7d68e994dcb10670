"""The method and hazard sheets."""
