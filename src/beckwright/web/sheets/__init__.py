"""The papers on a page: drawn once, told while they are drawn, given singly or as a set."""
