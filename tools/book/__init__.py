"""An operator's folder as values: settings, tables, own figures, booklets and pages, every mistake told at once."""
