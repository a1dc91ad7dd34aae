"""What a builder does on the pages, as verbs."""

from playwright.sync_api import Page

from gudgeon.records.services.entry import Who
from gudgeon.records.services.job import JobTyped, open_job, set_scope
from gudgeon.records.services.person import add_person


def a_job(scope: tuple[str, ...] = ()) -> str:
    """A job to measure on, opened underneath."""
    add_person("KM", "Kit Marlow")
    number = open_job(JobTyped(arrival="measure_only", engine_name="Whinmoor 349"), Who("KM"))
    if scope:
        set_scope(number, scope)
    return number


def this_is_me(page: Page) -> None:
    """The device remembers who holds it."""
    page.goto("/people/")
    page.get_by_role("button", name="Kit Marlow is working now").click()
    page.get_by_text("working now, on this device").wait_for()


def bore(page: Page, position: str, n: int = 1):
    """The field of one reading of the bore."""
    return page.locator(f"#i-bore-diameter-1-{position}-as-found-1-{n}")


def saved(page: Page, position: str, n: int = 1) -> None:
    """Wait until the reading says that it is saved."""
    page.locator(f"#w-bore-diameter-1-{position}-as-found-1-{n}", has_text="saved").wait_for()
