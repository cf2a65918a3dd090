"""layout.csv: a house entered the way a plan is read, walking round it, without coordinates."""
