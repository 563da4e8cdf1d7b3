"""Mathematics: MathML or Word equations to an expression tree, and braille codes from it.

parse(source) -> Expression        mathml.py (omml.py turns Word equations into MathML)
render(source, code) -> MathCells  render.py (ueb*.py, nemeth*.py)
"""
