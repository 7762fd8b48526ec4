"""What is shipped works without the repository around it."""
