"""Start and stop of the whole loop on a page."""
