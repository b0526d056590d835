"""What a proof leaves behind: records that say what was used and what was done, and nothing that does it.

A certificate is complete in itself. It names the relation shown, the premises, how the pieces of the terms
are to be read as polynomials in a list of atoms, and a chain of exact polynomial identities that ends at
the relation. `derive.proof.recheck` decides whether it is one; nothing in a certificate is to be believed.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from derive.terms.signs import Known
from derive.terms.term import Term, Var

# A polynomial as written down: (coefficient, ((atom's number, exponent), …)) for each monomial.
Written = tuple[tuple[Fraction, tuple[tuple[int, int], ...]], ...]

# "O": vanishes as fast as a power of what becomes small.
Relation = Literal["=", ">", "≥", "≠", "O"]


@dataclass(frozen=True, slots=True)
class Premise:
    """`term` is 0 in every admissible state.

    how:     '' for a line as it stands; 'd/dt' (or another variable) where it is the derivative of a line,
             whose own term is then `origin`.
    always:  it holds at every instant, so where nothing but t changes in it, t may be chosen.
    """

    label: str
    term: Term
    how: str = ""
    origin: Term | None = None
    always: bool = False


@dataclass(frozen=True, slots=True)
class Facts:
    """What is declared of the variables.

    sign_of:   'positive' 'nonnegative' 'negative' 'nonpositive' 'nonzero' 'real' or 'complex'.
    known:     inequalities; a bare term is one that is not negative.
    slope_of:  the derivative of a variable along the motion, for premises that are derivatives; without it
               a variable is taken to move where one of its derivatives occurs.
    """

    sign_of: Callable[[Var], str]
    known: tuple[Known | Term, ...] = ()
    slope_of: Callable[[Var], Term] | None = None

    def inequalities(self) -> tuple[Known, ...]:
        return tuple(k if isinstance(k, Known) else Known(k, "≥") for k in self.known)


ReadingKind = Literal["root", "product", "angle", "exponent", "rotating", "same", "integrated"]


@dataclass(frozen=True, slots=True)
class Reading:
    """How one term is read in simpler ones; what `parts` and `numbers` mean depends on the kind.

    root:      `of` is the `numbers[0]`-th power of the atom `of^(1/numbers[0])`.
    product:   `of` = Π parts[k]^numbers[k], taken apart to split a root, a logarithm or a magnitude.
    angle:     `of` = Σ numbers[k]·parts[k] + numbers[-1]·π, taken apart to expand sines and cosines.
    exponent:  `of` = Σ numbers[k]·parts[k], taken apart to split an exponential.
    rotating:  `of` = parts[0] + i·parts[1], so exp(of) = exp(parts[0])·(cos parts[1] + i sin parts[1]).
    same:      `of` = numbers[0]·parts[0]: equal but for the way their arguments are written.
    integrated: the integral `of` from an antiderivative, parts[0].
    """

    kind: ReadingKind
    of: Term
    parts: tuple[Term, ...] = ()
    numbers: tuple[Fraction, ...] = ()


@dataclass(frozen=True, slots=True)
class Source:
    """Where a polynomial that is 0 comes from: the numerator of a premise, an earlier step, or the side
    relation of an atom (sin² + cos² = 1, the square of a root is its radicand)."""

    kind: Literal["premise", "step", "side"]
    index: int


@dataclass(frozen=True, slots=True)
class Quotient:
    """A term read as numerator over a product of powers."""

    num: Written
    den: tuple[tuple[Written, int], ...] = ()


@dataclass(frozen=True, slots=True)
class Factor:
    """A polynomial that is not 0 where it is used.

    sign:   by the signs of its atoms.
    shown:  because poly · times = by · (numerator of the known inequality `index`) + Σ cofactor · source, where
            `by` is not 0 by its sign. Without an inequality `index` is -1.
    """

    poly: Written
    exponent: int = 1
    reason: Literal["sign", "shown"] = "sign"
    index: int = -1
    times: Written = ()
    by: Written = ()
    parts: tuple[tuple[Source, Written], ...] = ()


@dataclass(frozen=True, slots=True)
class Step:
    """Π factors · result^power = Σ cofactor · source + rest, as polynomials: `result` is 0 where `rest` is none.

    Only the last step of a proof of an inequality has a `rest`, whose sign is then what counts.
    move:  'combine', 'substitute' (of the atom `about` by what the first source says of it), 'cancel'.
    """

    result: Written
    factors: tuple[Factor, ...]
    parts: tuple[tuple[Source, Written], ...]
    rest: Written = ()
    power: int = 1
    move: Literal["combine", "substitute", "cancel"] = "combine"
    about: int = -1


@dataclass(frozen=True, slots=True)
class Derived:
    """A premise made from an earlier one by other means than arithmetic.

    replace:  terms (v, e): the lemma numbered `lemma` shows v = e, and e is put for v in premise `source`.
    exp:      terms (w,): exp(w·τ) − 1 where τ is the term of `source`.
    at:       terms (t, t0): the term of `source`, which holds always and has only t to change, at t = t0.
    ln:       terms (a, b, k): ln a − ln b, where the term of `source` is k·(a − b).
    """

    kind: Literal["replace", "exp", "ln", "at"]
    source: int
    terms: tuple[Term, ...]
    lemma: int = -1


@dataclass(frozen=True, slots=True)
class GoalMove:
    """What is shown instead of the target, and why that is enough.

    replace: terms (v, e): the lemma shows v = e, and e is put for v.
    exp:     terms (w,): exp(w·target) − 1, w not 0.
    tan sin cos: terms (a, b, k): target is k·(a − b), both in one range where the function takes no value twice.
    """

    kind: Literal["replace", "exp", "tan", "sin", "cos"]
    terms: tuple[Term, ...]
    lemma: int = -1


@dataclass(frozen=True, slots=True)
class Series:
    """A function written as its Taylor series to a degree, with a bounded rest: about `base` where that is not 0, in
    powers of the argument over it less 1."""

    of: Term
    base: Term
    degree: int


@dataclass(frozen=True, slots=True)
class Certificate:
    """`target` stands in `relation` to 0 wherever the premises hold.

    slopes:   what the derivative of each variable along the motion is, where a premise is a derivative.
    lemmas:   certificates of v − e for the replacements, from the same premises.
    atoms:    what the atoms of the polynomials stand for.
    bounds:   for an inequality: (number of a known one, weight). What is left is the sum of these, of the
    squares:  (weight, base) and of something of one sign.
    quotients: how each premise, each derived premise and last what is shown read in those atoms.
    small:    for "O": what goes to 0 (1) or beyond all bounds (-1), the rest held; `order` is the power of it.
    """

    target: Term
    relation: Relation
    premises: tuple[Premise, ...]
    signs: tuple[tuple[Var, str], ...] = ()
    known: tuple[Known, ...] = ()
    slopes: tuple[tuple[Var, Term], ...] = ()
    lemmas: tuple[Certificate, ...] = ()
    derived: tuple[Derived, ...] = ()
    goal: tuple[GoalMove, ...] = ()
    readings: tuple[Reading, ...] = ()
    atoms: tuple[Term, ...] = ()
    quotients: tuple[Quotient, ...] = ()
    steps: tuple[Step, ...] = ()
    bounds: tuple[tuple[int, Written], ...] = ()
    squares: tuple[tuple[Written, Written], ...] = ()
    small: tuple[tuple[Var, int], ...] = ()
    order: int = 0
    series: tuple[Series, ...] = ()

    @property
    def labels(self) -> tuple[str, ...]:
        """The labels of the premises it uses."""
        return tuple(dict.fromkeys(p.label for p in self.premises))
