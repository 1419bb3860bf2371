"""What turns operator data and calculators into a handbook."""
