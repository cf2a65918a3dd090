"""Search over true states: what has left each pack, and what stands."""
