"""Plans: values, file and moves."""
