"""What a crew does unplanned."""
