"""A state made presentable: round everyday values, and terms written back in plain notation."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

import numpy as np

from derive.proof.dependence import weights
from derive.proof.evidence import weigh
from derive.proof.points import MET, Projector, isolated
from derive.proof.setting import Setting
from derive.proof.tape import Array
from derive.proof.term import Term, Var, variables
from derive.proof.world import TIME, World
from derive.records import Quantity, State

# Starting values tried for undeclared magnitudes: small, distinct and round.
_ROUND = (2.0, 3.0, 5.0, 4.0, 1.5, 6.0, 2.5, 8.0, 7.0, 9.0, 1.2, 12.0)
_TRIES = 24


def shown_state(setting: Setting, left: Term, right: Term, sign: str) -> State | None:
    """A state of the context at which `left sign right` fails, with round values where that is possible."""
    context = setting.context
    left, right = context.resolved(left), context.resolved(right)
    system = context.system((left, right))
    unknowns = tuple(dict.fromkeys((*variables(*system.equations, *system.positive), *variables(left, right))))
    if not unknowns:
        return _as_state({}, 0, left, right, sign, context.world)
    projector = Projector(system, context.prior)
    env = {v: _round_starts(v, k, context.world) for k, v in enumerate(unknowns)}
    if system.equations:
        env, bad = projector.project(env, weights(projector, env, _solved_for(system.equations, context.world)))
        ok = bad < MET
        if not ok.any():
            return _any_state(setting, left, right, sign)
    else:
        ok = np.ones(_TRIES, dtype=bool)
    return _first_failing(env, ok, left, right, sign, setting) or _any_state(setting, left, right, sign)


def _first_failing(
    env: dict[Var, Array], ok: Array, left: Term, right: Term, sign: str, setting: Setting
) -> State | None:
    from derive.proof.points import Cloud

    cloud = Cloud({v: np.asarray(a) for v, a in env.items()}, _TRIES)
    failing = weigh(left, right, sign, cloud).fails & ok
    places = np.flatnonzero(failing)
    if not places.size:
        return None
    best = min(places, key=lambda k: _awkwardness({v: a[k] for v, a in env.items()}))
    return _as_state(env, int(best), left, right, sign, setting.context.world)


def _awkwardness(values: Mapping[Var, complex]) -> float:
    """How far from round small numbers a state is."""
    total = 0.0
    for value in values.values():
        size = abs(value)
        if size and np.isfinite(size):
            total += abs(np.log10(size)) + (0.0 if abs(size - float(f"{size:.2g}")) < 1e-6 * size else 1.0)
    return total


def _any_state(setting: Setting, left: Term, right: Term, sign: str) -> State | None:
    cloud = setting.states.of(setting.context, (left, right))
    found = weigh(left, right, sign, cloud)
    places = np.flatnonzero(found.fails)
    if not places.size:
        return None
    return _as_state(cloud.columns, int(places[0]), left, right, sign, setting.context.world)


def _solved_for(equations: tuple[Term, ...], world: World) -> list[Var]:
    """Unknowns better solved for than chosen: derivatives, what is not declared, what an equation gives at sight,
    and last of all what the exercise gives an everyday value."""
    def reluctance(v: Var) -> tuple[bool, bool, bool]:
        symbol = world.symbols.get(v.name)
        known = symbol is not None and symbol.declared
        return (symbol is not None and symbol.typical is not None and not v.order, known and not v.order,
                v not in at_sight)

    at_sight = {v for e in equations for v, _ in isolated(e)[:1]}
    return sorted(variables(*equations), key=reluctance)


def _round_starts(v: Var, place: int, world: World) -> Array:
    """Round values for one unknown, other ones in every try, in the magnitude of its typical value."""
    prior = world.prior(v)
    rng = np.random.default_rng(place)
    picks = np.array([_ROUND[(place + k * (1 + place % 3)) % len(_ROUND)] for k in range(_TRIES)])
    if prior.complex:
        return picks + 1j * rng.permutation(picks)
    if prior.typical is not None and v.order == 0 and prior.lower < prior.typical < prior.upper:
        factor = np.array([1, 1, 1, 1, 1.5, 0.5, 2, 0.8])[np.arange(_TRIES) % 8]
        return np.clip(prior.typical * factor, *_inside(prior.lower, prior.upper))
    if np.isfinite(prior.lower) and np.isfinite(prior.upper):
        shares = np.array([0.5, 0.25, 1 / 3, 2 / 3, 0.75, 0.2, 0.4, 0.6])
        return prior.lower + (prior.upper - prior.lower) * shares[(np.arange(_TRIES) + place) % 8]
    if np.isfinite(prior.lower):
        return prior.lower + picks
    if np.isfinite(prior.upper):
        return prior.upper - picks
    signs = np.where((np.arange(_TRIES) // 2 + place) % 4 == 3, -1.0, 1.0)
    return picks * signs


def _inside(lower: float, upper: float) -> tuple[float, float]:
    margin = 1e-3 * (upper - lower) if np.isfinite(upper - lower) else 0.0
    return lower + margin, upper - margin


def _as_state(env: Mapping[Var, Array], k: int, left: Term, right: Term, sign: str, world: World) -> State:
    from derive.proof.tape import Tape

    own = variables(left, right)
    at = {v: np.asarray(a).reshape(-1)[k : k + 1] for v, a in env.items()}
    lv, rv = Tape([left, right]).run(at)
    order = [*own, *(v for v in env if v not in own and not v.at and not v.order)]
    values = tuple(
        Quantity(written_var(v), _plain(at[v][0]), world.symbols[v.name].unit if _unit_known(v, world) else "")
        for v in order if v in at and v.role == "value"
    )
    unit = _side_unit(left, right, world)
    return State(
        values[:14], Quantity("left side", _plain(np.ravel(lv)[0]), unit),
        Quantity("right side", _plain(np.ravel(rv)[0]), unit), sign)


def _side_unit(left: Term, right: Term, world: World) -> str:
    for side in (left, right):
        if side.op == "var" and isinstance(side.value, Var) and _unit_known(side.value, world):
            return world.symbols[side.value.name].unit
    return ""


def _unit_known(v: Var, world: World) -> bool:
    return v.order == 0 and v.name in world.symbols


def _plain(x: complex) -> complex | float:
    return complex(x) if np.iscomplexobj(x) and abs(np.imag(x)) > 1e-12 * abs(x) else float(np.real(x))


# --- terms in plain notation ----------------------------------------------------------------------------------


def written_var(v: Var) -> str:
    if v.role == "differential":
        return f"d{v.name}"
    if v.order and v.wrt not in ("", TIME):
        text = f"d{v.name}/d{v.wrt}" if v.order == 1 else f"d^{v.order}{v.name}/d{v.wrt}^{v.order}"
    else:
        text = v.name + "'" * v.order
    if v.at:
        variable, _, value = v.at.partition("=")
        return f"{text}({value})" if variable == TIME else f"{text} at {v.at}"
    return text


def written(t: Term, outer: int = 0) -> str:
    """A term in the notation a person reads. `outer` is how tightly its surroundings bind (0 to 3)."""
    if t.op == "num":
        return _written_number(t.value, outer)  # type: ignore[arg-type]
    if t.op == "var":
        return written_var(t.value)  # type: ignore[arg-type]
    if t.op == "add":
        text = _written_sum(t)
        return f"({text})" if outer > 0 else text
    if t.op == "mul":
        text = _written_product(t)
        return f"({text})" if outer > 1 else text
    if t.op == "pow":
        return _written_power(t, outer)
    if t.op == "int":
        body, lower, upper = (written(a) for a in t.args)
        return f"∫_({lower})^({upper}) ({body}) d{t.value.name}"  # type: ignore[union-attr]
    name = {"pi": "π", "inf": "∞", "abs": "abs"}.get(str(t.value), str(t.value))
    return f"{name}({written(t.args[0])})" if t.args else name


def _written_number(q: Fraction, outer: int) -> str:
    if q.denominator == 1:
        text = str(q.numerator)
    else:
        as_decimal = f"{float(q):.6g}"
        text = as_decimal if Fraction(as_decimal) == q and "e" not in as_decimal else f"{q.numerator}/{q.denominator}"
    return f"({text})" if outer > 1 and (q < 0 or "/" in text) or outer == 1 and q < 0 else text


def _written_sum(t: Term) -> str:
    text = ""
    for part in sorted(t.args, key=_is_negative):
        if _is_negative(part):
            text += (" - " if text else "-") + written(_negated(part), 1)
        else:
            text += (" + " if text else "") + written(part, 0 if not text else 1)
    return text


def _is_negative(t: Term) -> bool:
    lead = t.args[0] if t.op == "mul" else t
    return lead.op == "num" and lead.value < 0  # type: ignore[operator]


def _negated(t: Term) -> Term:
    from derive.proof.term import neg

    return neg(t)


def _written_product(t: Term) -> str:
    top: list[str] = []
    bottom: list[str] = []
    sign = ""
    for a in t.args:
        if a.op == "num" and a.value == -1:
            sign = "-"
        elif a.op == "pow" and a.args[1].op == "num" and a.args[1].value < 0:  # type: ignore[operator]
            from derive.proof.term import neg, power

            bottom.append(written(power(a.args[0], neg(a.args[1])), 2))
        else:
            top.append(written(a, 2))
    above = " ".join(top) or "1"
    if not bottom:
        return sign + above
    below = bottom[0] if len(bottom) == 1 else f"({' '.join(bottom)})"
    return f"{sign}{above}/{below}"


def _written_power(t: Term, outer: int) -> str:
    base, e = t.args
    if e.op == "num" and e.value == Fraction(1, 2):
        return f"√({written(base)})"
    if e.op == "num" and e.value < 0:  # type: ignore[operator]
        from derive.proof.term import neg, power

        text = f"1/{written(power(base, neg(e)), 2)}"
        return f"({text})" if outer > 1 else text
    exponent = written(e, 3)
    return f"{written(base, 3)}^{exponent if e.op in ('num', 'var') else f'({written(e)})'}"
