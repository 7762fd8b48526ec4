"""The report as one page for a browser: no network, no script."""
