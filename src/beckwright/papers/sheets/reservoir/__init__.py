"""The reservoir sheet."""
