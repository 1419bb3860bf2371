"""The commands of tools/handbook.py, one module each, and what they share."""
