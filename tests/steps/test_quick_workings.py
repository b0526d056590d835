"""Workings without givens: what their writer may bring in on the way, and what tampers with the lines above."""

from __future__ import annotations

import pytest

from derive.check import check_text
from derive.records import Standing

GOOD = {Standing.FOLLOWS, Standing.FOLLOWS_IF, Standing.TAKEN, Standing.APPROXIMATES}

UNBROKEN = {
    "a rounded root of a square that has its value": """
        v^2 = 2 g d
        d = 3
        v^2 = 2*9.81*3 = 58.9
        v = 7.7""",
    "a ratio, then one of its parts": """
        r = v2/v1 = 1/2
        v1 = 6
        v2 = 3""",
    "values put in in another order than the names": """
        F = m a = 2*60 = 120
        m = 60
        a = 2""",
    "a square put in before the mass": """
        E = 1/2 m v^2 = 0.5*16*3 = 24
        m = 3
        v = 4""",
    "values put in that nobody gave before": """
        v = u + a t = 0 + 4*5 = 20 m/s
        s = 1/2 a t^2 = 0.5*4*25 = 50 m""",
    "values put in with an angle and a time": """
        W = F d cos θ = 50·4·cos 60° = 100 J
        P = W/t = 100/5 = 20 W""",
    "a value worked out from values put in": """
        a = F/m = 12/3 = 4 m/s^2
        v = a t = 4*2 = 8 m/s""",
    "values after a formula": """
        T - mg = ma
        T = m(g + a)
        m = 60 kg, g = 9.81 m/s^2, a = 1.5 m/s^2
        T = 60*(9.81 + 1.5) = 679 N""",
    "a time as one of the values": """
        u = 3 m/s
        a = 2 m/s^2
        t = 4 s
        v = u + at = 11 m/s
        s = 3*4 + 0.5*2*16 = 28 m""",
    "a time worked out from values": """
        let g = 9.81
        h = 20
        t = sqrt(2h/g) = 2.02
        v = gt = 19.8""",
    "a nothing in passing": """
        m1 u1 + m2 u2 = (m1 + m2) v
        u2 = 0
        v = m1 u1/(m1 + m2)""",
    "a nothing that opens a step": """
        T + mg = m ω^2 r
        T = 0 => ω = sqrt(g/r)""",
    "a value said of the place": """
        mg + N = mv^2/r
        N = 0 at the top
        v = sqrt(gr)""",
    "a nothing at the top and a value at the bottom": """
        T + m g cosθ = m v^2/r
        T = 0
        v^2 = g r cosθ
        T = 6 N""",
    "energy after momentum": """
        m u = m v + M w
        1/2 m u^2 = 1/2 m v^2 + 1/2 M w^2
        m(u - v) = M w
        m(u^2 - v^2) = M w^2""",
    "momentum after energy": """
        1/2 m u^2 = 1/2 m v^2 + 1/2 M w^2
        m u = m v + M w
        m(u - v) = M w""",
    "a root of which both the mass and the sign matter": """
        GMm/r^2 = mv^2/r
        v = sqrt(GM/r)
        T = 2πr/v = 2πr sqrt(r/(GM))""",
    "one equation divided by another": """
        m u = m v + M w
        1/2 m u^2 = 1/2 m v^2 + 1/2 M w^2
        m(u - v) = M w
        m(u^2 - v^2) = M w^2
        dividing: u + v = w""",
    "a new law after its use": """
        ma = mg sinθ - f
        f = μN
        N = mg cosθ
        ma = mg sinθ - μ m g cosθ""",
    "the usual g put in": """
        m = 2.0 kg, θ = 30°, μ = 0.2
        N = m g cosθ = 2*9.81*cos30 = 17.0 N
        f = μN = 3.4 N
        m g sinθ = 9.81 N""",
    "g measured with a pendulum": """
        T = 2π sqrt(L/g)
        T = 1.50 s
        L = 0.57 m
        g = 4π^2 L/T^2 = 10.0 m/s^2""",
    "Lagrange's equation without its name": """
        T = 1/2 m (r'^2 + r^2 θ'^2)
        V = -GMm/r
        L = T - V
        d/dt(m r^2 θ') = 0
        m r'' = m r θ'^2 - GMm/r^2""",
    "an approximation for small angles in words": """
        I θ'' = -mgd sinθ
        for small angles sinθ ≈ θ
        θ'' = -(mgd/I) θ
        T = 2π sqrt(I/(mgd))""",
    "an inequality among positive quantities": """
        energy: 1/2 m u^2 = 1/2 m v^2 + 2 m g r
        top: mg + N = mv^2/r
        N >= 0 => v^2 >= gr
        u^2 = v^2 + 4gr
        u^2 >= 5gr""",
    "a distance counted from the start": """
        a = dv/dt
        v = u + at
        ds/dt = u + at
        s = ut + 1/2 a t^2""",
    "angles of a triangle": """
        tanθ = v^2/(rg)
        r = 200 m
        v = 25 m/s
        tanθ = 25^2/(200*9.81) = 0.319
        θ = 17.7°""",
    "a time from a quadratic": """
        15 = 20t - 4.9t^2
        t = (20 ± sqrt(400 - 294))/9.8
        t = 0.99 s or t = 3.09 s""",
    "a density by its definition": """
        x_cm = (1/M) ∫_0^L x λ dx
        λ = M/L
        x_cm = L/2""",
    "velocity and acceleration of one coordinate": """
        x = A cos(ωt)
        v = -Aω sin(ωt)
        v^2 = ω^2 (A^2 - x^2)""",
    "two coordinates and a speed": """
        x = u t cosα
        y = u t sinα - 1/2 g t^2
        v = u - g t""",
    "friction bounded by its law": """
        f = mv^2/r
        f <= μN
        N = mg
        v^2 <= μgr""",
    "a ladder that does not slip": """
        N2 L sinθ = mg (L/2) cosθ
        N1 = mg
        f = N2
        f ≤ μ N1 so tanθ ≥ 1/(2μ)""",
    "momentum across": """
        u = v cosα + w cosβ
        0 = v sinα - w sinβ
        u^2 = v^2 + w^2
        cos(α + β) = 0""",
    "a rate from a period that has a value": """
        x = A cos(ωt)
        A = 5 cm
        T = 2 s
        ω = 2π/T = 3.14 rad/s
        v_max = Aω = 0.157 m/s""",
    "values at the start of a course": """
        x = A cos(ωt + φ)
        x(0) = A cosφ = x0
        v(0) = -Aω sinφ""",
    "a solution from rest": """
        m v' = mg - k v^2
        let u^2 = mg/k
        v = u tanh(g t/u)""",
    "rolling after energy": """
        m g h = 1/2 m v^2 + 1/4 m r^2 w^2
        v = r w
        g h = 3/4 v^2""",
    "a law beside one that speaks of all its names": """
        mg sin(theta) - mu N = ma
        N = mgcos(theta)
        => ma = mg sin(theta) - mu mg cos(theta)
        a = g(sin(theta) - mu cos(theta))""",
    "a length by its angle after the energies": """
        mgh - μmgd cosθ = ½mv²
        h = d sinθ
        v² = 2gd(sinθ - μ cosθ)""",
    "a coefficient of restitution after the momenta": """
        m u = m v1 + M v2
        u = v2 - v1  (e = 1)
        v2 = 2 m u/(m+M)
        v1 = (m-M)u/(m+M)""",
    "a law of a place without a comma": """
        energy: 1/2mv0^2 = 1/2mv^2 + 2mgR
        at top N + mg = mv^2/R
        N >= 0 so v^2 >= gR
        v0^2 = v^2 + 4gR >= 5gR""",
    "an angle from twice itself": """
        cos 2α = 0
        α = π/4""",
    "a value of two names together, and a cube": """
        T = 86164 s
        GM = 3.986e14
        r^3 = GM T^2/(4π^2)
        r = 4.2e7 m""",
    "numbers for a sum of names": """
        F = GMm/(R+h)^2 = m v^2/(R+h)
        v = sqrt(GM/(R+h))
        v = sqrt(6.67e-11*5.97e24/(6.77e6)) = 7670 m/s""",
    "a second derivative typed with figures": """
        m d2x/dt2 = -kx
        try x = A cos(wt)
        -m w^2 A cos wt = -k A cos wt
        w^2 = k/m""",
    "dots typed as full stops": """
        x = A cos(wt)
        x. = -A w sin(wt)
        x.. = -A w^2 cos(wt) = -w^2 x""",
    "the negative root of a square": """
        v^2 = 58.9
        v = -7.7
        v^2 = 58.9""",
    "a momentum said after its rate": """
        F = dp/dt
        p = m v
        F = m dv/dt""",
    "a potential said after its slope": """
        F = -dU/dx
        U = 1/2 k x^2
        F = -kx""",
    "a force as a function of the place": """
        F(x) = -dU/dx
        U = -A/x
        F = -A/x^2""",
    "vectors that are given below their law": """
        F = m a
        F = (6, 8) N, m = 2 kg
        a = (3, 4) m/s^2
        |a| = 5 m/s^2""",
    "a moment of a force by components": """
        r × F = (1,2,0) × (3,1,0) = (0,0,-5)""",
    "a velocity from a place by components": """
        r = (3 cos t, 3 sin t)
        v = dr/dt = (-3 sin t, 3 cos t)
        r·v = 0
        |v| = 3""",
    "turns a minute by a name that counts": """
        n = 1500 rpm
        ω = 2πn = 157 rad/s""",
    "turns a minute by a name of a rate": """
        ω = 1500 rpm = 157 rad/s""",
    "turns from an angle": """
        ω = 3 rad/s
        t = 60 s
        N = ω t/2/(2π) = 14.3 rev""",
    "gravity higher up": """
        g' = GM/(R+h)^2
        g' = 8.7""",
    "the period of another pendulum": """
        T = 2π sqrt(L/g)
        T' = 2π sqrt(4L/g) = 2T""",
    "a time in seconds after bare numbers": """
        v = u + at
        0 = 15 - 5t
        t = 3 s
        s = 15*3 - 0.5*5*9 = 22.5 m""",
    "a radius that stays": """
        a_r = r'' - r θ'^2
        r = R so r' = 0, r'' = 0
        a_r = -R θ'^2""",
    "an integral worked out in a bracket": """
        ∫_R^r GMm/x^2 dx = -GMm [1/x]_R^r = GMm (1/R - 1/r)""",
    "a limit said before the course": """
        as t -> ∞, v -> mg/b
        v = (mg/b)(1 - e^(-bt/m))""",
    "a force that moves with the spring": """
        F = -kx
        m x'' = -kx
        x'' + (k/m) x = 0
        w^2 = k/m
        x = A cos wt + B sin wt""",
    "energies told after their difference": """
        L = T - V
        T = 1/2 m (x'^2 + y'^2)
        V = m g y
        d/dt(∂L/∂y') = m y''
        m y'' = -m g""",
    "a moment of momentum by components": """
        L = r × p
        r = (x, y, 0)
        p = m (x', y', 0)
        L_z = m (x y' - y x')""",
    "a potential by its integral from afar": """
        F = -GMm/r²
        U = -∫_∞^r F dr
        U = -GMm/r""",
    "a period measured to find gravity": """
        T = 2π√(L/g)
        L = 1.00 m, T = 2.01 s
        g = 4π²L/T² = 9.77 m/s²""",
    "a sum of vectors before they are given": """
        F = F1 + F2
        F1 = 3i + 4j
        F2 = -i + 2j
        F = 2i + 6j""",
    "an angle of two that are acute": """
        2 sinθ cosθ = 1/2
        sin2θ = 1/2
        θ = 15°""",
    "a speed that is reached at last": """
        as t -> infinity, v -> v_T
        0 = mg - k v_T^2
        v_T = sqrt(mg/k)""",
    "equal masses after very unequal ones": """
        a = (m1 - m2)g/(m1+m2)
        m1 >> m2: a ≈ g
        m1 = m2 => a = 0""",
    "a length named beside the time it gives": """
        a = 4.9 m/s^2
        t = sqrt(2 s/a), s = 3 m
        t = 1.1 s""",
    "a potential told beside its slope": """
        F_x = -∂U/∂x, U = x^2 y + y^3
        F_x = -2 x y""",
    "components told after a product": """
        F·d = |F||d| cosφ
        F = (2, 1), d = (3, 4)
        F·d = 10
        cosφ = 2/√5""",
    "a root of a quadratic by its formula": """
        1/2 g t^2 - u t - h = 0
        t = (u + sqrt(u^2+2gh))/g""",
    "one of two roots by its number": """
        v0 = 20, h = 15, g = 9.8
        h = v0 t - 1/2 g t^2
        15 = 20 t - 4.9 t^2
        t = 3.09 s
        v = v0 - g t = -10.3""",
    "lengths in units of their own": """
        y = 1/2 g t^2
        y_1 = y/h""",
    "a force told after its integral": """
        Δp = ∫_0^T F dt
        F = F0 t/T
        Δp = F0 T/2""",
    "an integral to beyond all bounds": """
        W = ∫_R^h G M m/r^2 dr
        as h -> ∞: W = G M m/R""",
    "an integral that dies out": """
        s = ∫_0^T v0 e^(-k t) dt
        T -> ∞: s = v0/k""",
    "a greatest height": """
        z = u t - 1/2 g t^2
        z_max = u^2/(2g)""",
    "a greatest range": """
        R = u^2 sin(2 theta)/g
        R_max = u^2/g""",
    "a curve without its units": """
        y = x^2
        v = 6 t^2 - 3""",
    "a name that is no average": """
        P = Fv
        F = ma + kv^2
        P = mav + kv^3""",
}

BROKEN = {
    "a bound the wrong way round": (4, """
        f ≤ μ N
        N = m g cos θ
        f = m g sin θ
        tan θ ≥ μ"""),
    "a first order that is half of it": (2, """
        g(h) = GM/(R+h)^2
        for h << R: g(h) ≈ GM/R^2 (1 - h/R)"""),
    "a term that no motion has": (2, """
        x'' + w^2 x = 0
        x = A cos(wt) + B sin(wt) + C"""),
    "an equation of motion with the other sign": (4, """
        L = T - V
        T = 1/2 m y'^2
        V = m g y
        m y'' = m g"""),
    "a cube of a sum": (1, """
        (a+b)³ = a³ + b³"""),
    "a greatest distance after a time": (4, """
        x = v0 t - 1/2 b t^2
        v = v0 - b t
        v = 0 when t = v0/b
        x_max = v0^2/b"""),
    "a logarithm with the other sign": (2, """
        y = a e^(-k t)
        ln y = ln a + k t"""),
    "a square of a sum": (1, """
        |p+q|² = |p|²+|q|²"""),
    "a power that lost its number": (1, """
        ∫_0^d b x³ dx = b d⁴"""),
    "a slope of one factor": (1, """
        d/dx (x sin x) = cos x"""),
    "half an angle with the other sign": (1, """
        sin²a = (1+cos 2a)/2"""),
    "a logarithm of a sum": (1, """
        ln(a+b) = ln a + ln b"""),
    "a sine in the place of a cosine": (1, """
        1 + tan^2 x = 1/sin^2 x"""),
    "a greatest height without its half": (2, """
        z = u t - 1/2 g t^2
        z_max = u^2/g"""),
    "a speed of no dimension": (1, """
        v_max = μ g r"""),
    "a force that is a momentum": (2, """
        v = u + a t
        F = m v"""),
    "a root that is none": (2, """
        15 = 20 t - 4.9 t^2
        t = 2.09 s"""),
    "an integral of what is told below": (3, """
        W = ∫_0^d F dx
        F = k x
        W = k d^2"""),
    "a limit of an integral": (2, """
        W = ∫_R^h G M m/r^2 dr
        as h -> ∞: W = G M m/R^2"""),
    "a wrong root of a square that has its value": (3, """
        v^2 = 2 g d
        v^2 = 58.9
        v = 7.4"""),
    "values put in and multiplied wrongly": (1, """
        W = F d cos θ = 50·4·cos 60° = 120 J"""),
    "a value put in without its square": (2, """
        v = u + a t = 0 + 4*5 = 20 m/s
        s = 1/2 a t^2 = 0.5*4*5 = 10 m"""),
    "another value put in than the one given": (3, """
        F = m a
        m = 3, a = 4
        F = m a = 3*5 = 15"""),
    "two laws put together with another number": (3, """
        T = m1 a
        m2 g - T = m2 a
        m2 g = (m1 + 2 m2) a"""),
    "a component of the weight put in for the other": (3, """
        m = 2.0 kg, θ = 30°
        N = m g cosθ
        N = 2.0*9.81*0.5 = 9.81 N"""),
    "a sign in the equation of motion of a Lagrangian": (2, """
        L = 1/2 m x'^2 - 1/2 k x^2
        m x'' = k x"""),
    "a period upside down": (4, """
        m L θ'' = -m g sin θ
        for small θ: sin θ ≈ θ
        θ'' = -(g/L) θ
        T = 2π sqrt(g/L)"""),
    "a rate that lost its mass": (4, """
        m v' = -k v
        dv/v = -(k/m) dt
        ln v = -(k/m) t + C
        v = v0 e^(-kt)"""),
    "a root of a quadratic rounded wrongly": (2, """
        15 = 20x - 4.9x^2
        x = 0.99 or x = 3.19"""),
    "a tangent upside down": (3, """
        sinθ = 3/5
        cosθ = 4/5
        tanθ = 4/3"""),
    "a velocity that lost its minus": (2, """
        x = A cos(ωt)
        v = Aω sin(ωt)"""),
    "a square that lost its rate": (3, """
        x = A cos(ωt)
        v = -Aω sin(ωt)
        E = 1/2 m v^2 = 1/2 m A^2 ω sin^2(ωt)"""),
    "a course that is no solution": (3, """
        m v' = -b v
        v(0) = v0
        v = v0 (1 - e^(-bt/m))"""),
    "an integral that lost its half": (2, """
        F = F0 (1 - x/L)
        W = ∫_0^L F dx = F0 L"""),
    "a centrifugal term with the wrong sign": (2, """
        L = 1/2 m (r'^2 + r^2 ω^2)
        m r'' = -m r ω^2"""),
    "a bracket that lost its factor": (4, """
        ma = mg sinθ - f
        f = μN
        N = mg cosθ
        a = g sinθ - μ cosθ"""),
    "a quotient upside down": (3, """
        N cosθ = mg
        N sinθ = m v^2/r
        tanθ = rg/v^2"""),
    "a dropped term is no law": (2, """
        s = u t + 1/2 a t^2
        s = u t"""),
    "a sign changed in the energies": (2, """
        1/2 m u^2 = 1/2 m v^2 + 1/2 M w^2
        1/2 m u^2 = 1/2 m v^2 - 1/2 M w^2"""),
    "a value that the lines above have settled": (4, """
        F = 10 N
        m = 2 kg
        a = F/m
        a = 6 m/s^2"""),
    "a value that is claimed to follow": (2, """
        v = u + a t
        so v = 0"""),
    "a trial put in with the wrong power": (3, """
        m x'' = -k x
        try x = A cos(ωt)
        x'' = -Aω cos(ωt)"""),
    "a quadratic with another root": (3, """
        -16 t^2 + 64 t + 80 = 0
        t^2 - 4t - 5 = 0
        (t-5)(t-1) = 0"""),
    "a bracket that is right at its limits only": (2, """
        F = k x
        W = ∫_0^d F dx = [1/2 k x^2 + x (x-d)]_0^d = 1/2 k d^2"""),
    "a bracket with the sign of the slope": (1, """
        ∫_R^r GMm/x^2 dx = GMm [1/x]_R^r"""),
    "turns a minute put in for a rate": (2, """
        n = 1500 rpm
        ω = 2πn = 25 rad/s"""),
    "a time that bare numbers do not give": (4, """
        v = u + at
        0 = 15 - 5t
        t = 3 s
        s = 15*3 - 0.5*5*9 = 67.5 m"""),
    "a force with the sign of the slope": (3, """
        F = -dU/dx
        U = 1/2 k x^2
        F = kx"""),
    "a component of a difference": (3, """
        v_AB = v_A - v_B
        v_A = (3, 4), v_B = (1, -2)
        v_AB = (2, 2)"""),
    "a dimension that no letter bears out": (2, """
        m v^2/r = μ m g
        v_max = μ g r"""),
    "the square of a rate in a damped course": (3, """
        x'' + 2γ x' + ω0² x = 0
        x = A e^(-γt) cos(Ωt)
        Ω² = ω0² + γ²"""),
    "a sign among components of the weight": (4, """
        mg sin(theta) - mu N = ma
        N = mgcos(theta)
        => ma = mg sin(theta) - mu mg cos(theta)
        a = g(sin(theta) + mu cos(theta))"""),
    "a period upside down after figures for an order": (5, """
        m d2x/dt2 = -kx
        try x = A cos(wt)
        -m w^2 A cos wt = -k A cos wt
        w^2 = k/m
        T = 2pi/w = 2 pi sqrt(k/m)"""),
    "a speed of a satellite with a power of ten": (3, """
        F = GMm/(R+h)^2 = m v^2/(R+h)
        v = sqrt(GM/(R+h))
        v = sqrt(6.67e-11*5.97e24/(6.77e6)) = 76.7 km/s"""),
    "a number that no gravity near the ground gives": (4, """
        mgh = 1/2 m v^2
        gh = v^2/2
        v = √(2gh)
        Substituting h = 5 m: v = 98.1 m/s"""),
    "a collision's squares of differences": (4, """
        m u = m v + M w
        m u^2 = m v^2 + M w^2
        m(u - v) = M w
        m(u - v)^2 = M w^2"""),
}


@pytest.mark.parametrize("name", UNBROKEN)
def test_what_nothing_above_settles_may_be_brought_in(name: str) -> None:
    check = check_text(UNBROKEN[name])

    assert {v.standing for line in check.lines for v in line.verdicts} <= GOOD, [
        (line.line.text.strip(), [v.code for v in line.verdicts]) for line in check.lines]


@pytest.mark.parametrize("name", BROKEN)
def test_what_the_lines_above_settle_may_not_be_changed(name: str) -> None:
    number, text = BROKEN[name]

    assert check_text(text.strip("\n")).first_break == number


def test_that_a_mass_is_not_nothing_is_said_once_and_is_no_condition() -> None:
    """Whoever writes m without a word means a mass; a speed may have either sign, and that stays a condition."""
    lines = check_text("1/2 m v^2 = m g h\nv^2 = 2 g h\nv = sqrt(2gh)").lines

    assert [line.verdicts[0].condition for line in lines] == ["", "", "v > 0"]
    assert any("m being positive" in p or "m being" in p for p in lines[1].verdicts[0].premises)


def test_no_state_with_a_negative_mass_is_shown_where_there_is_another() -> None:
    state = check_text("m1 u = m1 v + m2 w\nv = u + m2 w/m1").lines[1].verdicts[0].state

    assert state is not None
    assert all(complex(q.value).real > 0 for q in state.values if q.name.startswith("m"))


def test_values_put_in_are_said_to_have_been_given_nowhere() -> None:
    """The report names what the line was taken for, and which number stands for which name."""
    first = check_text("v = u + 6 t = 4 + 6*5 = 34").lines[0].verdicts

    taken = [dict(v.facts)["values"] for v in first if v.code == "taken.put_in"]
    assert taken == ["u = 4, t = 5"]
