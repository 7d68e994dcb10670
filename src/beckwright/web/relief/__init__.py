"""Ground, cut and water in space."""
