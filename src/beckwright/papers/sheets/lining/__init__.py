"""The lining sheets."""
