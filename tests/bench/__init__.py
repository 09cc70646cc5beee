"""Measures: `./run bench quote`."""
