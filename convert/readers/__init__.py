"""Sources to document trees: one safe container, one reader a format."""
