"""The search over true states: for tight sites, where a frame may have to be set aside more than once."""
