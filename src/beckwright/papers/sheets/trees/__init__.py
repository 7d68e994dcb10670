"""The tree sheets."""
