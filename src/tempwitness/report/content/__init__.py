"""What a report holds, in words and in order; each kind of file sets the same words its own way."""
