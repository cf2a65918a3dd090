"""Walls of a building model in the open format IFC (ISO 16739) as frames; needs the extra ``ifc``."""
