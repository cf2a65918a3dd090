"""The stand-up model and its search."""
