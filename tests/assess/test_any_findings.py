"""Whatever is told, seen and heard, the diagnosis comes to something finished, and names what it rests on."""

import re

from hypothesis import given, settings
from hypothesis import strategies as st
from tests.assess.diagnosis_cases import Case, job_of
from tests.assess.scenes import machine_words

from gudgeon.assess.diagnosis import Diagnosis, diagnose
from gudgeon.catalog import catalog

TRADE = catalog()
SYMPTOMS = sorted(TRADE.reasoning.symptoms)
FINDINGS = [
    {"characteristic": check, "word": finding}
    for check, row in TRADE.diagnosis.prechecks.items()
    for finding in row.findings
]
READ = sorted({clue.reads for rule in TRADE.reasoning.rules.values() for clue in rule.when if clue.reads})
WORDS = [
    {"characteristic": key, "word": word}
    for key in READ
    for word in TRADE.characteristics[key].words
    if TRADE.characteristics[key].kind != "number"
]
STRENGTHS = ("none", "faint", "clear", "strong")
OUTLETS = ("intake", "exhaust", "case", "coolant", "outside", "plug", "neighbour")

leaks = st.fixed_dictionaries(
    {
        "percent": st.integers(1, 97),
        "restrictor": st.sampled_from(("1.0 mm", "0.8 mm", "")),
        "warm": st.booleans(),
        "cylinder": st.sampled_from(("1", "2")),
        "again": st.booleans(),
        "outlets": st.dictionaries(st.sampled_from(OUTLETS), st.sampled_from(STRENGTHS)),
    }
)
tables = st.fixed_dictionaries(
    {
        "title": st.just("Anything"),
        "engine": st.fixed_dictionaries(
            {
                "use": st.sampled_from(("race", "trail", "work")),
                "layout": st.fixed_dictionaries(
                    {
                        "cylinders": st.sampled_from((1, 2)),
                        "cooling": st.sampled_from(("air", "liquid")),
                        "decompressor": st.sampled_from(("none", "automatic", "manual")),
                        "start": st.sampled_from(("kick", "electric", "both")),
                    }
                ),
            }
        ),
        "facts": st.fixed_dictionaries(
            {"symptoms": st.lists(st.sampled_from(SYMPTOMS), max_size=5, unique=True)},
            optional={key: st.sampled_from(("yes", "no")) for key in ("runs", "turns", "debris")},
        ),
        "found": st.lists(
            st.sampled_from([*FINDINGS, *WORDS]), max_size=6, unique_by=lambda row: row["characteristic"]
        ),
        "leak": st.lists(leaks, max_size=3),
    }
)


def every_sentence(found: Diagnosis) -> list[str]:
    causes = [(one.summary, *(row.sentence for row in one.evidence_for)) for one in found.causes]
    lines = [found.headline, found.scope.sentence, *found.contradictions, *found.not_checked]
    lines += [sentence for one in causes for sentence in one]
    return [*lines, *((found.next_check.sentence,) if found.next_check else ())]


@given(tables)
@settings(max_examples=60, deadline=None)
def test_anything_found_comes_to_something_finished(told: dict[str, object]) -> None:
    found = diagnose(job_of(Case("any", told)))
    scopes = {*TRADE.scopes, "watch"}
    for cause in found.causes:
        assert cause.evidence_for or cause.evidence_against or cause.cause == "nothing_wrong"
        assert set(cause.scope) <= scopes
    assert set(found.scope.scopes) <= scopes
    likely = {one.cause for one in found.standing("likely")}
    assert "nothing_wrong" not in likely or len(likely) == 1
    assert found.next_check is None or found.next_check.check not in dict(found.not_possible)
    for sentence in every_sentence(found):
        assert sentence.rstrip().endswith((".", "?")), sentence
        assert not re.search(r"None|\{|\}", sentence), sentence
        assert not machine_words([sentence])
