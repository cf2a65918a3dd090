"""The whole job as one booklet, from the slab check to the sign-off, with hold points."""
