"""Fixings: what the joins, openings and bracing walls need, what is scheduled and what was delivered."""
