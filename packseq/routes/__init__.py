"""True walking routes on the plan, given what already stands."""
