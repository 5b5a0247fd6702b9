"""SVG -> pieces: the tree, numbers, paths and shapes."""
