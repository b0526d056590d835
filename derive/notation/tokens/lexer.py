"""The lexer of the grammar: a typed line, and a scope, to the tokens that `grammar/words.lark` lists.

Words are trimmed from the segments here, and each joint with its words becomes one SEPARATOR.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from derive.notation.failures import ReadError, unknown_name
from derive.notation.lexemes.scanning import Lexeme
from derive.notation.lists.unit_names import unit_named
from derive.notation.lists.vocabulary import MEANING_A_SIGN, OPENING
from derive.notation.names import Scope, canonical
from derive.notation.tokens.entries import Entry, is_relation, place
from derive.notation.tokens.mathematics import mathematics
from derive.notation.tokens.operations import Head, head_of
from derive.notation.tokens.pieces import Piece
from derive.notation.tokens.segments import Segment, segments_of
from derive.notation.tokens.worded import known_by_words, with_worded_sides
from derive.notation.tokens.words import entries_of
from derive.notation.tree import Span


@dataclass(frozen=True, slots=True)
class Joint:
    """What stands between two statements: the joining word as typed, and any words around it."""

    word: str
    words: str = ""
    colon: bool = False
    listing: bool = False   # only a comma or `and`


@dataclass(frozen=True, slots=True)
class Tokens:
    """The tokens of a line, the operation at its head, and the words at either end."""

    tokens: tuple[Piece, ...]
    head: Head


def line_tokens(lexemes: list[Lexeme], scope: Scope, line: str) -> Tokens:
    """The pieces that the grammar of a line is asked of, and what stands before them."""
    entries = known_by_words(entries_of(lexemes, scope), scope)
    head, rest = head_of(entries, scope, line)
    cut = _tried_below(segments_of(rest))
    if _tells(cut, scope):
        whole = place(rest)
        words = line[whole.start:whole.end]
        return Tokens((Piece.make("SEPARATOR", words, whole, Joint("", words)),), head)
    colons = _before_colons(cut)
    segments: list[Segment] = []
    for segment, colon in zip(cut, colons, strict=True):
        small = _small_without_colon(segment)
        if small is not None:
            segments.append(_trimmed(small, scope))
        listed = bool(segments) and segments[-1].small and segment.opening is None  # for small θ and φ: …
        segments.append(_trimmed(segment, scope, colon and not listed))
    tokens: list[Piece] = []
    pending: list[Entry] = []
    for segment in segments:
        pending += segment.before + segment.lead
        if not segment.entries:
            pending += segment.trail
            continue
        if pending:
            tokens.append(_separator(pending, line, _is_headed(tokens)))
        elif tokens and segment.opening is None:
            place_between = Span(segment.entries[0].lexeme.span.start, segment.entries[0].lexeme.span.start)
            tokens.append(Piece.make("SEPARATOR", "", place_between, Joint("", "", False, True)))
        pending = list(segment.trail)
        if segment.opening is not None:
            word = "small" if segment.small else segment.opening.lexeme.text.lower()
            tokens.append(Piece.make("OPENER", word, segment.opening.lexeme.span))
        tokens += mathematics([e.lexeme for e in segment.entries], [e.kind for e in segment.entries])
    if pending:
        tokens.append(_separator(pending, line))
    return Tokens(tuple(tokens), head)


def _before_colons(segments: Sequence[Segment]) -> list[bool]:
    """Which segments stand before a colon: next before it, or before others there that are words (`r1, r2 on an
    ellipse: …`) or tell when (`v after 3 s: …`)."""
    out = [False] * len(segments)
    for at in range(len(segments) - 2, -1, -1):
        following = segments[at + 1]
        wordy = any(e.kind in ("prose", "strange") for e in following.entries) and not any(
            map(is_relation, following.entries))
        when = following.opening is not None and len(segments[at].entries) == 1
        out[at] = any(e.lexeme.kind == "colon" for e in following.before) or ((wordy or when) and out[at + 1])
    return out


def _tried_below(segments: list[Segment]) -> list[Segment]:
    """`try complex: x = X e^(i ω t)`: what is tried stands behind the colon, with words before it."""
    out: list[Segment] = []
    for segment in segments:
        head = out[-1] if out else None
        if head is not None and head.opening is not None and segment.opening is None and OPENING.get(
            head.opening.lexeme.text.lower()) == "try" and not any(map(is_relation, head.entries)) and any(
            e.lexeme.kind == "colon" for e in segment.before
        ):
            segment.before, segment.opening = head.before + head.entries + segment.before, head.opening
            out.pop()
        out.append(segment)
    return out


def _is_headed(tokens: Sequence[Piece]) -> bool:
    """Does a line begin with words and a colon?"""
    joint = tokens[0].payload if tokens and tokens[0].type == "SEPARATOR" else None
    return isinstance(joint, Joint) and joint.colon and bool(joint.words)


def _separator(entries: list[Entry], line: str, headed: bool = False) -> Piece:
    """One token for a joint and the words around it. headed: the line begins with words and a colon, so that of `dry:
    μ = 0.7, wet: μ = 0.3` the second colon is that of the word before it."""
    joints = [e for e in entries if e.kind == "join" or (e.kind == "math"
              and e.lexeme.kind in ("comma", "colon", "semicolon", "stop", "join"))]
    span = place(entries)
    words = " ".join(_stretches(entries, joints, line))
    word = ""
    for before, e in zip((None, *joints), joints, strict=False):
        # The letters and stops of `i.e.` are one word.
        apart = before is not None and (
            before.lexeme.span.end < e.lexeme.span.start or "stop" not in (before.lexeme.kind, e.lexeme.kind))
        word += (" " if apart else "") + line[e.lexeme.span.start:e.lexeme.span.end]
    listing = not words and all(e.lexeme.kind == "comma" or e.lexeme.text.lower() == "and" for e in joints)
    colon = any(e.lexeme.kind == "colon" for e in joints)
    kinds = [e.lexeme.kind for e in joints]
    if headed and words and kinds in (["comma", "colon"], ["semicolon", "colon"]):
        colon, word = False, word[0]
    if words and kinds in (["colon", "comma"], ["colon", "semicolon"]):
        word = word[0]  # `F = 12 N: it slips, f = …`
    return Piece.make("SEPARATOR", word or words, span, Joint(word, words, colon, listing))


def _stretches(entries: list[Entry], joints: list[Entry], line: str) -> Iterator[str]:
    """The words between the joints, each stretch as typed."""
    stretch: list[Entry] = []
    for entry in [*entries, None]:
        if entry is not None and not any(entry is joint for joint in joints):
            stretch.append(entry)
        elif stretch:
            typed = place(stretch)
            yield line[typed.start:typed.end]
            stretch = []


# --- words at the ends of a segment ----------------------------------------------------------------------


def _trimmed(segment: Segment, scope: Scope, followed_by_colon: bool = False) -> Segment:
    """The same segment with the words before and after its mathematics set apart.

    What stands before a colon without a relation only announces what follows: `sin ωt: …`.
    """
    entries = segment.entries
    if _regime(segment, scope):
        return segment
    relations = [i for i, e in enumerate(entries) if is_relation(e)]
    words = [e for e in entries if e.kind in ("prose", "strange", "small")]
    ranged = any(e.kind == "runs" for e in entries)
    if not relations and not ranged:
        _no_trial_of_nothing(segment, words)
        if words or segment.opening is not None or followed_by_colon:
            _all_words(segment)
        return segment
    if words and not any(e.kind == "math" and not is_relation(e) for e in entries):
        _all_words(segment)
        return segment
    if relations:
        entries = segment.entries = with_worded_sides(entries, relations[0], relations[-1], scope)
        relations = [i for i, e in enumerate(entries) if is_relation(e)]
    first, last = (relations[0], relations[-1]) if relations else (len(entries) - 1, len(entries) - 1)
    for entry in entries[first:last]:
        if entry.kind in ("prose", "strange", "small"):
            raise _word_inside(entry, scope)
    start = _end_of_lead(entries, first, scope)
    end = _start_of_trail(entries, last, scope) if relations else len(entries)
    segment.lead, segment.entries, segment.trail = entries[:start], entries[start:end], entries[end:]
    if segment.opening is not None and segment.opening.lexeme.text.lower() in ("as", "in", "lim"):
        if not any(e.lexeme.kind == "arrow" for e in segment.entries) and not ranged:
            segment.lead, segment.opening = [segment.opening, *segment.lead], None
    elif segment.opening is not None and any(e.kind == "small" for e in segment.lead):
        # `for small angles sin θ = θ`: nothing is named that is small; the words are kept
        segment.lead, segment.opening = [segment.opening, *segment.lead], None
    elif segment.opening is not None and segment.lead:
        # `let the speed v = …`: the words belong to the opening
        segment.before, segment.lead = segment.before + segment.lead, []
    return segment


def _no_trial_of_nothing(segment: Segment, words: list[Entry]) -> None:
    """`try X cos ω t` says what is tried, but not for what."""
    opening = segment.opening.lexeme.text.lower() if segment.opening is not None else ""
    if OPENING.get(opening) == "try" and len(segment.entries) > 1 and not words:
        raise ReadError(place(segment.entries), "what it is tried for and an equals sign before it, as in ‘try x = …’")


# A sentence has at least so many words; two or three may be a name of several words, or a slip of the keyboard.
_SENTENCE = 4


def _tells(segments: Sequence[Segment], scope: Scope) -> bool:
    """Is a line a sentence: nothing related to anything in it, and more words than letters and amounts?"""
    entries = [e for s in segments for e in s.entries]
    if any(is_relation(e) or e.kind in ("runs", "small") for e in entries):
        return False
    wordy = [e for e in entries if e.kind in ("prose", "strange") or _is_long_word(e, scope)]
    others = [e for e in entries if e.lexeme.kind in ("run", "number") and not any(e is w for w in wordy)]
    measured = sum(e.lexeme.kind == "number" and _is_in_units(after) for e, after in pairwise(entries))
    # `and`, `at right angles`
    linking = sum(sum(e.lexeme.text.isalpha() for e in s.before) + (s.opening is not None) for s in segments[1:])
    return len(wordy) + linking >= _SENTENCE and len(wordy) + linking > len(others) - measured


def _is_in_units(entry: Entry) -> bool:
    return entry.lexeme.kind == "unit" or unit_named(entry.lexeme.text) is not None


def _is_long_word(entry: Entry, scope: Scope) -> bool:
    typed = entry.lexeme.text
    several = len(typed) > 3 or (len(typed) == 3 and not all(map(scope.knows, typed)))  # `gun` is no g u n
    return entry.lexeme.kind == "run" and several and typed.isalpha() and not scope.knows(typed)


def _all_words(segment: Segment) -> None:
    opening = [segment.opening] if segment.opening is not None else []
    segment.lead, segment.entries, segment.opening = opening + segment.entries, [], None


def _regime(segment: Segment, scope: Scope) -> bool:
    """`for small θ`, `when θ is small`, `θ small ⇒ …`: the words go, the small expressions stay."""
    smalls = [e for e in segment.entries if e.kind == "small"]
    relations = [e for e in segment.entries if is_relation(e)]
    kept = [e for e in segment.entries if e.kind == "math"]
    if not smalls or relations or not kept:
        return False
    names = all(e.lexeme.kind == "run" and scope.knows(canonical(e.lexeme.text)) for e in kept)
    if segment.opening is None and not (names and len(kept) == 1):
        return False
    segment.opening = segment.opening or smalls[0]
    segment.before = segment.before + [e for e in segment.entries if e.kind != "math" and e not in smalls]
    segment.entries, segment.small = kept, True
    return True


def _small_without_colon(segment: Segment) -> Segment | None:
    """`for small θ sin θ ≈ θ`: the opening with what is small, taken off a segment that goes on with a relation."""
    entries = segment.entries
    if segment.opening is None or len(entries) < 3 or entries[0].kind != "small":
        return None
    name, after = entries[1], entries[2]
    if name.lexeme.kind != "run" or name.kind != "math" or after.lexeme.kind != "run" or after.kind != "math":
        return None
    if not any(is_relation(e) for e in entries):
        return None
    opening = Segment(segment.before, segment.opening, entries[:2])
    segment.before, segment.opening, segment.entries = [], None, entries[2:]
    return opening


_AFTER_OPERAND = frozenset(("times", "slash", "caret", "plus", "raised", "rel", "arrow"))


def _end_of_lead(entries: list[Entry], first: int, scope: Scope) -> int:
    """Where the mathematics begins on the left of the first relation sign."""
    wordy = [i for i in range(first) if entries[i].kind in ("prose", "strange", "small")]
    if not wordy:
        return 0
    last = wordy[-1]
    entry = entries[last]
    next_one = entries[last + 1] if last + 1 < len(entries) else None
    bound = next_one is not None and next_one.lexeme.kind in _AFTER_OPERAND
    short = entry.kind == "strange" and (len(entry.lexeme.text) < 4 or bound)
    if short or bound:
        raise _word_inside(entry, scope)
    return last + 1


def _start_of_trail(entries: list[Entry], last: int, scope: Scope) -> int:
    """Where the words begin on the right of the last relation sign."""
    for at in range(last + 1, len(entries)):
        if entries[at].kind not in ("prose", "strange", "small"):
            continue
        before = entries[at - 1]
        wants_more = before.lexeme.kind in ("plus", "minus", "plusminus", "times", "slash", "caret", "root", "rel",
                                            "arrow", "integral")
        if entries[at].lexeme.text.lower() in MEANING_A_SIGN:
            raise ReadError(entries[at].lexeme.span, f"a sign instead of the word ‘{entries[at].lexeme.text}’")
        if entries[at].kind == "strange" or wants_more:
            raise _word_inside(entries[at], scope)
        return at
    return len(entries)


def _word_inside(entry: Entry, scope: Scope) -> ReadError:
    """A word where a name should be."""
    if entry.kind == "strange" or not scope.quick:
        return unknown_name(entry.lexeme.text, entry.lexeme.span, scope)
    return ReadError(entry.lexeme.span, f"a symbol here instead of the word ‘{entry.lexeme.text[:40]}’")
