"""What every page state is held to."""

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page

# Source: WCAG 2.2 (W3C, 2023), levels A and AA, as axe-core tags its rules.
STANDARD = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]
# Source: WCAG 2.2, 2.5.5 Target Size (Enhanced): 44 by 44 CSS pixels but within running text.
TOO_SMALL = """() => {
  const seen = (part) => part.checkVisibility({visibilityProperty: true, opacityProperty: true});
  // A box or a ring is pressed by its words as well.
  const target = (part) => part.matches("[type=checkbox], [type=radio]") ? part.closest("label") ||
    document.querySelector(`label[for="${CSS.escape(part.id)}"]`) || part : part;
  const isInText = (part) => {
    if (getComputedStyle(part).display !== "inline") return false;
    const words = (node) => node.textContent.replace(/\\s/g, "");
    const block = part.closest("p, li, dd, dt, td, th, figcaption, div");
    return block && words(block).replaceAll(/[,.;:()]/g, "") !==
      [...block.querySelectorAll("a")].map(words).join("").replaceAll(/[,.;:()]/g, "");
  };
  const pressed = "a[href], button, summary, select, textarea, input:not([type=hidden])";
  const open = document.querySelector("dialog[open]");
  return [...(open || document).querySelectorAll(pressed)].filter((part) => {
    if (!seen(part) || part.matches(".skip") || isInText(part)) return false;
    const {width, height} = target(part).getBoundingClientRect();
    return width && height && (width < 43.5 || height < 43.5);
  }).map((part) => {
    const {width, height} = target(part).getBoundingClientRect();
    return `${Math.round(width)} × ${Math.round(height)}: ${part.outerHTML.slice(0, 120)}`;
  });
}"""


def wrong_with(page: Page, for_families: bool) -> list[str]:
    """Give what is wrong with the state in which *page* is."""
    size = page.viewport_size
    wide, tall = page.evaluate(
        "() => [document.documentElement.scrollWidth, document.documentElement.scrollHeight]"
    )
    # What stands under the bar at the foot counts as too small while the page is cut off there.
    page.set_viewport_size({"width": size["width"], "height": max(tall, size["height"])})
    asked = {"runOnly": STANDARD, "resultTypes": ["violations"]}
    found = Axe().run(page, options=asked).response["violations"]
    wrong = [
        f"{each['id']}: {node['html'][:160]}: {node['failureSummary'][:240]}"
        for each in found
        for node in each["nodes"][:2]
    ]
    if wide > size["width"]:
        wrong.append(f"{wide - size['width']} px wider than the screen")
    if for_families:
        wrong += page.evaluate(TOO_SMALL)
    page.set_viewport_size(size)
    return wrong
