"""What several tests share: inputs made from definitions, printed formulas read back."""
