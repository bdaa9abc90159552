"""Tells a home outside the United States which standards on a page are not its own country's.

The values stay: where no other is at hand they are better than none. The words say whose they are.
"""

from __future__ import annotations

import re

MARK = " (US)"

NOTE = (
    "(US): a standard, code or agency of the United States. What your own country says on it "
    "comes first."
)

_BODIES = re.compile(
    r"\b(?:NFPA(?: \d[\d.]*\b)*|UL \d+|OSHA|NIOSH|ACGIH|EPA|CPSC|CDC|NRCS|USDA"
    r"|ASHRAE(?: Fundamentals)?|IRC R\d+|International Fuel Gas Code|(?:\d+ )?CFR(?: [\d.]+)*)(?!\w)"
)
_HOME = re.compile(r"\bU\.?S\.?\b|United States")
_FENCE = re.compile(r"^\s*(```|~~~)")


def told_abroad(markdown: str) -> str:
    """A page's Markdown with a mark at each standard of the United States, and what it means.

    A line that names the country already is left as it is, and so is code.

    >>> print(told_abroad("Replace it after ten years (NFPA 72)."))
    Replace it after ten years (NFPA 72 (US)).
    <BLANKLINE>
    (US): a standard, code or agency of the United States. What your own country says on it comes first.
    <BLANKLINE>
    """
    in_code = False
    lines = []
    marked = False
    for line in markdown.split("\n"):
        if _FENCE.match(line):
            in_code = not in_code
        elif not in_code and not line.startswith("    ") and not _HOME.search(line):
            told = _BODIES.sub(lambda found: found[0] + MARK, line, count=1)
            marked = marked or told != line
            line = told
        lines.append(line)
    if not marked:
        return markdown
    return "\n".join(lines).rstrip("\n") + f"\n\n{NOTE}\n"
