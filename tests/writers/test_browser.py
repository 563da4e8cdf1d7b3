"""The report and the proof in a browser: WCAG 2.2 AA by machine, keyboard, reflow, no script."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page

from convert.output import write_edition
from convert.pipeline import convert_source, settings_from
from convert.writers import proof

from ..readers.make import epub
from .test_report_parts import BODY, DECISIONS

pytestmark = pytest.mark.browser
FORMATS = ("report", "proof", "trace")
PAGES = ["report.html", "changes.html", "proof.html", "proof.v1.html", "proof.v2.html"]


def open_page(browser: Browser, folder: Path, name: str, **options: object) -> Page:
    page = browser.new_page(**options)  # type: ignore[arg-type]
    page.goto((folder / name).as_uri())
    return page


@pytest.mark.parametrize(
    "name, scheme",
    [
        *((name, "light") for name in PAGES),
        ("report.html", "dark"),
        ("changes.html", "dark"),
        ("proof.v1.html", "dark"),
    ],
)
def test_axe_finds_nothing(browser: Browser, folder: Path, name: str, scheme: str) -> None:
    page = open_page(browser, folder, name, color_scheme=scheme)
    page.evaluate("document.querySelectorAll('details').forEach(d => d.open = true)")
    tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
    found = Axe().run(page, options={"runOnly": {"type": "tag", "values": tags}})
    page.close()
    assert found.violations_count == 0, found.generate_report()


@pytest.fixture(scope="module", params=["rivers", "permit-form"])
def whole(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory, fixtures: Path
) -> Path:
    """A whole document converted: pictures, a table, notes and a formula; a form."""
    out = tmp_path_factory.mktemp("whole")
    source = fixtures / "permit-form.docx" if request.param == "permit-form" else epub(out, BODY)
    edition = convert_source(source, settings_from(code="ueb-uncontracted"))
    earlier = replace(edition, recipe={"options": {"code": "ueb"}})
    write_edition(earlier, out / "braille", FORMATS)
    return write_edition(replace(edition, decisions=DECISIONS), out / "braille", FORMATS)


@pytest.mark.parametrize("name", ["report.html", "changes.html", "proof.html"])
def test_axe_finds_nothing_in_whole_documents(browser: Browser, whole: Path, name: str) -> None:
    test_axe_finds_nothing(browser, whole, name, "light")
    test_reflow_at_320_pixels(browser, whole, name)


@pytest.mark.parametrize("name", PAGES)
def test_reflow_at_320_pixels(browser: Browser, folder: Path, name: str) -> None:
    """WCAG 1.4.10: no scrolling in two directions; tables may scroll inside themselves."""
    page = open_page(browser, folder, name, viewport={"width": 320, "height": 640})
    page.evaluate("document.querySelectorAll('details').forEach(d => d.open = true)")
    wide = page.evaluate("document.documentElement.scrollWidth")
    page.close()
    assert wide <= 320


def focused(page: Page) -> str:
    return str(page.evaluate("(document.activeElement.textContent || '').trim().slice(0, 60)"))


def test_keyboard_walk_of_the_report(browser: Browser, folder: Path) -> None:
    """WCAG 2.1.1, 2.4.1, 2.4.7: the skip link first, every link and list reached, focus seen."""
    page = open_page(browser, folder, "report.html")
    page.keyboard.press("Tab")
    assert focused(page) == "Skip to what must be settled"
    assert page.evaluate("document.activeElement.getBoundingClientRect().left") >= 0
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.id") == "main"
    reached = 0
    for _ in range(200):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement === document.body"):
            break
        reached += 1
        outline = page.evaluate("getComputedStyle(document.activeElement).outlineStyle")
        assert outline != "none", focused(page)
    wanted = page.evaluate(
        "[...document.querySelectorAll('main a, main summary, main [tabindex=\"0\"]')]"
        ".filter(e => e.checkVisibility()).length"
    )
    page.close()
    assert reached == wanted


def test_keyboard_walk_of_the_proof_and_the_changes(browser: Browser, whole: Path) -> None:
    """WCAG 2.1.1, 2.4.7: the skip link first; each control once, none a trap, each seen."""
    for name in ("proof.html", "changes.html"):
        page = open_page(browser, whole, name)
        page.keyboard.press("Tab")
        assert focused(page).startswith("Skip to")
        reached: list[str] = []
        for _ in range(400):
            page.keyboard.press("Tab")
            if page.evaluate("document.activeElement === document.body"):
                break
            reached.append(focused(page))
            assert page.evaluate("getComputedStyle(document.activeElement).outlineStyle") != "none"
        wanted = page.evaluate(
            "[...document.querySelectorAll('a, summary, input, [tabindex=\"0\"]')]"
            ".filter(e => e.checkVisibility()).length"
        )
        page.close()
        assert len(reached) == wanted - 1  # all but the skip link


def test_the_large_print_control_obeys_the_space_bar(browser: Browser, folder: Path) -> None:
    page = open_page(browser, folder, "proof.v1.html")
    page.locator("#large").focus()
    page.keyboard.press("Space")
    assert page.locator("#large").is_checked()
    page.close()


def test_places_open_from_the_keyboard(browser: Browser, folder: Path) -> None:
    page = open_page(browser, folder, "report.html")
    page.locator("article summary", has_text="All ").focus()
    assert not page.locator("article details table").is_visible()
    page.keyboard.press("Enter")
    assert page.locator("article details table").is_visible()
    page.close()


def test_a_link_of_the_report_lands_on_the_line(browser: Browser, folder: Path) -> None:
    page = open_page(browser, folder, "report.html")
    page.locator("article a", has_text="line 8").first.click()
    assert page.url.endswith("proof.v1.html#v1-p1-l8")
    assert "Farmers" in page.locator("li:target .s").inner_text()
    assert page.locator("li:target").bounding_box() is not None
    page.close()


def test_targets_are_large_enough(browser: Browser, folder: Path) -> None:
    """WCAG 2.5.8: at least 24 by 24 pixels for links that stand outside sentences."""
    for name in PAGES:
        page = open_page(browser, folder, name)
        # Pages far below are measured only when they are laid out, so all are.
        page.add_style_tag(content=".page { content-visibility: visible !important; }")
        small = page.evaluate(
            "[...document.querySelectorAll('nav a, th a, td a, summary')]"
            ".filter(e => e.checkVisibility())"
            ".filter(e => e.getBoundingClientRect().height < 24"
            " || e.getBoundingClientRect().width < 24).map(e => e.textContent)"
        )
        page.close()
        assert small == [], name


def test_nothing_is_fetched_and_no_script_is_needed(browser: Browser, folder: Path) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    for name in PAGES:
        page.goto((folder / name).as_uri())
        assert page.locator("h1").is_visible()
    context.close()
    assert [url.rpartition("/")[2] for url in asked] == PAGES


def test_print_style_shows_the_findings_and_hides_the_links(browser: Browser, folder: Path) -> None:
    page = open_page(browser, folder, "report.html")
    page.emulate_media(media="print")
    assert page.locator("article h3").first.is_visible()
    assert not page.locator("nav").first.is_visible()
    page.close()


def test_speech_order_of_a_proof_line(browser: Browser, folder: Path) -> None:
    """What assistive software is given: the print of a line, once, and no braille characters."""
    page = open_page(browser, folder, "proof.v1.html")
    tree = page.locator("#v1-p1").aria_snapshot()
    page.close()
    assert tree.count("Water runs from the hills to the sea,") >= 1
    assert not any("\u2800" <= char <= "\u28ff" for char in tree)


def test_the_checker_itself_sees_a_fault(browser: Browser) -> None:
    page = browser.new_page()
    page.set_content("<main><img src='x'><p style='color:#ccc;background:#fff'>faint</p></main>")
    found = {row["id"] for row in Axe().run(page).response["violations"]}
    page.close()
    assert {"image-alt", "color-contrast", "html-has-lang"} <= found


def test_large_print_without_script(browser: Browser, folder: Path) -> None:
    """A control of the browser's own: larger print and drawn dots, also at 320 pixels."""
    context = browser.new_context(java_script_enabled=False, viewport={"width": 320, "height": 640})
    page = context.new_page()
    page.goto((folder / "proof.v1.html").as_uri())
    word = page.locator("#v1-p1-l4 .w b", has_text="Water")
    before = word.bounding_box()
    page.get_by_label("Large print with drawn dots").check()
    after = word.bounding_box()
    assert before is not None
    assert after is not None
    assert after["height"] > 1.8 * before["height"]
    wide = page.locator("html").bounding_box()
    context.close()
    assert wide is not None
    assert wide["width"] <= 320


def test_drawn_dots_are_the_dots_of_each_cell(browser: Browser) -> None:
    """Ink in each of the six places of each of the 64 cells: a disc where the dot is raised."""
    css = (Path(proof.__file__).parent / "html" / "dots.css").read_text("utf-8")
    page = browser.new_page()
    page.set_content(f"<style>{css}</style><p style='font-family:\"Drawn dots\"'>\u283f</p>")
    wrong = page.evaluate(INK)
    page.close()
    assert wrong == []


# Draws each cell at 100 pixels to the em and looks at the middle of the six places.
INK = """async () => {
  await document.fonts.load('100px "Drawn dots"', '\u283f');
  const canvas = document.createElement('canvas'), c = canvas.getContext('2d'), wrong = [];
  canvas.width = canvas.height = 120;
  const places = [[14, 30], [14, 56], [14, 82], [40, 30], [40, 56], [40, 82]];
  for (let cell = 0; cell < 64; cell++) {
    c.clearRect(0, 0, 120, 120);
    c.font = '100px "Drawn dots"';
    c.fillText(String.fromCharCode(0x2800 + cell), 0, 100);
    places.forEach(([x, y], dot) => {
      const raised = c.getImageData(x, y, 1, 1).data[3] > 128;
      if (raised !== !!(cell >> dot & 1)) wrong.push([cell, dot + 1]);
    });
  }
  return wrong;
}"""
