"""Sheets to write on, cut out or stand behind: blank forms, cards, tab dividers, spine label.

All are tabs like any other: pass them to :func:`steadbook.bind.binder.bind`, in the binder or in
one of their own. Each blank form bears a QR mark that names form and machine, so that a picture
of a filled-in sheet says what it belongs to.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from html import escape

import segno

from steadbook.bind.sheets import Tab, fingerprint

LINE, LEAST_LINE = 9.0, 8.2
"""Height of a line to write on by hand, and on a crowded form; 8 mm is the least. [mm]"""

LINES_A_SHEET = 20
QR_SIZE = 24.0

BLANK_SIDE = '<section class="blank-side"><p>This side is left blank.</p></section>'


@dataclass(frozen=True)
class Form:
    """A blank form: its columns with their shares of the width, in per cent."""

    key: str
    title: str
    hint: str
    columns: tuple[tuple[str, int], ...]
    lines: int = LINES_A_SHEET
    line_height: float = LINE
    blanks: tuple[str, ...] = ()
    """What is written once for the whole sheet."""
    is_numbered: bool = False


RUN_LOG = Form(
    "run-log",
    "Run log",
    "One line a run. Read the hour meter after the stop.",
    (
        ("Date", 12),
        ("Start", 10),
        ("Stop", 10),
        ("Hour meter", 13),
        ("Load", 11),
        ("Oil added", 11),
        ("What was seen or heard", 24),
        ("By", 9),
    ),
)

SERVICE_RECORD = Form(
    "service-record",
    "Service record",
    "One line a task. Measured values as read, with their unit.",
    (
        ("Date", 12),
        ("Hour meter", 13),
        ("Task", 26),
        ("Parts used", 20),
        ("Found or measured", 20),
        ("By", 9),
    ),
)

FUEL_LOG = Form(
    "fuel-log",
    "Fuel log",
    "One line a reading or a delivery.",
    (
        ("Date", 13),
        ("Gauge or dip", 14),
        ("Delivered", 14),
        ("Gauge after", 14),
        ("Price", 12),
        ("From, ticket number", 24),
        ("By", 9),
    ),
)


def gravity_sheet(cells: int) -> Form:
    """A sheet for one round of specific-gravity readings of a battery of so many cells."""
    return Form(
        "specific-gravity",
        "Gravity sheet",
        "Read the electrolyte's temperature with each cell; correct before comparing cells.",
        (
            ("Cell", 10),
            ("Reading", 16),
            ("Temperature", 18),
            ("Corrected", 16),
            ("Water added", 20),
            ("Remarks", 20),
        ),
        lines=cells,
        line_height=LEAST_LINE,
        blanks=("Date", "Hours at rest", "By"),
        is_numbered=True,
    )


@dataclass(frozen=True)
class Card:
    """A half sheet in large type, to hang where the work is done."""

    title: str
    lines: tuple[str, ...]


def forms_tab(
    forms: Sequence[tuple[Form, str]], *, key: str = "forms", title: str = "Forms"
) -> Tab:
    """Blank forms, each for the machine, tank or battery named with it."""
    return Tab(key, title, "".join(_form(key, form, subject) for form, subject in forms))


def cards_tab(cards: Sequence[Card], *, key: str = "cards", title: str = "Cards") -> Tab:
    """Cards, two to a sheet, with a line to cut along."""
    return Tab(key, title, "".join(map(_card, cards)))


def dividers_tab(
    titles: Sequence[str], *, duplex: bool = True, key: str = "dividers", title: str = "Dividers"
) -> Tab:
    """A stiff sheet to stand before each tab, its name in a black mark that steps down the edge.

    Printed on both sides, the back of each is left blank, and says so.
    """
    step = 200 / max(1, len(titles))
    back = BLANK_SIDE if duplex else ""
    return Tab(
        key,
        title,
        "".join(_divider(name, number * step) + back for number, name in enumerate(titles)),
    )


def spine_tab(
    title: str, subtitle: str, *, height: float = 38.0, key: str = "spine", label: str = "Spine"
) -> Tab:
    """A label for the binder's spine, 230 mm long and `height` high, to cut out. [mm]"""
    html = (
        f'<div class="spine" style="height:{height}mm"><p class="spine-title">{escape(title)}</p>'
        f"<p>{escape(subtitle)}</p></div><p>Cut along the frame and slide it into the spine.</p>"
    )
    return Tab(key, label, html, landscape=True)


def _form(tab: str, form: Form, subject: str) -> str:
    head = "".join(f'<th style="width:{width}%">{name}</th>' for name, width in form.columns)
    rest = "<td></td>" * (len(form.columns) - 1)
    rows = "".join(
        f'<tr style="height:{form.line_height}mm"><td>{n if form.is_numbered else ""}</td>{rest}</tr>'
        for n in range(1, form.lines + 1)
    )
    blanks = " ".join(f'{name} <span class="blank"></span>' for name in form.blanks)
    return (
        f'<section class="form">{_qr(f"{form.key}: {subject}")}'
        f'<h1 id="{tab}-{form.key}-{_slug(subject)}">{form.title}: {escape(subject)}</h1>'
        f"<p>{form.hint}</p>{f'<p>{blanks}</p>' if blanks else ''}"
        f'<table class="ruled"><thead><tr>{head}</tr></thead><tbody>{rows}</tbody></table></section>'
    )


def _qr(text: str) -> str:
    """A QR mark as a drawing, with the white border that readers need."""
    mark = segno.make(text, micro=False, error="m")
    wide, _ = mark.symbol_size(border=4)
    return (
        f'<svg class="qr" viewBox="0 0 {wide} {wide}" width="{QR_SIZE}mm" height="{QR_SIZE}mm">'
        f'<path fill="#000" d="{"".join(_modules(mark))}"/></svg>'
    )


def _modules(mark: segno.QRCode) -> Sequence[str]:
    return [
        f"M{column} {row}h1v1h-1z"
        for row, line in enumerate(mark.matrix_iter(border=4))
        for column, is_dark in enumerate(line)
        if is_dark
    ]


def _card(card: Card) -> str:
    lines = "".join(f"<li>{escape(line)}</li>" for line in card.lines)
    return (
        f'<section class="card"><p class="card-title">{escape(card.title)}</p>'
        f"<ol>{lines}</ol></section>"
    )


def _divider(name: str, drop: float) -> str:
    return (
        f'<section class="divider"><div style="height:{drop:.1f}mm"></div>'
        f'<p class="divider-name">{escape(name)}</p></section>'
    )


def _slug(text: str) -> str:
    """A text as an id. Letters that an id of a PDF cannot hold are stood for by a fingerprint."""
    words = "-".join(re.findall("[a-z0-9]+", text.lower()))
    return words if text.isascii() else f"{words}-{fingerprint(text.encode())}"
