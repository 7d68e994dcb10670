"""Build sheets and lip cards, for the crew."""
