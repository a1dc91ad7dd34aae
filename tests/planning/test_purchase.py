"""Purchase: the optimum against every other order, shipping and dates by hand, refusals in one sentence."""

from datetime import date
from itertools import product
from operator import mul
from random import Random

import pytest

from gudgeon.planning.order_model import cover
from gudgeon.planning.purchase import Need, Offer, Supplier, purchase
from gudgeon.quantities import Refused

TODAY = date(2026, 5, 4)
UNIT = 10_000  # a price in whole smallest units, with its four decimals


def offer(
    key: str,
    supplier: str,
    holds: dict[str, int],
    price: int | None,
    *,
    lead: int = 2,
    stock: int | None = None,
) -> Offer:
    return Offer(key, supplier, f"offer {key}", holds, None if price is None else price * UNIT, lead, stock)


def tried_all(needs: list[Need], offers: list[Offer], suppliers: list[Supplier], most: int) -> int | None:
    """The cheapest of every order with up to so many packages of each offer."""
    best = None
    for counts in product(range(most + 1), repeat=len(offers)):
        if any(one.stock is not None and n > one.stock for one, n in zip(offers, counts, strict=True)):
            continue
        got = [
            sum(n * one.holds.get(need.part, 0) for one, n in zip(offers, counts, strict=True))
            for need in needs
        ]
        if any(have < need.quantity for have, need in zip(got, needs, strict=True)):
            continue
        cost = 0
        for supplier in suppliers:
            mine = [
                (one, n) for one, n in zip(offers, counts, strict=True) if n and one.supplier == supplier.key
            ]
            value = sum((one.price or 0) * n for one, n in mine)
            free = supplier.free_from is not None and value >= supplier.free_from * UNIT
            cost += value + (supplier.shipping * UNIT if mine and not free else 0)
        best = cost if best is None or cost < best else best
    return best


@pytest.mark.parametrize("seed", range(25))
def test_no_other_order_is_cheaper(seed: int) -> None:
    dice = Random(seed)
    needs = [Need(f"p{i}", f"part {i}", dice.randint(1, 3)) for i in range(3)]
    suppliers = [
        Supplier(f"s{i}", f"shop {i}", dice.randint(0, 12), dice.choice([None, 20, 40])) for i in range(2)
    ]
    offers = [
        offer(
            f"o{i}",
            dice.choice(suppliers).key,
            {f"p{dice.randrange(3)}": dice.randint(1, 2) for _ in range(dice.randint(1, 2))},
            dice.randint(2, 15),
            stock=dice.choice([None, 1, 2]),
        )
        for i in range(6)
    ]
    found = purchase(needs, offers, suppliers, today=TODAY)
    exact = tried_all(needs, offers, suppliers, most=4)
    assert (found.order.exact if found.order else None) == exact
    assert bool(found.cannot) == (exact is None)


SHOPS = [Supplier("near", "the near shop", 800, 5000), Supplier("far", "the far shop", 500)]


def test_free_shipping_is_worth_a_dearer_part() -> None:
    needs = [Need("gasket", "head gasket", 1), Need("ring", "ring set", 1)]
    offers = [
        offer("g", "near", {"gasket": 1}, 2000),
        offer("r-near", "near", {"ring": 1}, 3100),
        offer("r-far", "far", {"ring": 1}, 2900),
    ]
    found = purchase(needs, offers, SHOPS, today=TODAY)
    assert found.order is not None
    assert found.order.total == 5100  # 2000 + 3100, nothing for shipping; apart 2000 + 800 + 2900 + 500
    assert found.each_alone is not None
    assert found.each_alone.total == 6200
    assert found.saving == 1100
    assert "would cost more" in found.sentence


def test_a_filler_is_bought_when_it_costs_less_than_shipping() -> None:
    needs = [Need("gasket", "head gasket", 1)]
    offers = [offer("g", "near", {"gasket": 1}, 4900), offer("oil", "near", {"oil": 1}, 150)]
    found = purchase(needs, offers, SHOPS, today=TODAY)
    assert found.order is not None
    assert found.order.total == 5050


def test_waiting_longer_and_what_it_saves() -> None:
    needs = [Need("gasket", "head gasket", 1)]
    offers = [
        offer("now", "near", {"gasket": 1}, 3000, lead=1),
        offer("same", "near", {"gasket": 1}, 3000, lead=3),
        offer("later", "near", {"gasket": 1}, 2500, lead=6),
    ]
    found = purchase(needs, offers, SHOPS, today=TODAY)
    assert [(one.ready, one.total) for one in found.by_date] == [
        (date(2026, 5, 5), 3800),
        (date(2026, 5, 10), 3300),
    ]
    hurried = purchase(needs, offers, SHOPS, today=TODAY, wanted_by=date(2026, 5, 8))
    assert hurried.order is not None
    assert hurried.order.total == 3800
    assert hurried.order.bought[0].offer.key == "now"


def test_what_cannot_be_had_is_named_with_its_reason() -> None:
    needs = [Need("gasket", "head gasket", 2), Need("pin", "crankpin", 1), Need("seal", "stem seal", 4)]
    offers = [offer("g", "near", {"gasket": 1}, 20, stock=1), offer("s", "far", {"seal": 4}, 30, lead=9)]
    found = purchase(needs, offers, SHOPS, today=TODAY, wanted_by=date(2026, 5, 6))
    assert found.order is None
    assert found.cannot == (
        "head gasket: 2 are needed and only 1 on offer.",
        "crankpin: nobody has it on offer.",
        "stem seal: none comes in time.",
    )


def test_four_decimals_are_kept_until_the_total() -> None:
    shop = [Supplier("near", "the near shop", 0)]
    ball = Offer("b", "near", "ball", {"ball": 1}, 12_345, 1)  # 1.2345 of the smallest unit
    found = purchase([Need("ball", "bearing ball", 3)], [ball], shop, today=TODAY)
    assert found.order is not None
    assert (found.order.exact, found.order.total) == (37_035, 4)


def test_a_part_named_twice_is_one_need_and_nothing_wanted_costs_nothing() -> None:
    needs = [Need("seal", "stem seal", 2), Need("seal", "stem seal", 2)]
    found = purchase(needs, [offer("s", "far", {"seal": 4}, 30)], SHOPS, today=TODAY)
    assert found.order is not None
    assert [line.packages for line in found.order.bought] == [1]
    none = purchase([], [offer("s", "far", {"seal": 4}, 30)], SHOPS, today=TODAY)
    assert none.order is not None
    assert (none.order.total, none.sentence) == (0, "Nothing is needed.")


@pytest.mark.parametrize(
    ("bad", "says"),
    [
        (offer("x", "near", {"gasket": 1}, None), "offer x has no price; give one, or take the offer out."),
        (offer("x", "near", {"gasket": 1}, -1), "offer x: a price below nought"),
        (offer("x", "nobody", {"gasket": 1}, 1), "offer x: no supplier “nobody” is known"),
        (offer("x", "near", {}, 1), "offer x: a package must hold"),
        (offer("x", "near", {"gasket": 1}, 1, lead=-1), "offer x: days to come"),
    ],
)
def test_a_bad_offer_is_one_sentence(bad: Offer, says: str) -> None:
    with pytest.raises(Refused, match=says):
        purchase([Need("gasket", "head gasket", 1)], [bad], SHOPS, today=TODAY)


@pytest.mark.parametrize("seed", range(40))
def test_one_part_alone_is_covered_at_the_least_cost(seed: int) -> None:
    dice = Random(seed)
    quantity = dice.randint(1, 7)
    held, costs = [dice.randint(1, 4) for _ in range(4)], [dice.randint(1, 9) for _ in range(4)]
    stock = [dice.choice([None, 0, 1, 2]) for _ in range(4)]
    every = product(*(range((quantity if left is None else left) + 1) for left in stock))
    enough = [counts for counts in every if sum(map(mul, counts, held)) >= quantity]
    best = min((sum(map(mul, counts, costs)) for counts in enough), default=None)
    found = cover(quantity, held, costs, stock)
    assert (None if found is None else sum(map(mul, found, costs))) == best
    assert found is None or sum(map(mul, found, held)) >= quantity
