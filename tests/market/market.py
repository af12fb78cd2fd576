"""The text form of a market (market_text.h), for Python."""


class Record:
    def __init__(self, **fields):
        self.__dict__.update(fields)


def read_row(market, word, rest):
    """One line into the market; what belongs to something goes to the last of it."""
    if word == "supplier":
        name, currency, minimum, days, tax = rest
        market.suppliers.append(Record(name=name, currency=currency, minimum=int(minimum), days=int(days), tax=int(tax),
                                       shipping=[]))
    elif word == "ship":
        market.suppliers[-1].shipping.append((int(rest[0]), int(rest[1])))
    elif word == "rate":
        market.rates.setdefault((rest[0], rest[1]), int(rest[2]))
    elif word == "part":
        market.parts.append(Record(on_hand=int(rest[0]), offers=[]))
    elif word == "offer":
        supplier, _, price, _, pack, least, stock, lead = (int(r) if i != 1 else r for i, r in enumerate(rest))
        market.parts[-1].offers.append(Record(supplier=supplier, currency=rest[1], price=price, pack=pack,
                                              least=max(1, least), stock=stock, lead=lead))
    elif word == "need":
        market.needs.append(Record(quantity=int(rest[0]), options=[]))
    elif word == "option":
        part, quantity, premium = map(int, rest)
        market.needs[-1].options.append(Record(part=part, quantity=quantity, premium=premium, companions=[]))
    elif word == "with":
        market.needs[-1].options[-1].companions.append((int(rest[0]), int(rest[1])))
    elif word == "content":
        market.contents.append(Record(part=int(rest[0]), quantity=int(rest[1]), covers=[]))
    elif word == "cover":
        market.contents[-1].covers.append((int(rest[0]), [int(r) for r in rest[1:]]))
    elif word == "limit" and rest[0] == "without":
        market.closed.add(int(rest[1]))
    elif word == "limit":
        market.limits[rest[0]] = int(rest[1])
    else:
        raise ValueError(f"no such line: {word} {' '.join(rest)}")


def read(text):
    """The market of one text."""
    market = None
    for line in text.splitlines():
        word, *rest = line.split() or [""]
        if word == "market":
            market = Record(currency=rest[0], suppliers=[], rates={}, parts=[], needs=[], contents=[], closed=set(), limits={})
        elif word and word != "end" and not word.startswith("#"):
            read_row(market, word, rest)
    return market
