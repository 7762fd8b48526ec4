"""Every story of sample_records, from its files to its papers."""
