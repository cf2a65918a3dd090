"""Lifting: how many people, what the lift asks of each, and from which wind a frame is not held."""
