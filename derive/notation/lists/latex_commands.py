"""The LaTeX commands that students paste, and the sign each one prints. A table, no behaviour."""

from __future__ import annotations

from derive.notation.lists.word_lists import words

COMMANDS = {
    "cdot": "·", "times": "×", "ast": "·", "div": "/", "pm": "±", "mp": "∓",
    "le": "≤", "leq": "≤", "leqslant": "≤", "ge": "≥", "geq": "≥", "geqslant": "≥", "lt": "<", "gt": ">",
    "ne": "≠", "neq": "≠", "approx": "≈", "simeq": "≈", "sim": "~", "equiv": "=", "propto": "∝",
    "ll": "≪", "gg": "≫", "to": "→", "rightarrow": "→", "longrightarrow": "→", "perp": "⊥",
    "Rightarrow": "⇒", "implies": "⇒", "Longrightarrow": "⇒", "therefore": "∴", "because": "∵",
    "iff": "⇔", "Leftrightarrow": "⇔",
    "infty": "∞", "partial": "∂", "int": "∫", "sqrt": "√", "surd": "√", "prime": "'",
    "circ": "°", "degree": "°", "ell": "ℓ", "hbar": "ħ",
    "sin": "sin", "cos": "cos", "tan": "tan", "cot": "cot", "sec": "sec", "csc": "csc",
    "arcsin": "arcsin", "arccos": "arccos", "arctan": "arctan", "sinh": "sinh", "cosh": "cosh",
    "tanh": "tanh", "exp": "exp", "ln": "ln", "log": "log", "max": "max", "min": "min",
    "frac": "\\frac", "dfrac": "\\frac", "tfrac": "\\frac",
    "lvert": "|", "rvert": "|", "vert": "|", "langle": "(", "rangle": ")", "lbrace": "{", "rbrace": "}",
    "dot": "\u0307", "ddot": "\u0308", "dddot": "\u20db", "hat": "\u0302", "bar": "\u0304",
    "overline": "\u0304", "tilde": "\u0303", "vec": "\u20d7", "overrightarrow": "\u20d7",
    "imath": "i", "jmath": "j", "percent": "%",
}

# Commands that only change how the page looks.
DROPPED = words("""
    left right big Big bigg Bigg bigl bigr Bigl Bigr displaystyle textstyle limits nolimits quad qquad begin end
    nonumber notag mathstrut phantom ensuremath
""")

# Commands whose braces hold words or a unit: only the words are kept.
TEXT_COMMANDS = words("""
    text textrm textit mathrm mathit rm mbox operatorname mathbf boldsymbol bm hbox
""")
