"""Checks the readings of a cooked lot against a food code: met, not met or not shown."""
