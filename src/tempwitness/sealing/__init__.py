"""One archive that holds a record with all it needs to be judged again, and its verification."""
