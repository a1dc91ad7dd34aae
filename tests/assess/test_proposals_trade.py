"""What is proposed in situations written from the trade's words."""

import pytest
from tests.assess.scenes import machine_words
from tests.assess.situations import Situation, bench, bore, seen
from tests.assess.situations_measured import MATES, MEASURED, RUN
from tests.assess.situations_seen import HEARD, SEEN

from gudgeon.assess import assess
from gudgeon.datasheet import LimitRow


@pytest.mark.parametrize("situation", [*SEEN, *HEARD, *MEASURED, *RUN], ids=lambda one: one.words)
def test_the_trade_would_propose(situation: Situation) -> None:
    proposals = assess(situation.job()).proposals
    assert machine_words(reason for one in proposals for reason in one.reasons) == []
    site = (situation.part, situation.instance)
    found = next((one for one in proposals if (one.part, one.instance) == site), None)
    reasons = found.reasons if found else ()
    assert (found.choice if found else "") == situation.wanted, reasons
    for words in situation.told:
        assert any(words in reason for reason in reasons), reasons


@pytest.mark.parametrize(("most", "wanted", "told"), MATES)
def test_a_part_that_stays_is_tried_against_the_new_one_beside_it(most: str, wanted: str, told: str) -> None:
    """A part inside its limit beside a new mate that makes the clearance worse is a known mistake."""
    row = LimitRow(band_low="0.040 mm", band_high="0.060 mm", service_max=most, page="4-13")
    one = bench(bore("77.440"), seen("pst_four_corner", "piston"), limits={"piston_to_bore": (row,)})
    found = next(each for each in assess(one).proposals if each.part == "cylinder")
    assert found.choice == wanted, found.reasons
    assert any(told in reason for reason in found.reasons), found.reasons
