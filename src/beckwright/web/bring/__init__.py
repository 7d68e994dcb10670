"""Surveys brought in: shown first, doubts asked, kept only then."""
