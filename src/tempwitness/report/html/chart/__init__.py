"""The chart as a drawing within the page."""
