"""What the findings of the making (T) speak of."""

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
    "T106": "what is drilled through the template is no larger than the first drill of any hole under it",
    "T201": "the offset that the template was made for is the real one",
    "T202": "metal is left to be filed by the next cut with the template as it is",
    "T203": "the width of the cut does not drift",
    "T204": "the cut is as wide along X as along Y",
    "T205": "the template lay true on the datum cross",
    "T206": "the cut is concentric with its guide",
    "T207": "the next cut is known to less than the metal left to file",
    "T208": "the trial template as made is the one that was asked for",
    "T209": "no reading of the trial stands apart from the others",
    "T210": "the template was not turned against the datum cross, and the sides of the cut agree on it",
    "T211": "the corners of the trial cut have the radius that the cutter was to leave",
    "T301": "the skin is no thicker than the tool cuts cleanly",
    "T302": "the hand tool turns the sharpest corner",
    "T303": "what lies behind the waste, the line of the cut, or the tool beside it is farther than the tool reaches",
    "T304": "the tool gets from its starting hole to the farthest part of the line",
    "T305": "the hole saw or step drill has the size of the corners",
    "T306": "what the findings need of the tool has been measured",
    "T307": "no more metal is left to file than anybody files",
    "T401": "no neck, slot, tongue or wall is left standing or cut away",
    "T402": "metal is left to file everywhere, least and most of it",
    "T403": (
        "the ridges between bites are no higher than the metal left to file; "
        "corners that need bites placed by hand"
    ),
    "T404": "an eccentric cut stays inside the metal left to file",
    "T501": "temporary fasteners, or clamps on the border of a window, hold the template in every stage",
    "T502": "loose pins move the edge by no more than is left to file",
    "T601": "the starter hole is clear of the line, of all that lies behind and of a plug with the guide on it",
    "T602": "the drill's stop lets it through the skin and no farther",
    "T603": "what lies behind the corner holes",
    "T701": "the radius of the skin; double curvature is refused",
    "T702": "the error of a rigid flat template, and how far the cut along it goes beyond the line",
    "T703": "the pattern of a template that is flexed, and its shrink where it was not drawn for it",
    "T704": "the error of a doubler that is drilled flat",
    "T705": "the radius to roll the doubler to",
    "T706": "the gap under a flat base",
    "T707": "the edge of a flexed template, open like a fan, leaves the cut inside the metal left to file",
    "T801": "the key hole of the template",
    "T802": "the template in hand is the one of this job and side",
    "T803": "the holes of the template in hand are those of this job, in place and size",
    "T901": "with the shop's own scatter, the chance that a hole comes out short of its edge distance",
}
"""Code to what it says; docs/template-findings.md says the same."""
