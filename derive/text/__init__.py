"""From the bytes of a file to a Document: its sections, and their lines with labels and reasons.

For the text around the mathematics; what stands between label and reason is read in derive.notation.
"""
