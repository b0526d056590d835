"""English words of a first mechanics course, sorted by what they do in a line. Lists, no behaviour.

A word here can still be a product of names (`at`, `as`, `is`): derive.notation.tokens.words decides by what
stands around it.
"""

from __future__ import annotations

import re

from derive.notation.lists.word_lists import words

# Words that join two statements; several in a row are one joint ("and so", "which gives").
JOINING = words("""
    so hence thus therefore then but and since because where with gives give giving means yields yield yielding
    implies imply implying ie i.e i.e. that which leads becomes into need needs require requires
    takes costs makes produces
""")
# Joining words after which the first statement was an opened case: `v = 0 gives u = w`.
GIVING = frozenset(("gives", "yields", "means", "implies", "needs", "requires", "takes", "costs", "makes"))

# Opening words: the role they open.
OPENING = {
    "let": "let", "define": "let", "set": "let", "put": "let", "write": "let", "denote": "let", "call": "let",
    "try": "try", "guess": "try", "ansatz": "try",
    "suppose": "suppose", "assume": "suppose", "assuming": "suppose", "if": "suppose", "case": "suppose",
    "supposing": "suppose", "take": "suppose", "provided": "suppose", "unless": "suppose",
    "at": "at", "when": "at", "for": "at", "while": "at", "initially": "at", "once": "at",
    "until": "range", "till": "range",
    "as": "limit", "in": "limit", "lim": "limit",
}
# Words that only accompany mathematics. A statement may begin or end with them.
PROSE = words("""
    a about above absolute acceleration according act acting acts add added adding after again against air all
    almost along already also always am amplitude an angle angular another answer any apply applying approximate
    approximately approximation are area around as asked assumption at average away axis back balance balanced
    ball barge base be because become been before being below between block boat body both bottom bridge
    buoy by cable calculate call called can cancel cancels cannot capstan case centre center centripetal chain
    change changes check circle circular clearly coefficient collision combine combining common comparing
    compare component components condition conditions conservation conserved consider considering constant
    constants contact could crane cross damping deck def definition definitions density depth derivative derive
    derived differentiate differentiating differentiation dimension dimensionless direction displacement
    distance divide divided dividing do does done down downward downwards drag draw drop drum during each
    earlier efficiency eliminate eliminating end ends energy enough equal equals equating equation equations equilibrium
    error every everything exact exactly exam exercise expand expanding expected expression extension external factor
    ferry final finally find finding first float floating floats flow follows following force forces form formula
    found fraction free frequency friction from fully function further gain gangway general get gets getting given gives
    go goes going got gravitational gravity greater ground had half hand harmonic has have having heavy height
    held here holds horizontal horizontally hull identity ignore ignored ignoring impulse in inclined inertia
    initial initially inserting instant integral integrate integrating integration into is it its itself just
    kinetic know known large last later law least left length less let lever lies lift light like limit line linear
    lock long loss losses lost low magnitude make makes mass maximal maximum mean means mechanical method middle minimum
    moment momentum more moreover motion move moves moving much multiply multiplied multiplying must namely near
    neglect neglected neglecting net never new next no none non normal not note nothing notice now obtain
    obtained obtaining occurs of off on once one only onto opposite oscillates oscillation oscillations other
    others our out over parallel part particular path pendulum per percentage period perpendicular phase pivot
    platform plug plugging point position positive possible potential power pressure problem product prove proved
    provided pull pulley put putting qed quadratic quay quantity question radial radius ramp range rate ratio reach
    reached reaches reaction read rearrange rearranging reason recall reduce reduced relation relative remains
    replace replacing required requires respect respectively rest resting result resultant resulting right rigid
    ring rod roll rolling rolls root roots rope rotation rotational rotating same satisfied satisfies satisfy
    say second see seen separate separating shaft ship show shown shows side sides sign signs similarly simple
    simplified simplify simplifying since slide slides sliding slip slipping slipway slope slow small smaller
    smooth solution solutions solve solved solving some speed spring square squared squaring start starting
    starts state static stays steady still stop stopped stops string subject substitute substituted substituting
    substitution subtract subtracting such sum surface system take taken takes taking tangential taut tension
    term terminal terms than thanks that the their them then there these they third this those through
    throughout throw time times to together top torque torques total towards transverse tug turn twice two under
    uniform unit units until up upon upward upwards us use used uses using usual valid value values vanish
    vanishes variable variables vector vectors velocity vertical vertically very via volume want was water wave
    way we weight well were wheel when where whereas which while whole whose will winch with within without work
    works would write writing yield you zero newton newtons newtonian hooke hookes archimedes euler lagrange
    lagrangian kepler pythagoras steiner atwood equal increases decreases increasing decreasing remember else
    otherwise independent independently dependent regardless whatever exists unknown instead therefore thus hence
    consequently accordingly let's lets i.e. e.g. q.e.d cf ok yes true false wait hmm eqn eq eqs equ iii const symmetric
    symmetry sense sin-law stable unstable stability neutral bounded unbounded trivial
    physical unphysical reject rejected discard discarded
    impossible allowed escapes elastic inelastic perfectly overdamped underdamped critically damped undamped resonance
    agrees agreed sensible reasonable turns revolution revolutions lap laps bounce bounces step steps impact
    compression stretch landing launch support supports gate rises falls lands tips topples periods swings cycles
    ans sol soln approx resp fig figure
    resistance resistances substance standing stand stands retardation retarding retarded metal detail details
    retain retains explosion explode explodes exploding exploded expands expansion experience experiences experiment
    explain explains exposed expelled expels section sections sector sinks sinking single rising raising losing
    closing passing pressing crossing cosmic logs tangent tank tanker instantaneous graphical rhombus machine
    machines machinery reaching pitching catching stretching launching attaching touching absorb absorbs absorbed
    absorbing uphill downhill periapsis apoapsis sun sea arm cog tie ties bend bow gas rectangle wires compressing
    releasing
    ice icy oil oily wet dry mud rim hub lid box van bus tow jib bob
    man men woman boy girl child dog car cart tip
    cosine sine max maximised minimised maximized minimized greatest smallest largest biggest highest lowest
    shm eom fbd ode need needs needed require conclude concludes deduce infer arrive tells
""")
# Words that stand for a sign: where mathematics ends in one of these, something was meant by it.
MEANING_A_SIGN = words("times plus minus over divided multiplied squared cubed per root")
# Words that tell how a motion starts.
STARTS = re.compile(
    r"\b(initial(ly)?|start(s|ing|ed)?|beg(ins?|inning|an)|released?|let go|sets? off|from rest|at first(?! order))\b")
SMALL_WORDS = frozenset(("small", "tiny", "little"))
RUNNING = frozenset(("runs", "goes", "varies", "ranges", "run", "going", "running"))
