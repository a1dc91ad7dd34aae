"""What is wrong with a job file, said in plain words with the place in the file."""

import re

_WORDS = {
    "str": "text",
    "int": "a whole number",
    "float": "a number",
    "bool": "true or false",
    "null": "nothing",
    "array": "a list",
    "object": "a group of named entries",
}
_AT = re.compile(r" - at `(?P<path>[^`]*)`$")
_EXPECTED = re.compile(r"^Expected `(?P<wanted>[^`]+)`, got `(?P<given>[^`]+)`")
_UNKNOWN = re.compile(r"^Object contains unknown field `(?P<name>[^`]+)`")
_MISSING = re.compile(r"^Object missing required field `(?P<name>[^`]+)`")
_WORD = re.compile(r"^Invalid enum value (?P<given>.+)$")
_STEP = re.compile(r"\.(?P<name>\w+)|\[(?P<index>\d+)\]|\[(?P<any>\.\.\.)\]")


class JobFileError(ValueError):
    """A job file that cannot be used; ``faults`` holds one finished sentence for each thing wrong."""

    SHOWN = 10

    def __init__(self, *faults: str) -> None:
        self.faults = faults
        shown = " ".join(faults[: self.SHOWN])
        left = len(faults) - self.SHOWN
        super().__init__(f"{shown} And {left} more." if left > 0 else shown)


def explain(error: Exception, size: int) -> JobFileError:
    """One sentence for what the decoder met."""
    text = str(error)
    if isinstance(error, RecursionError):
        return JobFileError("This is not a job file: it is nested far deeper than any job.")
    if "truncated" in text:
        return JobFileError(
            f"This job file stops in the middle (after {size} bytes): it was not copied whole, copy it again."
        )
    at = _AT.search(text)
    if at is None and not text.startswith(("Expected", "Object", "Invalid enum")):
        return JobFileError("This is not a job file: its text is not JSON, or was damaged on the way.")
    return JobFileError(_misfit(_AT.sub("", text), where(at["path"] if at else "$")))


def _misfit(text: str, place: str) -> str:
    if found := _UNKNOWN.match(text):
        return f"Job file, {place}: “{found['name']}” is not a name this program knows there."
    if found := _MISSING.match(text):
        return f"Job file, {place}: “{found['name']}” is missing."
    if found := _EXPECTED.match(text):
        return f"Job file, {place}: {_words(found['given'])} was given, {_words(found['wanted'])} is allowed."
    if found := _WORD.match(text):
        return f"Job file, {place}: {found['given']} is not one of the words allowed there."
    return f"Job file, {place}: the value there is not allowed."


def _words(types: str) -> str:
    return " or ".join(_WORDS.get(name.strip(), name.strip()) for name in types.split("|"))


def where(path: str) -> str:
    """ "$.job.readings[3].value" as people say it: "readings, number 4, value"."""
    steps = []
    for step in _STEP.finditer(path.removeprefix("$")):
        if step["index"] is not None:
            steps.append(f"number {int(step['index']) + 1}")
        elif step["name"]:
            steps.append(step["name"].replace("_", " "))
        else:
            steps.append("one entry")
    if steps[:1] == ["job"]:
        steps = steps[1:]
    return ", ".join(steps) or "at its top"
