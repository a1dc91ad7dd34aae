"""What to buy where: the cheapest way to have every part by a date, proven so.

Money is whole numbers. A package's price has four decimals of the currency's smallest unit (12.5 is written
125000), sums are kept so, and what is shown is rounded once, half up.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from gudgeon.planning.order_model import Line, cheapest, cover
from gudgeon.quantities import Refused

PRICE_DECIMALS = 10_000


@dataclass(frozen=True, slots=True)
class Need:
    """A part and how many of it."""

    part: str
    words: str
    quantity: int


@dataclass(frozen=True, slots=True)
class Offer:
    """A package on sale: what it holds of each part, its price (four decimals), days to come, packages left.

    ``stock`` is None where the supplier has as many as are wanted; ``price`` is None where nobody said one.
    """

    key: str
    supplier: str
    words: str
    holds: Mapping[str, int]
    price: int | None
    lead_days: int
    stock: int | None = None


@dataclass(frozen=True, slots=True)
class Supplier:
    """Shipping of one order and, where there is one, the value from which it is free [smallest unit]."""

    key: str
    words: str
    shipping: int
    free_from: int | None = None


@dataclass(frozen=True, slots=True)
class Bought:
    """One line of an order: how many packages, and what they cost [smallest unit]."""

    offer: Offer
    packages: int
    cost: int


@dataclass(frozen=True, slots=True)
class Order:
    """A whole purchase: lines, shipping by supplier, total [smallest unit], and the day all is there."""

    bought: tuple[Bought, ...]
    shipping: Mapping[str, int]
    total: int
    ready: date
    exact: int  # the total with four decimals


@dataclass(frozen=True, slots=True)
class Purchase:
    """The cheapest order in time, what cannot be had and why, the cheapest by day, each part on its own."""

    order: Order | None
    cannot: tuple[str, ...]
    by_date: tuple[Order, ...]
    each_alone: Order | None
    sentence: str

    @property
    def saving(self) -> int | None:
        """What buying it together saves against each part where it is cheapest [smallest unit]."""
        if self.order is None or self.each_alone is None:
            return None
        return rounded(self.each_alone.exact - self.order.exact)


def purchase(
    needs: Sequence[Need],
    offers: Sequence[Offer],
    suppliers: Sequence[Supplier],
    *,
    today: date,
    wanted_by: date | None = None,
) -> Purchase:
    """The cheapest order that is there in time, and what a day sooner or later would change."""
    market = _Market(_together(needs), _checked(offers, suppliers), today)
    in_time = [one for one in offers if wanted_by is None or today + timedelta(one.lead_days) <= wanted_by]
    by_date = market.by_date(offers)
    cannot = market.cannot(offers, in_time)
    if cannot:
        return Purchase(None, cannot, by_date, None, " ".join(cannot))
    order = market.best(in_time, by_date)
    alone = market.each_alone(in_time)
    return Purchase(order, (), by_date, alone, _sentence(order, alone))


def rounded(exact: int) -> int:
    """Four decimals to the smallest unit, once, half up."""
    return (exact + PRICE_DECIMALS // 2) // PRICE_DECIMALS


def _together(needs: Sequence[Need]) -> dict[str, Need]:
    """One need a part: what is named twice is added."""
    found: dict[str, Need] = {}
    for need in needs:
        if need.quantity < 0:
            raise Refused(f"{need.words}: {need.quantity} was given; allowed is a whole number from 0.")
        so_far = found[need.part].quantity if need.part in found else 0
        found[need.part] = Need(need.part, need.words, need.quantity + so_far)
    return {part: need for part, need in found.items() if need.quantity}


def _checked(offers: Sequence[Offer], suppliers: Sequence[Supplier]) -> dict[str, Supplier]:
    known = {supplier.key: supplier for supplier in suppliers}
    for supplier in suppliers:
        if supplier.shipping < 0 or (supplier.free_from is not None and supplier.free_from < 0):
            raise Refused(f"{supplier.words}: shipping below nought was given; allowed is 0 or more.")
    for offer in offers:
        if offer.price is None:
            raise Refused(f"{offer.words} has no price; give one, or take the offer out.")
        if offer.price < 0:
            raise Refused(f"{offer.words}: a price below nought was given; allowed is 0 or more.")
        if offer.supplier not in known:
            raise Refused(f"{offer.words}: no supplier “{offer.supplier}” is known; add it first.")
        if not offer.holds or any(count < 1 for count in offer.holds.values()):
            raise Refused(f"{offer.words}: a package must hold at least one of each part it names.")
        if offer.lead_days < 0 or (offer.stock is not None and offer.stock < 0):
            raise Refused(f"{offer.words}: days to come and packages left are whole numbers from 0.")
    return known


def _most(part: str, offers: Sequence[Offer]) -> int | None:
    """How many of a part all these offers together can give; None where there is no end to them."""
    holding = [offer for offer in offers if part in offer.holds]
    if any(offer.stock is None for offer in holding):
        return None
    return sum(offer.holds[part] * (offer.stock or 0) for offer in holding)


def _why_not(need: Need, ever: int | None, in_time: int | None) -> str:
    if in_time is None or in_time >= need.quantity:
        return ""
    if ever == 0:
        return f"{need.words}: nobody has it on offer."
    if ever is not None and ever < need.quantity:
        return f"{need.words}: {need.quantity} are needed and only {ever} on offer."
    return (
        f"{need.words}: {'none comes' if not in_time else f'only {in_time} of {need.quantity} come'} in time."
    )


@dataclass(frozen=True, slots=True)
class _Market:
    """What is wanted, who sells, and from which day the days are counted."""

    wanted: Mapping[str, Need]
    known: Mapping[str, Supplier]
    today: date

    def cannot(self, offers: Sequence[Offer], in_time: Sequence[Offer]) -> tuple[str, ...]:
        """A sentence for each need that no order can cover."""
        reasons = (
            _why_not(need, _most(part, offers), _most(part, in_time)) for part, need in self.wanted.items()
        )
        return tuple(reason for reason in reasons if reason)

    def solve(self, offers: Sequence[Offer]) -> Order:
        """The cheapest order out of these offers."""
        packages = cheapest(
            {part: need.quantity for part, need in self.wanted.items()},
            [Line(one.supplier, one.holds, one.price or 0, one.stock) for one in offers],
            {key: _exactly(one) for key, one in self.known.items()},
        )
        return self.order((offer, count) for offer, count in zip(offers, packages, strict=True) if count)

    def order(self, chosen: Iterable[tuple[Offer, int]]) -> Order:
        """An order made up of packages."""
        lines = list(chosen)
        values: dict[str, int] = defaultdict(int)
        for offer, count in lines:
            values[offer.supplier] += (offer.price or 0) * count
        shipping = {key: self._charge(key, value) for key, value in sorted(values.items())}
        exact = sum(values.values()) + PRICE_DECIMALS * sum(shipping.values())
        ready = self.today + timedelta(max((offer.lead_days for offer, _ in lines), default=0))
        bought = tuple(Bought(offer, count, rounded((offer.price or 0) * count)) for offer, count in lines)
        return Order(bought, shipping, rounded(exact), ready, exact)

    def _charge(self, supplier: str, value: int) -> int:
        charge, free_from = _exactly(self.known[supplier])
        return 0 if free_from is not None and value >= free_from else charge // PRICE_DECIMALS

    def by_date(self, offers: Sequence[Offer]) -> tuple[Order, ...]:
        """The cheapest order for each day on which waiting longer saves, soonest first."""
        found: list[Order] = []
        days = max((one.lead_days for one in offers), default=0)
        while True:
            soon = [one for one in offers if one.lead_days <= days]
            if not soon or self.cannot(soon, soon):
                break
            order = self.solve(soon)
            while found and found[-1].exact >= order.exact:
                found.pop()  # as cheap and sooner
            found.append(order)
            # The same order answers every day from the one it is ready on; only sooner ones are left to ask.
            days = (order.ready - self.today).days - 1
        return tuple(reversed(found))

    def best(self, in_time: Sequence[Offer], by_date: Sequence[Order]) -> Order:
        """The cheapest order in time: the last of the choices by day that is."""
        latest = self.today + timedelta(max((one.lead_days for one in in_time), default=0))
        return next((one for one in reversed(by_date) if one.ready <= latest), self.order(()))

    def each_alone(self, offers: Sequence[Offer]) -> Order | None:
        """Each part where it is cheapest by itself, shipping not looked at; None where that leaves a gap."""
        chosen: dict[str, int] = defaultdict(int)
        for part, need in self.wanted.items():
            if not self._take(part, need.quantity, offers, chosen):
                return None
        return self.order((offer, chosen[offer.key]) for offer in offers if chosen[offer.key])

    def _take(self, part: str, quantity: int, offers: Sequence[Offer], chosen: dict[str, int]) -> bool:
        holding = [offer for offer in offers if part in offer.holds]
        left = [None if one.stock is None else one.stock - chosen[one.key] for one in holding]
        found = cover(
            quantity, [one.holds[part] for one in holding], [one.price or 0 for one in holding], left
        )
        for offer, packages in zip(holding, found or (), strict=bool(found)):
            chosen[offer.key] += packages
        return found is not None


def _exactly(supplier: Supplier) -> tuple[int, int | None]:
    free = None if supplier.free_from is None else supplier.free_from * PRICE_DECIMALS
    return supplier.shipping * PRICE_DECIMALS, free


def _sentence(order: Order, alone: Order | None) -> str:
    lines, suppliers = len(order.bought), len(order.shipping)
    if not lines:
        return "Nothing is needed."
    where = f"{_count(lines, 'line')} from {_count(suppliers, 'supplier')}"
    if alone is None:
        return f"The cheapest order is {where}; no part by part choice covers the needs."
    if alone.exact <= order.exact:
        return f"The cheapest order is {where}; each part where it is cheapest costs the same."
    return f"The cheapest order is {where}; each part where it is cheapest would cost more."


def _count(number: int, word: str) -> str:
    return f"{number} {word}{'' if number == 1 else 's'}"
