"""Every screen once: for those who see little, for those who touch, and for those who hold a phone.

The rules checked by axe-core are those of WCAG 2.2; 44 px is the least size of its target size (enhanced).
"""

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page
from tests.browser.screens import screens

TOUCH = 44
# A control inside a running sentence is exempt (WCAG 2.2, 2.5.5); so is what only readers of screens meet.
CONTROLS = "button, select, input:not([type=hidden]), textarea, .button, nav a, summary"
SMALL = """([controls, least]) => [...document.querySelectorAll(controls)]
  .filter(e => e.offsetParent && !e.closest('.choice') && !e.closest('.tick'))
  .map(e => [e.getBoundingClientRect().height, e.name || e.textContent.trim().slice(0, 30)])
  .filter(([height]) => height < least - 0.5)
  .map(([height, words]) => `${words} ${Math.round(height)}`)"""


WIDER = """() => {
  document.querySelectorAll("details").forEach((fold) => { fold.open = true; });
  return document.documentElement.scrollWidth - document.documentElement.clientWidth;
}"""  # with every fold open


def test_nothing_serious_on_any_screen(phone: Page) -> None:
    axe = Axe()
    found = []
    for name, address in screens().items():
        phone.goto(address)
        answer = axe.run(phone)
        found += [
            f"{name}: {rule['id']} {node['target']}"
            for rule in answer.response["violations"]
            if rule["impact"] in ("serious", "critical")
            for node in rule["nodes"]
        ]
        found += [
            f"{name}: too small to touch: {small}" for small in phone.evaluate(SMALL, [CONTROLS, TOUCH])
        ]
        wider = phone.evaluate(WIDER)
        found += [f"{name}: {wider} px wider than the phone"] if wider > 0 else []
    assert found == []


def test_dark_has_contrast_too(laptop: Page) -> None:
    laptop.emulate_media(color_scheme="dark")
    axe = Axe()
    found = []
    addresses = screens()
    for name in (
        "start",
        "job",
        "diagnosis",
        "condition-report",
        "holding",
        "leak-down-result",
        "measure-valve-train",
        "decide",
        "record-issued",
        "not-there",
    ):
        address = addresses[name]
        laptop.goto(address)
        answer = axe.run(laptop, options={"runOnly": {"type": "rule", "values": ["color-contrast"]}})
        found += [
            f"{name}: {node['target']}" for rule in answer.response["violations"] for node in rule["nodes"]
        ]
    assert found == []
