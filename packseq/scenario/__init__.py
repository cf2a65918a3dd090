"""The domain of a job: frames, packs, spots, crew and site."""
