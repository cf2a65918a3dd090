"""The house graph derived from a scenario."""
