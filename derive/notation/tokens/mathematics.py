"""A stretch of a line without words, to tokens: signs and differences, bars, limits, shifted figures."""

from __future__ import annotations

from collections.abc import Sequence

from derive.notation.failures import ReadError
from derive.notation.lexemes.letters import FUNCTIONS
from derive.notation.lexemes.scanning import Lexeme
from derive.notation.tokens.pieces import Piece

_KINDS = {
    "number": "NUMBER", "run": "LETTERS", "unit": "LETTERS", "plus": "PLUS", "minus": "MINUS",
    "plusminus": "PLUSMINUS", "times": "TIMES", "slash": "SLASH", "caret": "CARET", "lower": "LOWER",
    "open": "OPEN", "close": "CLOSE", "comma": "COMMA", "rel": "REL", "arrow": "REL", "root": "ROOT",
    "integral": "INTEGRAL", "fraction": "FRACTION", "primes": "PRIMES",
}
_BY_CLASS = {"or": "OR", "runs": "RUNS", "from": "FROM", "to": "TO", "over": "OVER", "rel": "REL"}
# After these a minus belongs to what follows and is no subtraction.
_SIGNED = frozenset(("ROOT", "PLUS", "MINUS", "PLUSMINUS", "NEGATE_ARGUMENT"))
_EXPECTS = frozenset(("TIMES", "SLASH", "CARET", "LOWER"))
_BEFORE_OPERAND = frozenset(("PLUS", "MINUS", "PLUSMINUS", "TIMES", "SLASH", "CARET", "LOWER", "REL", "OPEN", "COMMA",
                             "LEFT_BAR", "NEGATE", "OR", "FROM", "TO", "OVER", "ROOT", "INTEGRAL"))


def mathematics(lexemes: Sequence[Lexeme], classes: Sequence[str] | None = None) -> list[Piece]:
    """Tokens of a stretch without words."""
    return _Mathematics(lexemes, classes or ["math"] * len(lexemes)).run()


class _Mathematics:
    def __init__(self, lexemes: Sequence[Lexeme], classes: Sequence[str]) -> None:
        self.lexemes, self.classes = lexemes, classes
        self.out: list[Piece] = []
        self.bars = [0]          # open upright bars at each bracket level
        self.limits = False      # between an integral sign (or evaluated bracket) and its body

    def run(self) -> list[Piece]:
        at = 0
        while at < len(self.lexemes):
            at = self._one(at)
        return self.out

    def _put(self, kind: str, lexeme: Lexeme) -> None:
        self.out.append(Piece.make(kind, lexeme.text, lexeme.span, lexeme, lexeme.spaced))

    def _last(self) -> str:
        return self.out[-1].type if self.out else ""

    def _one(self, at: int) -> int:
        lexeme = self.lexemes[at]
        if self.classes[at] in _BY_CLASS:
            self._put(_BY_CLASS[self.classes[at]], lexeme)
            if self.classes[at] in ("from", "to", "over"):
                return self._bound(at + 1)
        elif lexeme.kind in ("raised", "lowered"):
            if lexeme.kind == "raised" and at + 1 < len(self.lexemes) and self.lexemes[at + 1].kind == "caret":
                raise ReadError(self.lexemes[at + 1].span, "brackets that say which power is meant, as in (x²)^3")
            self._shifted(lexeme)
        elif lexeme.kind == "bar":
            self._bar(at)
        elif lexeme.kind == "minus":
            self._minus(lexeme)
        elif lexeme.kind == "primes" and self._last() not in ("CLOSE",):
            raise ReadError(lexeme.span, "a name or a bracket before this prime")
        elif lexeme.kind in _KINDS:
            self._put(_KINDS[lexeme.kind], lexeme)
            self._nest(lexeme)
        else:
            raise ReadError(lexeme.span, f"a sign that is known; ‘{lexeme.text[:8]}’ is not")
        if self._last() in ("LOWER", "CARET") and self._takes_limits():
            return self._limit(at + 1)
        return at + 1

    def _nest(self, lexeme: Lexeme) -> None:
        if lexeme.kind == "open":
            self.bars.append(0)
        elif lexeme.kind == "close":
            self.bars.pop()

    def _minus(self, lexeme: Lexeme) -> None:
        last = self._last()
        if last in _EXPECTS or last == "NEGATE":
            self._put("NEGATE", lexeme)
        elif last in _SIGNED or (last == "LETTERS" and self._ends_in_function()):
            self._put("NEGATE_ARGUMENT", lexeme)
        else:
            self._put("MINUS", lexeme)

    def _ends_in_function(self) -> bool:
        """`sin -θ`: does the run before the minus end in a function's name?"""
        text = self.out[-1].value
        return any(text.endswith(name) for name in FUNCTIONS)

    def _shifted(self, lexeme: Lexeme) -> None:
        """`x²` as `x^(2)`, `∫₀ᵗ` as `∫_(0)^(t)`."""
        assert isinstance(lexeme.value, tuple)
        self._put("CARET" if lexeme.kind == "raised" else "LOWER", lexeme)
        inner = lexeme.value
        wrap = len(inner) != 1
        if wrap:
            self._put("OPEN", lexeme)
        self.out += mathematics(inner)
        if wrap:
            self._put("CLOSE", lexeme)

    def _bar(self, at: int) -> None:
        """An upright bar opens, closes, or says where the expression before it is evaluated."""
        lexeme = self.lexemes[at]
        following = self.lexemes[at + 1].kind if at + 1 < len(self.lexemes) else ""
        operand_before = bool(self.out) and self._last() not in _BEFORE_OPERAND
        if operand_before and self.bars[-1] == 0 and following in ("lower", "lowered", "caret", "raised"):
            self._put("EVALUATED", lexeme)
        elif operand_before and self.bars[-1] > 0:
            self.bars[-1] -= 1
            self._put("RIGHT_BAR", lexeme)
        else:
            self.bars[-1] += 1
            self._put("LEFT_BAR", lexeme)

    def _bound(self, at: int) -> int:
        """What follows `from`, `to` or `over`, in brackets of our own: to the next such word, relation sign or
        joining word, and no further than the term before another integral sign."""
        end, depth = at, 0
        stops = ("from", "to", "or", "runs", "rel") if self.classes[at - 1] != "over" else ("from", "to", "or", "runs")
        while end < len(self.lexemes):
            lexeme = self.lexemes[end]
            over = self.classes[at - 1] == "over"
            if depth == 0 and (self.classes[end] in stops or lexeme.kind in ("close", "comma")
                               or (lexeme.kind in ("rel", "arrow") and not (over and lexeme.text in "<≤"))):
                break
            depth += (lexeme.kind == "open") - (lexeme.kind == "close")
            end += 1
        end = self._before_integral(at, end)
        if end == at:
            return at
        self._put("OPEN", self.lexemes[at])
        self.out += mathematics(self.lexemes[at:end])
        self._put("CLOSE", self.lexemes[end - 1])
        return end

    def _before_integral(self, at: int, end: int) -> int:
        """`… from 0 to d + ∫ …`: the limit ends before the sign of the next term."""
        sign = next((i for i in range(at, end) if self.lexemes[i].kind == "integral"), end)
        while sign < end and sign > at and self.lexemes[sign].kind not in ("plus", "minus", "plusminus"):
            sign -= 1
        return sign

    def _takes_limits(self) -> bool:
        """Was the `_` or `^` just put one of an integral sign, an evaluated bracket or bar?"""
        kinds = [p.type for p in self.out[-12:]]
        if kinds[-1] == "LOWER":
            self.limits = True
            return True
        if len(kinds) > 1 and kinds[-2] in ("INTEGRAL", "EVALUATED"):
            self.limits = True
            return True
        if self.limits:
            self.limits = False
            return True
        return False

    def _limit(self, at: int) -> int:
        """A limit typed without brackets reaches to the next space: `_0^π/2 sin x`."""
        end = at
        while end < len(self.lexemes) and (end == at or not self.lexemes[end].spaced) \
                and self.lexemes[end].kind in ("number", "run", "slash", "plus", "minus", "unit"):
            end += 1
        inner = self.lexemes[at:end]
        if len(inner) < 2:
            return at
        self._put("OPEN", inner[0])
        self.out += mathematics(inner)
        self._put("CLOSE", inner[-1])
        return end
