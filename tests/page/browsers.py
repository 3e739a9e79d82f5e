"""A real browser for tests of pages."""

import shutil
from contextlib import contextmanager

MIDDLE = {"width": 1024, "height": 768}


@contextmanager
def chromium():
    """Chromium, driven by Playwright."""
    from playwright.sync_api import sync_playwright

    program = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))))
    with sync_playwright() as playwright:
        opened = playwright.chromium.launch(executable_path=program, args=["--no-sandbox"])
        yield opened
        opened.close()


@contextmanager
def quiet_page(browser, address, viewport=MIDDLE, **more):
    """A page of a browser that was never here; what its console complains of fails the test."""
    context = browser.new_context(base_url=address, viewport=viewport, **more)
    page = context.new_page()
    said = []
    page.on("console", lambda message: said.append(message.text))
    page.on("pageerror", lambda error: said.append(str(error)))
    yield page
    context.close()
    assert said == []


def expected(page, selector):
    from playwright.sync_api import expect

    return expect(page.locator(selector))


def violations(page):
    """What axe-core finds wrong with a page, and whether it is to be scrolled sideways or past its end."""
    from axe_playwright_python.sync_playwright import Axe

    seen = Axe().run(page).response["violations"]
    found = [(page.url, one["id"], one["nodes"][0]["html"]) for one in seen]
    wide = not page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    if wide:
        found.append((page.url, "scrolls sideways", ""))
    if page.evaluate(
        "document.documentElement.scrollHeight > Math.max(innerHeight, document.body.offsetHeight) + 80"
    ):
        found.append((page.url, "scrolls past its end", ""))
    return found
