"""What every page state is held to."""

from playwright.sync_api import Page

from tests.standard import WCAG, faults_of

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
    """Return what is wrong with the state in which *page* is."""
    return faults_of(page, WCAG) + (page.evaluate(TOO_SMALL) if for_families else [])
