"""What the findings that are no rules speak of: those of the making (T) and those of strength (S)."""

from __future__ import annotations

MAKING = {
    "T100": "the cutter, its guide or the end mill does not fit the opening at all",
    "T101": "the predicted cut takes no metal beyond the rough line",
    "T102": (
        "the sharpest corner that the cutter leaves is the one that is wanted; "
        "if not, every way that would give it"
    ),
    "T103": "the cutter goes round every loop of the wanted cut",
    "T104": "the blank holds the template, the machine's travel holds it and its clamps",
    "T105": "the offset and the size of the template: an answer, not a judgement",
    "T201": "the offset that the template was made for is the real one",
    "T202": "metal is left to be filed with the template as it is",
    "T203": "the width of the cut does not drift",
    "T204": "the cut is as wide along X as along Y",
    "T205": "the template lay true on the datum cross",
    "T206": "the cut is concentric with its guide",
    "T301": "the skin is no thicker than the tool cuts cleanly",
    "T302": "the hand tool turns the sharpest corner",
    "T303": "what lies behind the line of the cut is farther than the tool reaches",
    "T304": "the tool gets from its starting hole to the farthest part of the line",
    "T305": "the hole saw or step drill has the size of the corners",
    "T306": "what the findings need of the tool has been measured",
    "T401": "no neck, slot, tongue or wall is left standing or cut away",
    "T402": "metal is left to file everywhere, least and most of it",
    "T403": (
        "the ridges between bites are no higher than the metal left to file; "
        "corners that need bites placed by hand"
    ),
    "T404": "an eccentric cut stays inside the metal left to file",
    "T501": "temporary fasteners hold the template in every stage",
    "T502": "loose pins move the edge by no more than is left to file",
    "T601": "the starter hole is clear of the line and of all that lies behind",
    "T602": "the drill's stop lets it through the skin and no farther",
    "T603": "what lies behind the corner holes",
    "T701": "the radius of the skin; double curvature is refused",
    "T702": "the error of a rigid flat template",
    "T703": "the pattern of a template that is flexed, and its shrink where it was not drawn for it",
    "T704": "the error of a doubler that is drilled flat",
    "T705": "the radius to roll the doubler to",
    "T706": "the gap under a flat base",
    "T707": "the edge of a flexed template, open like a fan, leaves the cut inside the metal left to file",
    "T801": "the key hole of the template",
    "T802": "the template in hand is the one of this job and side",
    "T901": "with the shop's own scatter, the chance that a hole comes out short of its edge distance",
}
"""Code to what it says; docs/template-findings.md says the same."""

STRENGTH = {
    "S101": ("gate: opening in the web or a cap of a spar", "docs/theory/gate.md"),
    "S102": ("gate: skin that holds cabin pressure", "docs/theory/gate.md"),
    "S103": ("gate: wall of a fuel tank", "docs/theory/gate.md"),
    "S104": ("gate: control surface, tab or flap", "docs/theory/gate.md"),
    "S105": ("gate: load path of a strut or fitting", "docs/theory/gate.md"),
    "S106": ("gate: stringer, frame or rib flange cut", "docs/theory/gate.md"),
    "S107": ("gate: half a bay", "docs/theory/gate.md"),
    "S201": ("rivets on a side, ultimate", "docs/theory/rivet.md"),
    "S202": ("hardest worked row on a side, limit load against bearing yield", "docs/theory/load_sharing.md"),
    "S203": ("number of rivets: there, by load, by the circular's tables", "docs/theory/rivet.md"),
    "S301": ("skin at its first row", "docs/theory/net_section.md"),
    "S302": ("doubler across the opening, direct load", "docs/theory/net_section.md"),
    "S303": ("doubler across the opening, shear", "docs/theory/net_section.md"),
    "S304": ("tear-out to the nearest edge", "docs/theory/bearing.md"),
    "S305": ("what the first row leaves of the skin (restore basis)", "docs/theory/net_section.md"),
    "S306": ("metal put back against metal removed", "docs/theory/net_section.md"),
    "S401": ("sheet between rivets in compression", "docs/theory/stability.md"),
    "S402": ("skin beside the opening in compression", "docs/theory/stability.md"),
    "S501": ("skin beside the opening in shear", "docs/theory/shear_bay.md"),
    "S502": ("skin over and under the opening in shear", "docs/theory/shear_bay.md"),
    "S503": ("end loads of members along the opening", "docs/theory/shear_bay.md"),
    "S504": ("running load on the rows of the bay", "docs/theory/diagonal_tension.md"),
    "S505": ("whether the bay buckled in shear as it was", "docs/theory/stability.md"),
    "S601": ("cover under air load", "docs/theory/cover.md"),
    "S602": ("cover screws in tension", "docs/theory/cover.md"),
    "S603": ("cover screws under the load that the cover draws, without clearance", "docs/theory/cover.md"),
    "S604": (
        "cover screws under the load that the cover draws, centred in their holes",
        "docs/theory/cover.md",
    ),
    "S701": ("peak stress at the edge of the bare opening", "docs/theory/stress_concentration.md"),
    "S702": ("skin at its first row with bending", "docs/theory/one_sided.md"),
    "S703": ("thickness of a one-sided doubler", "docs/theory/one_sided.md"),
    "S801": ("hardest worked rivet, elastic, limit load against bearing yield", "docs/theory/fem.md"),
    "S802": ("skin between the rivets of a row", "docs/theory/fem.md"),
    "S803": ("buckling of the reinforced panel, lower bound", "docs/theory/fem.md"),
    "S804": (
        "hardest worked screw of a cover that carries, without clearance and centred in their holes",
        "docs/theory/cover.md",
    ),
    "S805": ("metal of a cover that carries, across its middle", "docs/theory/cover.md"),
    "S811": ("stress at the edge with the doubler", "docs/theory/fem.md"),
    "S812": ("buckling after against before", "docs/theory/fem.md"),
    "S813": ("what makes the finite elements less sure", "docs/theory/fem.md"),
    "S814": (
        "hardest worked rivet with the whole skin at its own strength (restore basis)",
        "docs/theory/fem.md",
    ),
    "S815": ("that the cover carries, and what that asks", "docs/theory/cover.md"),
    "S816": ("why the finite elements could not be carried through", "docs/theory/fem.md"),
}
"""Code to what it judges and the page that tells how; docs/strength.md lists the same."""
