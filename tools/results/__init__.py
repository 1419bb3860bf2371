"""What the calculators say of an operator's folder: coils, coil plans, sites and drills."""
