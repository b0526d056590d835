"""Names: one canonical spelling for each symbol, and the scope a line is read in.

`omega` and `ω` are one name, so are `x0`, `x_0` and `x₀`. Nothing here reads a line.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import lru_cache

from derive.notation.lists.word_lists import words
from derive.notation.tree import Expr
from derive.records import Symbol

# The variable of every motion; it need not be declared.
TIME = "t"

_GREEK_LETTERS = {
    "alpha": "α", "beta": "β", "gamma": "γ", "delta": "δ", "epsilon": "ε", "zeta": "ζ", "eta": "η",
    "theta": "θ", "iota": "ι", "kappa": "κ", "lambda": "λ", "mu": "μ", "nu": "ν", "xi": "ξ", "pi": "π",
    "rho": "ρ", "sigma": "σ", "tau": "τ", "upsilon": "υ", "phi": "φ", "chi": "χ", "psi": "ψ", "omega": "ω",
}
GREEK: dict[str, str] = {
    **_GREEK_LETTERS,
    **{name.capitalize(): sign.upper() for name, sign in _GREEK_LETTERS.items()},
    "varphi": "φ", "vartheta": "θ", "varepsilon": "ε", "varrho": "ρ", "lamda": "λ", "Lamda": "Λ",
}
# What is typed for a letter's name; nobody multiplies a time by a height.
SHORT_GREEK = {"th": "θ"}
_LONGEST_GREEK = max(map(len, GREEK))

# Subscripts that people write straight after a letter: vmax, Fnet, Ekin.
SUFFIXES = words("""
    max min net kin pot tot rel avg av mean ext int fric cm com eff eq crit term fin final init initial out
    start end before after top bottom mid res ref rot trans spring total left right in ave loss lost gain up down
""")
_SUBSCRIPT_DIGITS = str.maketrans("₀₁₂₃₄₅₆₇₈₉₊₋ₐₑₒₓₕₖₗₘₙₚₛₜᵢⱼᵣᵤᵥᵦᵧᵨᵩᵪ", "0123456789+-aeoxhklmnpstijruvβγρφχ")
SUBSCRIPT_SIGNS = "₀₁₂₃₄₅₆₇₈₉₊₋ₐₑₒₓₕₖₗₘₙₚₛₜᵢⱼᵣᵤᵥᵦᵧᵨᵩᵪ"
ARROW = "\u20d7"  # over a letter: a vector
_FOLDED = str.maketrans({
    "ℓ": "l", "µ": "μ", "∆": "Δ", "∑": "Σ", "ϕ": "φ", "ϑ": "θ", "ϵ": "ε", "ϱ": "ρ", "’": "'", "′": "'", "‘": "'",
    "″": "''", '"': "''", "”": "''", "‴": "'''", "\\": "",
})


@lru_cache(maxsize=8192)
def canonical(name: str) -> str:
    """The one spelling of a name: Greek as signs, one underscore before a subscript, primes last."""
    text = unicodedata.normalize("NFD", name.strip()).translate(_FOLDED)
    text = text.translate(_SUBSCRIPT_DIGITS) if not any(c in SUBSCRIPT_SIGNS for c in text) else _lowered(text)
    primes = text.count("'")
    text = text.replace("'", "").replace("{", "").replace("}", "").replace(" ", "")
    change, text = _change_sign(text)
    base, joint, subscript = text.partition("_")
    if not joint:
        base, subscript = _split_suffix(base)
        joint = "_" if subscript else ""
    elif base[-1:].isdigit() and subscript:  # `v1_x` is a component of v1
        stem, digits = _split_suffix(base)
        base, subscript = stem, digits + subscript
    base = GREEK.get(base) or SHORT_GREEK.get(base, base)
    subscript = GREEK.get(subscript, subscript)
    whole = change + base + joint + subscript + "'" * primes  # `g_` is a name of its own, beside `g`
    return unicodedata.normalize("NFC", whole)


def _lowered(text: str) -> str:
    """Unicode subscripts to an underscore and plain characters."""
    first = next(i for i, c in enumerate(text) if c in SUBSCRIPT_SIGNS)
    joint = "" if "_" in text[:first] else "_"
    return text[:first] + joint + text[first:].translate(_SUBSCRIPT_DIGITS)


def _change_sign(text: str) -> tuple[str, str]:
    """`Δp`, `Delta p`, `Deltap`: the sign of a change or of a sum (`ΣF`), and the name it is said of."""
    for sign in ("Δ", "δ", "Σ"):
        if text.startswith(sign) and len(text) > 1 and text[1] not in "_0123456789":
            return sign, text[1:]
    if text.startswith("Delta") and len(text) > 5 and text[5] != "_" and not text[5].isdigit():
        return "Δ", text[5:]
    return "", text


def _split_suffix(base: str) -> tuple[str, str]:
    """Where a subscript begins that was written without an underscore."""
    stem = base.rstrip("0123456789")
    if stem and stem != base:
        return stem, base[len(stem):]
    for size in range(1, min(len(base), _LONGEST_GREEK + 1)):
        head, tail = base[:size], base[size:]
        if tail in SUFFIXES and (len(_bare(head)) == 1 or head in GREEK):
            return head, tail
    return base, ""


def _bare(text: str) -> str:
    return "".join(c for c in text if not unicodedata.combining(c))


@dataclass(frozen=True)
class Scope:
    """What is known when a line is read.

    symbols:   declared and defined names by canonical spelling.
    labels:    labels of the lines and givens that can be cited.
    quick:     undeclared names are allowed (a working without declarations).
    previous:  the last side of the line above, for a line that starts with a relation sign.
    asked:     what the last formula above gives a name to, for a value that stands alone behind a colon.
    ratio:     the line above is about a ratio: `E2/E1 = 0.64`.
    functions: names known from earlier lines to depend on a variable: {'v': 't'}.
    free:      undeclared names are allowed in this line, as in a trial solution.
    own:       names that the line itself defines; they are in `symbols` too.
    apart:     names of Greek letters that are products of their letters here: `mu` beside `mv`.
    indexed:   letters with an index that are typed without an underscore: `vT`, which is v_T.
    euler:     e has stood for the number above: `1 - 1/e` below `e^(-b t/m)`.
    sign:      the relation sign that the line above has been left with, `ΔE = … =`.
    unended:   the line may be left with one, as another goes on from it.
    """

    symbols: Mapping[str, Symbol] = field(default_factory=dict)
    labels: frozenset[str] = frozenset()
    quick: bool = False
    previous: Expr | None = None
    asked: Expr | None = None
    ratio: bool = False
    functions: Mapping[str, str] = field(default_factory=dict)
    free: bool = False
    own: frozenset[str] = frozenset()
    apart: frozenset[str] = frozenset()
    indexed: frozenset[str] = frozenset()
    euler: bool = False
    sign: str = ""
    unended: bool = False

    def knows(self, name: str) -> bool:
        """Is the name declared or defined? The time t need not be."""
        return name in self.symbols or name == TIME

    def spelt(self, name: str) -> str:
        """The name with its index told apart, where the page types it without an underscore."""
        return f"{name[0]}_{name[1:]}" if name in self.indexed else name

    def is_new(self, name: str) -> bool:
        """Was the name unknown before this line?"""
        return not self.knows(name) or name in self.own

    def variable_of(self, name: str) -> str | None:
        """The variable a name is a function of, or None."""
        symbol = self.symbols.get(name)
        if symbol is not None and symbol.of:
            return symbol.of
        return self.functions.get(name)

    def is_vector(self, name: str) -> bool:
        symbol = self.symbols.get(name)
        return symbol is not None and symbol.vector
