"""Report, changes and proof in high contrast, measured in a browser.

Two ways a person asks for it: forced colours, where the system's own colours replace those of the
page (CSS Color Adjustment 1, section 3), and the wish for more contrast (Media Queries 5, section
12.3), where text must reach WCAG 1.4.6 (7 to 1); borders and focus 3 to 1 (WCAG 1.4.11, 2.4.13).
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page

pytestmark = pytest.mark.browser
NAMES = ["report.html", "changes.html", "proof.html", "proof.v1.html", "proof.v2.html"]
WISHES = [
    {"forced_colors": "active", "color_scheme": "light"},
    {"forced_colors": "active", "color_scheme": "dark"},
    {"contrast": "more", "color_scheme": "light"},
    {"contrast": "more", "color_scheme": "dark"},
]
# Contrast by WCAG 2.2, "relative luminance"; what lies behind is the first background that is
# not see-through.
TOOLS = """
const parts = c => (c.match(/[\\d.]+/g) || []).map(Number);
const light = c => parts(c).slice(0, 3).map(v => v / 255)
  .map(v => v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4)
  .reduce((sum, v, at) => sum + v * [0.2126, 0.7152, 0.0722][at], 0);
const ratio = (a, b) => { const [x, y] = [light(a), light(b)];
  return (Math.max(x, y) + 0.05) / (Math.min(x, y) + 0.05); };
const behind = e => { for (; e; e = e.parentElement) {
  const c = getComputedStyle(e).backgroundColor, p = parts(c);
  if (p.length < 4 || p[3] > 0) return c; }
  const probe = document.createElement('i'); probe.style.color = 'Canvas';
  document.body.append(probe); const c = getComputedStyle(probe).color; probe.remove(); return c; };
const start = e => e.outerHTML.slice(0, 80);
"""
FAINT_TEXT = """
  return [...document.querySelectorAll('body *')].filter(e => e.checkVisibility()
      && [...e.childNodes].some(n => n.nodeType === 3 && n.data.trim()))
    .map(e => [ratio(getComputedStyle(e).color, behind(e)), start(e)])
    .filter(row => !(row[0] >= 7));"""
# The border of each box, on the left, where each has one.
FAINT_BORDERS = """
  return [...document.querySelectorAll('.verdict, article, .page, li.c')]
    .filter(e => e.checkVisibility())
    .map(e => { const s = getComputedStyle(e); return [s.borderLeftStyle, s.borderLeftWidth,
      ratio(s.borderLeftColor, behind(e.parentElement)), start(e)]; })
    .filter(row => row[0] === 'none' || row[1] === '0px' || !(row[2] >= 3));"""
FOCUS = """
  const e = document.activeElement, s = getComputedStyle(e);
  return e === document.body ? null : [s.outlineStyle, parseFloat(s.outlineWidth),
    ratio(s.outlineColor, behind(e.parentElement)), start(e)];"""


def measure(page: Page, what: str) -> Any:
    """What a piece of script finds in a page."""
    return page.evaluate(f"() => {{ {TOOLS} {what} }}")


def opened(browser: Browser, path: Path, wish: dict[str, str]) -> Page:
    page = browser.new_page(**wish)  # type: ignore[arg-type]
    page.goto(path.as_uri())
    page.evaluate("document.querySelectorAll('details').forEach(d => d.open = true)")
    return page


@pytest.mark.parametrize("wish", WISHES, ids=lambda wish: "-".join(wish.values()))
@pytest.mark.parametrize("name", NAMES)
def test_text_borders_and_focus_are_seen(
    browser: Browser,
    folder: Path,
    name: str,
    wish: dict[str, str],
) -> None:
    page = opened(browser, folder / name, wish)
    query = "(forced-colors: active)" if "forced_colors" in wish else "(prefers-contrast: more)"
    assert page.evaluate(f"matchMedia('{query}').matches")
    assert measure(page, FAINT_TEXT) == []
    assert measure(page, FAINT_BORDERS) == []
    seen = 0
    for _ in range(60):
        page.keyboard.press("Tab")
        row = measure(page, FOCUS)
        if row is None:
            break
        seen += 1
        assert row[0] != "none", row
        assert row[1] >= 2, row
        assert row[2] >= 3, row
    assert seen >= 3
    tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
    found = Axe().run(page, options={"runOnly": {"type": "tag", "values": tags}})
    page.close()
    assert found.violations_count == 0, found.generate_report()


@pytest.mark.parametrize("wish", WISHES, ids=lambda wish: "-".join(wish.values()))
def test_the_line_a_link_leads_to_is_outlined(
    browser: Browser,
    folder: Path,
    wish: dict[str, str],
) -> None:
    """Forced colours take its background away, so an outline marks it too."""
    page = opened(browser, folder / "proof.v1.html", wish)
    page.evaluate("location.hash = '#v1-p1-l8'")
    style = page.evaluate("getComputedStyle(document.querySelector('li:target')).outlineStyle")
    page.close()
    assert style == "solid"


def test_the_measure_itself_sees_faint_text_and_borders(browser: Browser) -> None:
    page = browser.new_page()
    page.set_content(
        "<p style='color:#777;background:#fff'>faint</p>"
        "<article style='border:1px solid #eee'>box</article>"
    )
    assert len(measure(page, FAINT_TEXT)) == 1
    assert len(measure(page, FAINT_BORDERS)) == 1
    page.close()


def test_marked_lines_are_in_the_proof_that_is_measured(folder: Path) -> None:
    assert any('<li id="v' in (text := p.read_text("utf-8")) and 'class="c"' in text
               for p in folder.glob("proof.v*.html"))  # fmt: skip
