"""The as-built sheets."""
