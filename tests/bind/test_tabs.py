"""Pages as they go into the binder: links to sheets, drawings inside."""

from steadbook.bind import tabs
from steadbook.bind.tabs import binder_tabs
from steadbook.pages import Manual, Page


def page(path, markdown, tab="One", **more):
    return Page(path, path, tab, (1, path), markdown, **more)


def tab_of(*pages, drawings=None):
    return binder_tabs(Manual("Place", pages, drawings or {}))


def test_a_link_to_a_page_leads_to_its_heading():
    made = tab_of(
        page("a.md", "# A\n\n[to b](more/b.md) [part](more/b.md#deep)\n"),
        page("more/b.md", "# B\n\n## Deep {: #deep }\n", tab="Two"),
    )
    assert 'href="#more-b"' in made[0].html and 'href="#more-b--deep"' in made[0].html
    assert 'id="more-b"' in made[1].html and 'id="more-b--deep"' in made[1].html


def test_a_link_that_paper_cannot_follow_is_its_text():
    [tab] = tab_of(
        page("a.md", '# A\n\n<a href="tel:5550100">555-0100</a> [x](http://example.org/)\n')
    )
    assert "<a" not in tab.html and "555\N{NON-BREAKING HYPHEN}0100" in tab.html


def test_a_page_that_is_not_printed_is_not_linked():
    made = tab_of(page("a.md", "# A\n\n[b](b.md)\n"), page("b.md", "# B\n", in_binder=False))
    assert len(made) == 1 and "<a" not in made[0].html and "# B" not in made[0].html


def test_a_drawing_is_held_inside():
    [tab] = tab_of(
        page("x/a.md", "# A\n\n![what](../drawings/c.svg)\n"), drawings={"drawings/c.svg": "<svg/>"}
    )
    assert 'src="data:image/svg+xml;base64,PHN2Zy8+"' in tab.html and 'alt="what"' in tab.html


def test_every_page_but_the_first_begins_a_sheet():
    [tab] = tab_of(page("a.md", "# A\n"), page("b.md", "# B\n"))
    assert tab.html.count("new-sheet") == 1


def test_numbers_stay_with_their_units_on_paper_alone():
    [tab] = tab_of(page("a.md", "# A\n\n| Every |\n|---|\n| 6 months |\n"))
    assert "6\u00a0months" in tab.html


def test_an_unchanged_tab_is_not_made_again(tmp_path, monkeypatch):
    pages = [page("a.md", "# A\n\n![x](c.svg)\n"), page("b.md", "# B\n\n[a](a.md)\n", tab="Two")]

    def made(drawing, *pages):
        return binder_tabs(Manual("Place", pages, {"c.svg": drawing}), tmp_path)

    first = made("<svg/>", *pages)
    converted = []
    convert = tabs.to_html
    monkeypatch.setattr(tabs, "to_html", lambda text: converted.append(text) or convert(text))
    assert made("<svg/>", *pages) == first and converted == []
    changed = page("b.md", "# B\n\nMore. [a](a.md)\n", tab="Two")
    assert made("<svg/>", pages[0], changed) == binder_tabs(
        Manual("Place", (pages[0], changed), {"c.svg": "<svg/>"})
    )
    assert converted[0] == changed.markdown  # then once more for all that nothing was kept of
    converted.clear()
    assert made('<svg id="new"/>', *pages) != first
    assert converted == [one.markdown for one in pages]
    moved = page("a.md", pages[0].markdown, tab="Three")
    converted.clear()
    made('<svg id="new"/>', moved, pages[1])
    assert converted == [moved.markdown, pages[1].markdown]  # what leads to it may look different
