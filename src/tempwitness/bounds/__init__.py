"""What readings prove about the time between them."""
