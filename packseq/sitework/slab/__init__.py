"""The slab as measured, and how the frames fit on it: see docs/slab.md."""
