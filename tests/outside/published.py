"""Worked results that others have published, each as a short working and with one wrong twin of a line.

Where a row says MEMORY, the numbers and the section were written down from memory, without the source at
hand; the words and symbols are ours. Sections are those of "University Physics, Volume 1" (OpenStax, 2016).
The constants of the second table come from scipy.constants (CODATA) at test time.
"""

from __future__ import annotations

from dataclasses import dataclass

from scipy import constants as c

BOOK = "OpenStax, University Physics Volume 1"
MEMORY = "value from memory of the source"


@dataclass(frozen=True)
class Result:
    """A published result: `lines` hold; with line `wrong[0]` (from 1) replaced by `wrong[1]` it breaks there."""

    name: str
    source: str
    symbols: str
    given: str
    lines: tuple[str, ...]
    wrong: tuple[int, str]

    def text(self, slipped: bool = False) -> tuple[str, int]:
        """The working, and the number of the line in it that was made wrong (0 if none)."""
        lines = list(self.lines)
        if slipped:
            lines[self.wrong[0] - 1] = self.wrong[1]
        head = ["Symbols:", *_rows(self.symbols), "Given:", *_rows(self.given), "Working:"]
        return "\n".join(head + ["  " + line for line in lines]) + "\n", len(head) + self.wrong[0] if slipped else 0


def _rows(text: str) -> list[str]:
    return ["  " + row.strip() for row in text.strip().split("; ")]


def _book(section: str) -> str:
    return f"{BOOK}, section {section}; {MEMORY}"


RESULTS = (
    Result(
        "an aircraft slows after landing", _book("3.4, motion with constant acceleration"),
        "v, v_0 : m/s; a : m/s^2; t_1 : s, positive",
        "v_0 = 70.0 m/s; a = -1.50 m/s²; t_1 = 40.0 s; v = v_0 + a t_1",
        ("v = 70.0 m/s - 1.50 m/s² · 40.0 s", "v = 10.0 m/s"),
        (2, "v = 130 m/s"),
    ),
    Result(
        "a dragster covers a quarter of a mile", _book("3.4, motion with constant acceleration"),
        "x, s : m, positive; v : m/s, positive; a : m/s^2, positive; t_1 : s, positive",
        "a = 26.0 m/s²; t_1 = 5.56 s; x = ½ a t_1²; v² = 2 a x",
        ("x = 402 m", "v = √(2 a x) = 145 m/s"),
        (1, "x = 804 m"),
    ),
    Result(
        "a car stops on dry and on wet concrete", _book("3.4, motion with constant acceleration"),
        "v_0 : m/s, positive; a, b : m/s^2, positive; x, y : m, positive",
        "v_0 = 30.0 m/s; a = 7.00 m/s²; b = 5.00 m/s²; v_0² = 2 a x; v_0² = 2 b y",
        ("x = v_0²/(2 a) = 64.3 m", "y = 90.0 m", "y/x = a/b = 1.40"),
        (1, "x = v_0²/a = 129 m"),
    ),
    Result(
        "a car joins a motorway", _book("3.4, motion with constant acceleration"),
        "v_0 : m/s, positive; a : m/s^2, positive; x : m, positive; t_1 : s, positive",
        "v_0 = 10.0 m/s; a = 2.00 m/s²; x = 200 m; x = v_0 t_1 + ½ a t_1²",
        ("t_1 = (-v_0 + √(v_0² + 2 a x))/a", "t_1 = 10.0 s"),
        (1, "t_1 = (v_0 + √(v_0² + 2 a x))/a"),
    ),
    Result(
        "a firework shell at its highest point", _book("4.3, projectile motion"),
        "v_0, w : m/s, positive; β : rad; g : m/s^2; h, x : m; t_1 : s",
        "v_0 = 70.0 m/s; β = 75.0°; g = 9.80 m/s²; w = v_0 sin β; h = w²/(2 g); t_1 = w/g; x = v_0 t_1 cos β",
        ("w = 67.6 m/s", "h = 233 m", "t_1 = 6.90 s", "x = 125 m"),
        (2, "h = 467 m"),
    ),
    Result(
        "a turn that presses a pilot into the seat", _book("4.4, uniform circular motion"),
        "v : m/s, positive; a : m/s^2, positive; r : m, positive",
        "v = 134.1 m/s; a = 9.80 m/s²; a = v²/r",
        ("r = v²/a", "r = 1.835 km"),
        (1, "r = a/v²"),
    ),
    Result(
        "a mower is pushed", _book("5.3, Newton's second law"),
        "F : N, positive; m : kg, positive; a : m/s^2",
        "F = 51 N; m = 24 kg; F = m a",
        ("a = F/m = 2.1 m/s²",),
        (1, "a = F/m = 21 m/s²"),
    ),
    Result(
        "a skier with and without friction", _book("5.6, common forces"),
        "m : kg, positive; θ : rad; g, a, b : m/s^2; f : N",
        "m = 60.0 kg; θ = 25°; g = 9.80 m/s²; f = 45.0 N; m a = m g sin θ; m b = m g sin θ - f",
        ("a = g sin θ = 4.14 m/s²", "b = a - f/m = 3.39 m/s²"),
        (2, "b = a - f/m = 4.89 m/s²"),
    ),
    Result(
        "the coefficient of friction of a skier", _book("6.2, friction"),
        "m : kg, positive; θ : rad; g : m/s^2; f, N : N, positive; μ : 1, positive",
        "m = 62 kg; θ = 25°; g = 9.80 m/s²; f = 45.0 N; N = m g cos θ; f = μ N",
        ("μ = f/(m g cos θ)", "μ = 0.082"),
        (1, "μ = f/(m g sin θ)"),
    ),
    Result(
        "a car on a flat curve", _book("6.3, centripetal force"),
        "m : kg, positive; r : m, positive; v : m/s, positive; F : N; μ : 1, positive; g : m/s^2, positive",
        "m = 900.0 kg; r = 500.0 m; v = 25.00 m/s; g = 9.80 m/s²; F = m v²/r; F = μ m g",
        ("F = 1125 N", "μ = v²/(r g) = 0.13"),
        (2, "μ = r g/v² = 7.84"),
    ),
    Result(
        "the speed for which a curve is banked", _book("6.3, centripetal force"),
        "r : m, positive; v : m/s, positive; θ : rad; g : m/s^2, positive",
        "r = 100.0 m; θ = 65.0°; g = 9.80 m/s²; tan θ = v²/(r g)",
        ("v = √(r g tan θ)", "v = 45.8 m/s"),
        (2, "v = 14.6 m/s"),
    ),
    Result(
        "a skydiver falling head first", _book("6.4, drag force and terminal speed"),
        "m : kg, positive; g : m/s^2, positive; ρ : kg/m^3, positive; C : 1, positive; A : m^2, positive; "
        "v : m/s, positive",
        "m = 75 kg; g = 9.80 m/s²; ρ = 1.21 kg/m³; C = 0.70; A = 0.18 m²; m g = ½ C ρ A v²",
        ("v = √(2 m g/(ρ C A))", "v = 98 m/s = 350 km/h"),
        (1, "v = √(m g/(ρ C A))"),
    ),
    Result(
        "a fishing reel runs up", _book("10.2, rotation with constant angular acceleration"),
        "ω : rad/s; α : rad/s^2; t_1 : s; r : m; v : m/s",
        "α = 110 rad/s²; t_1 = 2.00 s; r = 4.50 cm; ω = α t_1; v = r ω",
        ("ω = 220 rad/s", "v = 9.90 m/s"),
        (2, "v = 990 m/s"),
    ),
    Result(
        "a solid cylinder rolls down a slope", _book("11.1, rolling motion"),
        "m : kg, positive; r : m, positive; θ : rad, 0 < θ < π/2; g : m/s^2, positive; a : m/s^2; α : rad/s^2; f : N",
        "m g sin θ - f = m a; f r = ½ m r² α; a = r α",
        ("f = ½ m a", "a = (2/3) g sin θ"),
        (2, "a = (1/2) g sin θ"),
    ),
    Result(
        "the speed at which a body leaves the Earth", _book("13.3, gravitational potential energy"),
        "G : m^3/(kg s^2), positive; M, m : kg, positive; R : m, positive; v : m/s, positive",
        "G = 6.67×10^-11 m³/(kg s²); M = 5.96×10^24 kg; R = 6.37×10^6 m; ½ m v² - G M m/R = 0",
        ("v = √(2 G M/R)", "v = 1.12×10⁴ m/s"),
        (2, "v = 1.12×10³ m/s"),
    ),
    Result(
        "a space station 400 km up", _book("13.4, satellite orbits"),
        "G : m^3/(kg s^2), positive; M, m : kg, positive; R, h, r : m, positive; v : m/s, positive; T : s, positive",
        "G = 6.67×10^-11 m³/(kg s²); M = 5.97×10^24 kg; R = 6370 km; h = 400 km; r = R + h; "
        "m v²/r = G M m/r²; T = 2π r/v",
        ("v = √(G M/r)", "v = 7.67×10³ m/s", "T = 5.55×10³ s"),
        (3, "T = 5.22×10³ s"),
    ),
    Result(
        "the force of the water on a dam", _book("14.1, fluids, density and pressure"),
        "ρ : kg/m^3, positive; g : m/s^2, positive; h, b, z : m, positive; F : N",
        "ρ = 1000 kg/m³; g = 9.80 m/s²; h = 80.0 m; b = 500 m; F = ∫_0^h ρ g z b dz",
        ("F = ½ ρ g b h²", "F = 1.57×10^10 N"),
        (1, "F = ρ g b h²"),
    ),
    Result(
        "a block on a spring", _book("15.1, simple harmonic motion"),
        "m : kg, positive; k : N/m, positive; ω : rad/s, positive; T : s, positive; A : m, positive; "
        "v : m/s; a : m/s^2",
        "m = 2.00 kg; k = 32.00 N/m; A = 0.02 m; ω² = k/m; T = 2π/ω; v = A ω; a = A ω²",
        ("ω = 4.00 rad/s", "T = 1.57 s", "v = 0.08 m/s, a = 0.32 m/s²"),
        (2, "T = 0.64 s"),
    ),
    Result(
        "gravity from a pendulum", _book("15.4, pendulums"),
        "ℓ : m, positive; T : s, positive; g : m/s^2, positive",
        "ℓ = 75.000 cm; T = 1.7357 s; T = 2π √(ℓ/g)",
        ("g = 4π² ℓ/T²", "g = 9.8281 m/s²"),
        (1, "g = 4π² T²/ℓ"),
    ),
    Result(
        "waves on the strings of a guitar", _book("16.3, wave speed on a stretched string"),
        "F, Q : N, positive; μ, λ : kg/m, positive; v : m/s, positive",
        "F = 56.40 N; μ = 3.09×10^-4 kg/m; λ = 5.78×10^-3 kg/m; v = √(F/μ); v = √(Q/λ)",
        ("v = 427 m/s", "Q = λ v² = 1055 N"),
        (1, "v = 4270 m/s"),
    ),
)


def brochure() -> tuple[Result, ...]:
    """Definitions of "The International System of Units", 9th edition (BIPM, 2019), and CODATA values."""
    si = "SI Brochure, 9th edition"
    return (
        Result("hour, day and the kilowatt hour", f"{si}, table 8; scipy.constants {c.hour} s, {c.day} s",
               "t_1, t_2 : s; E : J; P : W", "t_1 = 1 h; t_2 = 1 d; P = 1 kW; E = P t_1",
               (f"t_1 = {c.hour:.0f} s", f"t_2 = {c.day:.0f} s", "E = 3.6 MJ"), (3, "E = 3.6 kJ")),
        Result("degree, minute and second of arc", f"{si}, table 8",
               "α : rad", "α = 1°", ("α = π/180", "α = 0.0174533 rad"), (1, "α = 180/π")),
        Result("litre and tonne", f"{si}, table 8; scipy.constants.liter {c.liter}",
               "V : m^3; m : kg", "V = 1 L; m = 1 t", (f"V = {c.liter:.3f} m³", "m = 10³ kg"), (1, "V = 0.01 m³")),
        Result("derived units with names of their own", f"{si}, table 4",
               "F : N; E : J; P : W; p : Pa; f : Hz",
               "F = 1 N; E = 1 J; P = 1 W; p = 1 Pa; f = 1 Hz",
               ("F = 1 kg m/s²", "E = 1 kg m²/s² = 1 N m", "P = 1 J/s", "p = 1 N/m²", "f = 1 /s"),
               (4, "p = 1 N/cm²")),
        Result("prefixes", f"{si}, table 7",
               "x, y, z, w : m", "x = 1 km; y = 1 mm; z = 1 μm; w = 1 nm",
               ("x = 10³ m", "y = 10^-3 m", "z = 10^-6 m", "w = 10^-9 m"), (3, "z = 10^-3 m")),
        Result("the gas constant from the two that define it", "CODATA 2018 through scipy.constants",
               "N : 1/mol; k : J/K; R : J/(mol K)",
               f"N = {c.N_A / 1e23:.8f}×10^23 /mol; k = {c.k * 1e23:.6f}×10^-23 J/K; R = N k",
               (f"R = {c.R:.6f} J/(mol K)",), (1, f"R = {c.R * 1.001:.6f} J/(mol K)")),
        Result("standard gravity and a weight", "scipy.constants.g (3rd CGPM, 1901)",
               "m : kg; g : m/s^2; F : N", f"g = {c.g} m/s²; m = 1 kg; F = m g",
               (f"F = {c.g} N",), (1, "F = 9.81665 N")),
        Result("the knot", f"scipy.constants.knot {c.knot:.6f} m/s; nautical mile {c.nautical_mile} m",
               "v : m/s", f"v = {c.nautical_mile:.0f} m/(3600 s)", (f"v = {c.knot:.4f} m/s", "v = 1.852 km/h"),
               (2, "v = 18.52 km/h")),
    )
