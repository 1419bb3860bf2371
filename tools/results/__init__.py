"""What the calculators say of an operator's folder: coils, plans, sites and drills."""
