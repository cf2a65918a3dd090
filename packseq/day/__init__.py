"""Keeping up with the day: the journal of what happened, and what is so because of it."""
