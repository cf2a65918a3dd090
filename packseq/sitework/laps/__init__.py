"""The laps after standing: bottom plates, internal walls, corners, junctions, top plates, nailing off."""
