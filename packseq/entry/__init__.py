"""Getting a house in: from tables, from a workbook, from a building model, from nothing."""
