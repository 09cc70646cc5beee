"""Measures: `./run bench learning`. Simulated firms, and what the labour model makes of them."""
