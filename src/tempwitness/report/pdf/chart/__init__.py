"""The trace of a lot drawn as a chart."""
