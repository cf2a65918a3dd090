"""Temporary braces: where they go, what they are cut from, and how long they stay."""
