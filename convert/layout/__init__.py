"""Items to braille pages: the flow, the lines, the turns, the furniture, the volumes."""
