"""The same job under other choices, side by side. Never imports the search: it is handed in."""
