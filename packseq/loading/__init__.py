"""The prenailer's side: which frame goes in which pack, layer by layer, so that the site lifts none twice."""
