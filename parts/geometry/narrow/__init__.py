"""Where a region is narrow: necks, runs, gaps and tips, exact on true arcs."""
