"""The planting sheets."""
