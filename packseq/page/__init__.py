"""Pages for the crew: each one HTML file that asks nothing of any network."""
