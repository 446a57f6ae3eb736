"""How tests walk through a child's day in a browser."""

from playwright.sync_api import Locator, Page


def go_to(page: Page, name: str) -> None:
    """Go to the screen *name* of the walk that is open."""
    page.goto(f"{page.url.split('#')[0]}#{name}")


def first_number(page: Page) -> Locator:
    """Go to the first screen that asks for a number, and return its field."""
    step = page.locator(".step-prompt:has(input[inputmode=numeric])").first
    go_to(page, step.get_attribute("id"))
    return step.locator("input")


def answer(page: Page, text: str) -> None:
    """Write *text* where the first number is asked for, and go where one sends from."""
    first_number(page).fill(text)
    go_to(page, "send")
