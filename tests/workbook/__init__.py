"""Records in workbooks: written, filled in by hand, read back, refused by cell."""
