"""Rule sets as data files; read by :mod:`calculators.core.rules`."""
