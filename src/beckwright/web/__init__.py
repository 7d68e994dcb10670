"""The job in a browser: pages and the answers they ask for. No arithmetic, and nothing kept but by the keeper."""
