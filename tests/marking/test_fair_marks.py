"""Workings as students hand them in, and what a fair marker gives for each point: `?` where one would look twice."""

from functools import lru_cache

import pytest

from derive.marking.working import Marker
from tests.marking.made import shipped
from tests.sampling import some

# exercise, what is particular about the working, its lines, the marks
WORKINGS = (
    # --- bell: θ'', its approximation, the trial, ω², T ------------------------------------------------------
    ("bell", "a slip next below the trial put in", """
        θ'' = -(g/ℓ) sin θ
        for small θ: θ'' ≈ -(g/ℓ) θ
        try θ = A cos ωt
        -A ω² cos ωt = -(g/ℓ) A cos ωt
        ω = ½ sqrt(g/ℓ)""", "1 1 1 0 0"),
    # --- lead: dv/(W - c v) = dt/m, the logarithm, v, u -----------------------------------------------------
    ("lead", "a number lost after the method", """
        dv/dt = (W - c v)/m
        dv/(W - c v) = 5 dt/m""", "1 0 0 0"),
    # --- slipway: N, f, m a, a, v ---------------------------------------------------------------------------
    ("slipway", "nothing but the goals", """
        a = g (sin θ - μ cos θ)
        v = √(2 g ℓ (sin θ - μ cos θ))""", "0 0 0 0 0"),
    ("slipway", "an angle by a name that nobody declared", """
        N = m g cos b
        f = μ N""", "? 0 0 0 0"),
    ("slipway", "a balance by a name that nobody declared", """
        N = m g cos θ
        m a = m g sin b - μ m g cos b""", "1 ? ? 0 0"),
    ("slipway", "an angle by the beginning of its name", """
        N = m g cos th
        f = μ m g costh""", "1 1 0 0 0"),
    ("slipway", "nothing but the givens", """
        m a = m g sin θ - f
        N - m g cos θ = 0
        f = μ N
        v² = 2 a ℓ""", "0 0 0 0 0"),
    ("slipway", "the givens and then the goals", """
        m a = m g sin θ - f
        f = μ N
        a = g (sin θ - μ cos θ)
        v = √(2 g ℓ (sin θ - μ cos θ))""", "0 0 0 0 0"),
    ("slipway", "half finished", """
        N = m g cos θ
        so f = μ m g cos θ""", "1 1 0 0 0"),
    ("slipway", "by energy, with bigger jumps", """
        ½ m v² = m g ℓ sin θ - μ m g ℓ cos θ
        v² = 2 g ℓ (sin θ - μ cos θ)
        v = √(2 g ℓ (sin θ - μ cos θ))
        a = v²/(2 ℓ) = g (sin θ - μ cos θ)""", "1 1 1 2 2"),
    ("slipway", "a sign wrong and the goals copied out all the same", """
        N = m g cos θ
        f = μ m g cos θ
        m a = m g sin θ + μ m g cos θ
        a = g (sin θ - μ cos θ)
        v = √(2 g ℓ (sin θ - μ cos θ))""", "1 1 0 0 0"),
    ("slipway", "sine for cosine, the friction never written by itself", """
        N = m g sin θ
        m a = m g sin θ - μ m g sin θ
        a = g sin θ (1 - μ)
        v = √(2 g ℓ sin θ (1 - μ))""", "0 1 1 2 2"),
    ("slipway", "sine for cosine in the first line that is written", """
        m a = m g sin θ - μ m g sin θ
        a = g sin θ (1 - μ)
        v = √(2 g ℓ sin θ (1 - μ))""", "0 0 0 2 2"),
    ("slipway", "every line divided by something", """
        N/(m g) = cos θ
        f/(m g) = μ cos θ
        a/g = sin θ - μ cos θ
        v²/(2 ℓ) = g sin θ - μ g cos θ
        so v = √(2 ℓ (g sin θ - μ g cos θ))""", "1 1 1 2 2"),
    ("slipway", "the cosine lost in the friction", """
        N = m g cos θ
        f = μ N = μ m g
        m a = m g sin θ - μ m g
        a = g (sin θ - μ)
        v = √(2 g ℓ (sin θ - μ))""", "1 0 1 2 2"),
    ("slipway", "two slips", """
        N = m g sin θ
        f = μ m g sin θ
        m a = m g sin θ - μ m g sin θ
        a = g sin θ (1 + μ)
        v = √(2 g ℓ sin θ (1 + μ))""", "0 1 1 0 2"),
    ("slipway", "a slip in the very last step", """
        N = m g cos θ, f = μ m g cos θ
        m a = m g sin θ - μ m g cos θ
        a = g (sin θ - μ cos θ)
        v = √(g ℓ (sin θ - μ cos θ))""", "1 1 1 2 0"),
    # --- tow: v, F = m a + R, F, d, P as numbers ------------------------------------------------------------
    ("tow", "nothing but numbers, none of them said to be anything", """
        5.4 km/h = 1.5 m/s
        1.5/90 = 0.0167
        12000·0.0167 = 200
        200 + 300 = 500 N
        0.5·1.5·90 = 67.5 m
        500·1.5 = 750 W""", "? ? ? ? ?"),
    ("tow", "numbers put in at once", """
        v = 1.5 m/s
        a = 0.0167 m/s^2
        F = 12000 kg · 0.0167 m/s² + 300 N = 500 N
        d = 68 m
        P = 0.75 kW""", "1 1 1 1 1"),
    # --- buoy: m y'', y'', trial differentiated, ω², T ------------------------------------------------------
    ("buoy", "nothing but the goal", "T = 2π √(m/(ρ g S))", "0 0 0 0 0"),
    ("buoy", "from the equation of motion straight to the goal", """
        m y'' = -ρ g S y
        T = 2π √(m/(ρ g S))""", "2 1 ? ? ?"),
    ("buoy", "by energy", """
        d/dt(½ m y'² + ½ ρ g S y²) = 0
        m y' y'' + ρ g S y y' = 0
        m y'' = -ρ g S y
        try y = A sin(ω t)
        -m ω² A sin(ω t) = -ρ g S A sin(ω t)
        ω = √(ρ g S/m)
        T = 2π/ω = 2π √(m/(ρ g S))""", "2 1 1 2 2"),
    ("buoy", "stopped before the trial", """
        F = -ρ g S y = m y''
        y'' + (ρ g S/m) y = 0""", "2 1 0 0 0"),
    ("buoy", "a factor wrong and the goal copied out all the same", """
        m y'' = -ρ g S y
        try y = Y cos(ω t)
        y'' = -2 ω² y
        ω² = ρ g S/(2 m)
        T = 2π √(m/(ρ g S))""", "2 1 0 2 0"),
    ("buoy", "own names, sides turned about, and a slip on writing the period out", """
        let n = √(ρ g S/m)
        y'' + n² y = 0
        try y = A cos ωt
        y'' = -ω² y
        n = ω
        2π/n = T
        (2π √(m/(ρ g S)))/5 = T""", "2 1 1 2 0"),
    ("buoy", "own names to the end", """
        let n = √(ρ g S/m)
        y'' + n² y = 0
        try y = A cos ωt
        y'' = -ω² y
        n = ω
        2π/n = T""", "2 1 1 2 2"),
    # --- capstan: I α, F, m a, a, F -------------------------------------------------------------------------
    ("capstan", "put together in one go", """
        m g - ½ M a = m a
        a = m g/(m + ½ M)
        a = 2 m g/(2 m + M)
        F = m g - m a = m M g/(2 m + M)""", "1 1 1 2 1"),
    ("capstan", "the drum taken for a ring", """
        M R² α = F R
        F = M a
        m a = m g - M a
        a = m g/(m + M)
        F = m M g/(m + M)""", "0 0 1 2 1"),
    ("capstan", "stopped with the equations", """
        ½ M R² α = F R
        a = R α""", "1 1 0 0 0"),
    ("capstan", "right up to the acceleration, the pull copied out wrong", """
        F = ½ M a
        m a = m g - ½ M a
        a = 2 m g/(2 m + M)
        F = M g/(2 m + M)""", "1 1 1 2 0"),
    # --- ferry: v, t_1, x, d --------------------------------------------------------------------------------
    ("ferry", "nothing but the goal", "d = v_0²/(2 a)", "0 0 0 0"),
    ("ferry", "the speed and then the goal", """
        v = v_0 - a t
        d = v_0²/(2 a)""", "1 ? ? ?"),
    ("ferry", "the average speed", """
        v = v_0 - a t
        t_1 = v_0/a
        d = ½ v_0 t_1
        d = v_0²/(2 a)""", "1 1 1 2"),
    ("ferry", "half forgotten and carried on", """
        v = v_0 - a t
        x = v_0 t - a t²
        t_1 = v_0/a
        d = v_0²/a - v_0²/a""", "1 1 0 2"),
    # --- cask: f, m a, a, v, ≤, μ ---------------------------------------------------------------------------
    ("cask", "a slip between the method and the acceleration", """
        f = ½ m a
        m a = m g sin θ - ½ m a
        3/2 m a = m g cos θ""", "1 1 0 0 0 0"),
    # --- bucket: N ≥ 0, v², u², u ---------------------------------------------------------------------------
    ("bucket", "nothing but the goals", """
        v ≥ √(g r)
        u ≥ √(5 g r)""", "0 0 0 0"),
    ("bucket", "the second goal alone", """
        m v²/r ≥ m g
        u² = v² + 4 g r
        u² ≥ 5 g r""", "1 1 1 2"),
    ("bucket", "the height taken for the radius", """
        m v²/r ≥ m g
        v ≥ √(g r)
        u² = v² + 2 g r
        u² ≥ 3 g r
        u ≥ √(3 g r)""", "1 1 0 2"),
    # --- trolleys: momentum, energy, u + v_1, v_2, v_1 ------------------------------------------------------
    ("trolleys", "by the speeds between the trolleys", """
        u = v_2 - v_1
        m_1 u = m_1 (v_2 - u) + m_2 v_2
        v_2 = 2 m_1 u/(m_1 + m_2)
        v_1 = v_2 - u = (m_1 - m_2) u/(m_1 + m_2)""", "1 1 1 2 1"),
    ("trolleys", "only the momentum", "v_2 = m_1 (u - v_1)/m_2", "1 0 0 0 0"),
    ("trolleys", "a term lost on the way to the speed", """
        u + v_1 = v_2
        m_1 u = m_1 (v_2 - u) + m_2 v_2
        v_2 = m_1 u/(m_1 + m_2)""", "1 1 1 0 0"),
    # --- lantern: T_2, one unknown, T_1, T_2 ----------------------------------------------------------------
    ("lantern", "along other axes", """
        T_1 sin(α + β) = W cos β
        T_2 sin(α + β) = W cos α
        T_1 = W cos β/sin(α + β), T_2 = W cos α/sin(α + β)""", "1 1 2 1"),
    ("lantern", "an identity wrong on the way from the method to the result", """
        T_2 = T_1 cos α/cos β
        T_1 (sin α cos β + cos α sin β) = W cos β
        sin α cos β + cos α sin β = sin α + sin β""", "1 1 0 0"),
    ("lantern", "sine and cosine swapped in the last line", """
        T_2 = T_1 cos α/cos β
        T_1 (sin α + cos α tan β) = W
        T_1 = W cos β/sin(α + β)
        T_2 = W sin α/sin(α + β)""", "1 1 2 0"),
    # --- drone: v², v, T, T² --------------------------------------------------------------------------------
    ("drone", "nothing but the goals", """
        v = √(G M/r)
        T² = 4π² r³/(G M)""", "0 0 0 0"),
    ("drone", "by the angular speed, only the period", """
        let w = 2π/T
        w² r³ = G M
        T² = 4π² r³/(G M)""", "1 0 1 1"),
    ("drone", "the radius once too often", """
        v² = G M/r
        v = √(G M/r)
        T = 2π r/v = 2π r √(r/(G M))
        T² = 4π² r²/(G M)""", "1 1 1 0"),
    ("drone", "the square lost on the way from the method to the period", """
        v = √(G M/r)
        (2π r/T)² = G M/r
        4π² r³ = G M T""", "1 1 1 0"),
    # --- barge: separated, ln v, v, x, s --------------------------------------------------------------------
    ("barge", "a sign lost after the method", """
        dv/dt = -b/m v
        dv/v = b/m dt
        ln(v/v_0) = b t/m""", "1 0 0 0 0"),
    # --- fender: W as an integral, W, ½ m v², v -------------------------------------------------------------
    ("fender", "nothing but the goal", "v = d √((k + ½ c d²)/m)", "0 0 0 0"),
    ("fender", "the integral in the head", """
        ½ m v² = ½ k d² + ¼ c d⁴
        v = √((k d² + ½ c d⁴)/m)""", "1 2 1 1"),
    ("fender", "force times distance", """
        W = k d² + c d⁴
        ½ m v² = k d² + c d⁴
        v = √(2 (k d² + c d⁴)/m)""", "0 0 1 1"),
)  # fmt: skip


# Every third one by default; THENCE_ALL=1 takes them all.
TRIED = some(WORKINGS, 3)


@lru_cache(maxsize=8)
def marker(exercise):
    return Marker(shipped(exercise))


@pytest.mark.parametrize(("exercise", "what", "lines", "marks"), TRIED, ids=[f"{w[0]}: {w[1]}" for w in TRIED])
def test_a_working_has_the_marks_of_a_fair_marker(exercise, what, lines, marks):
    result = marker(exercise).text(f"Working:\n{lines.strip()}\n", "w")
    assert ["?" if p.open else str(p.marks) for p in result.points] == marks.split()
    assert result.flagged == ("?" in marks)
