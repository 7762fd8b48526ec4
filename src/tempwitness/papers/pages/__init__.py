"""The packet on paper: one module for each kind of page."""
