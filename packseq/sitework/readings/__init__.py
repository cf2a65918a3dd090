"""Measured values against tolerances: see docs/readings.md."""
