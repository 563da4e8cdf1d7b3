"""Print to cells: the planner of braille modes, the seam with the contraction library."""
