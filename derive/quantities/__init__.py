"""Units, dimensions and the declarations of symbols.

For what a quantity is and whether a relation can be homogeneous; not for whether it is true.
"""
