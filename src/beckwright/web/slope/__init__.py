"""The pages for the telephone on the slope, and what is typed there."""
