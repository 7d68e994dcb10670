"""The ground floor: what every other room stands on. Imports the standard library and numpy only."""
