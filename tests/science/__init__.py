"""Tests of the physics: each figure against a table, a handbook or a reference library."""
