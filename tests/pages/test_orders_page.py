"""The page of orders: hostile words stay words, a home without needs has no page."""

from datetime import date

import markdown

from steadbook.making import made_manual
from steadbook.pages.escape import verbatim

HOSTILE = "</code></pre><script>x</script>\n\n```\n* not a list `_a_` {: #id } &amp; {{ 7*7 }}\n   indented"


def test_a_text_to_copy_comes_out_as_it_went_in():
    from lxml import html

    made = markdown.markdown(
        f"before\n\n{verbatim(HOSTILE)}\n\nafter", extensions=["attr_list", "md_in_html", "tables"]
    )
    tree = html.fromstring(f"<div>{made}</div>")
    assert tree.xpath("//script") == []
    assert [one.text_content() for one in tree.xpath("//pre")] == [HOSTILE]
    assert tree.xpath("//p")[-1].text == "after"


def test_the_starter_home_has_no_empty_page_of_orders(tmp_path):
    from steadbook.starting import start_home

    start_home(tmp_path / "new")
    manual = made_manual(tmp_path / "new", as_of=date(2026, 11, 25)).manual
    for page in manual.pages:
        if page.path == "orders.md":
            assert "## " in page.markdown


def test_the_demo_orders_plugs_now_and_shows_accounts_to_the_owner_alone(tmp_path, demo_copy):
    demo_copy(tmp_path)
    pages = {
        edition: {
            page.path: page.markdown
            for page in made_manual(
                tmp_path, as_of=date(2026, 11, 25), edition=edition
            ).manual.pages
        }
        for edition in ("owner", "technician")
    }
    owner = pages["owner"]["orders.md"]
    assert "**Order now:**" in owner
    assert "Account: QE-30771" in owner
    assert "Goes along, though it could wait" in owner
    assert "## Under way" in owner
    assert "orders.md" not in pages["technician"]
    assert "QE-30771" not in "".join(pages["technician"].values())
