"""Tables and drawings, returned and never printed."""
