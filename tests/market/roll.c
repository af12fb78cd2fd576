#include "market/roll.h"

#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>

enum { UNIT = 1000000 };

/* One thing in a box, for one need or two. */
struct content {
    int64_t quantity;
    int needs[2], count;
    bool bare; /* only for who opens the box */
};

struct box {
    int part, opener;
    bool inside;   /* it answers the opener by what is in it */
    bool asked[4]; /* by need: what is in it is an option of that need as well */
    struct content contents[2];
    int count;
};

struct dice {
    uint64_t state;
    FILE *out;
    FILE *wishes; /* needs and contents, which stand below the parts */
    char *wished;
    size_t wished_length;
    int suppliers, needs, parts;
    const char *currency;      /* of the market */
    const char *currencies[4]; /* by supplier */
    int64_t quantities[4];     /* by need */
    struct box boxes[2];
    int box_count;
};

/* SplitMix64. */
static int64_t roll(struct dice *d, int64_t below)
{
    uint64_t z = (d->state += 0x9e3779b97f4a7c15u);
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
    return (int64_t)((z ^ (z >> 31)) % (uint64_t)below);
}

static bool one_in(struct dice *d, int64_t n)
{
    return roll(d, n) == 0;
}

static int64_t between(struct dice *d, int64_t least, int64_t most)
{
    return least + roll(d, most - least + 1);
}

/* About so much money of a currency as so many cents of EUR. */
static int64_t money(const char *currency, int64_t cents)
{
    if (currency[0] == 'B')
        return cents * 4 + cents % 7; /* BHD has 3 digits */
    return currency[0] == 'J' ? cents * 3 / 2 : cents;
}

static const char *any_currency(struct dice *d, int foreign_in)
{
    static const char *const codes[] = {"JPY", "BHD", "USD"};
    return one_in(d, foreign_in) ? codes[roll(d, 3)] : "EUR";
}

static void roll_shipping(struct dice *d, const char *currency)
{
    int64_t charge = between(d, 50, 700), free = between(d, 300, 3000), kind = roll(d, 8);
    int64_t from = kind == 3 ? between(d, 100, 900) : 0; /* nothing is sent below */
    if (kind == 0)
        return; /* no table */
    fprintf(d->out, "ship %lld %lld\n", (long long)money(currency, from), (long long)money(currency, charge));
    if (kind == 1)
        return; /* one charge */
    int64_t second = kind == 2 ? charge + between(d, 50, 400) : one_in(d, 3) ? charge / 2 : 0;
    fprintf(d->out, "ship %lld %lld\n", (long long)money(currency, from + free),
            (long long)money(currency, second));
    if (kind == 4) /* down, then up again */
        fprintf(d->out, "ship %lld %lld\n", (long long)money(currency, from + 2 * free),
                (long long)money(currency, second + between(d, 1, 300)));
}

static void roll_suppliers(struct dice *d)
{
    static const char *const names[] = {"delta", "alpha", "charlie", "bravo"};
    static const int taxes[] = {19000000, 7700000, 8100000, 5500000, 21000000, 7250000, 333333, -1};
    for (int s = 0; s < d->suppliers; s++) {
        const char *currency = d->currencies[s] = any_currency(d, 6);
        int64_t least = one_in(d, 4) ? money(currency, between(d, 100, 2500)) : -1;
        fprintf(d->out, "supplier %s %s %lld %lld %d\n", names[s], currency, (long long)least,
                (long long)between(d, -1, 5), taxes[roll(d, 8)]);
        roll_shipping(d, currency);
    }
}

/* Direct or the other way about; now and then none, and nothing can be bought with it. */
static void roll_rates(struct dice *d)
{
    static const struct {
        const char *code;
        int rate, back;
    } rates[] = {{"JPY", 6123, 163318624}, {"BHD", 2441000, 409668}, {"USD", 920311, 1086589}};
    for (int i = 0; i < 3; i++) {
        int64_t kind = roll(d, 8);
        if (kind && kind < 5)
            fprintf(d->out, "rate %s EUR %d\n", rates[i].code, rates[i].rate);
        if (kind > 3)
            fprintf(d->out, "rate EUR %s %d\n", rates[i].code, rates[i].back);
    }
}

static void roll_offer(struct dice *d, int64_t one, bool box)
{
    static const int64_t packs[] = {UNIT, UNIT, UNIT, UNIT, 2 * UNIT, 3 * UNIT, 4 * UNIT, 3 * UNIT / 2};
    int64_t supplier = roll(d, d->suppliers), pack = packs[roll(d, box ? 5 : 8)];
    const char *currency = one_in(d, 10) ? any_currency(d, 2) : d->currencies[supplier];
    int64_t price = money(currency, one * pack / UNIT * between(d, 70, 130) / 100 + roll(d, 3));
    fprintf(d->out, "offer %lld %s %lld %lld %lld %lld %lld %lld\n", (long long)supplier, currency,
            (long long)price, (long long)(one_in(d, 5) ? price / 4 : 0), (long long)pack,
            (long long)(one_in(d, 4) ? between(d, 2, 3) : between(d, 0, 1)),
            (long long)(one_in(d, 3) ? roll(d, 5) : -1), (long long)between(d, -1, 6));
}

/* A new part; `one`: what one of it costs, about, in cents. */
static int roll_part(struct dice *d, int64_t one, int64_t most_offers, bool box)
{
    fprintf(d->out, "part %lld\n", (long long)(one_in(d, 7) ? between(d, 1, 5) * (UNIT / 2) : 0));
    for (int64_t offers = between(d, one_in(d, 9) ? 0 : 1, most_offers); offers > 0; offers--)
        roll_offer(d, one, box);
    return d->parts++;
}

static void roll_option(struct dice *d, int64_t quantity, int64_t one)
{
    int part = d->parts && one_in(d, 6) ? (int)roll(d, d->parts) : roll_part(d, one, 3, false);
    int64_t much = one_in(d, 6) ? quantity * 2 : one_in(d, 6) ? quantity / 2 : quantity;
    int64_t premium = one_in(d, 4) ? between(d, 1, 300) : 0;
    fprintf(d->wishes, "option %d %lld %lld\n", part, (long long)much,
            (long long)money(d->currency, premium));
    if (one_in(d, 7))
        fprintf(d->wishes, "with %d %lld\n", roll_part(d, one / 3 + 1, 2, false), (long long)quantity);
}

static void roll_content(struct dice *d, struct box *box)
{
    struct content *content = &box->contents[box->count];
    int first = box->inside && !box->count ? box->opener : (int)roll(d, d->needs);
    *content = (struct content){between(d, 1, 3) * UNIT, {first, (first + 1) % d->needs}, 1, one_in(d, 3)};
    if (d->needs > 1)
        content->count += one_in(d, 2);
    for (int i = 0; i < content->count; i++)
        box->asked[content->needs[i]] |= content->needs[i] != box->opener && one_in(d, 2);
    box->count++;
}

/* Two of three boxes answer a need as a part does; the others by what is in them, its own thing first. */
static void roll_boxes(struct dice *d)
{
    for (int64_t boxes = one_in(d, 3) ? between(d, 1, 2) : 0; boxes > 0; boxes--) {
        struct box *box = &d->boxes[d->box_count++];
        *box = (struct box){.opener = (int)roll(d, d->needs), .inside = one_in(d, 3)};
        box->part = roll_part(d, between(d, 50, 800), 2, true);
        for (int64_t rows = between(d, 1, 2); rows > 0; rows--)
            roll_content(d, box);
    }
}

static void ask_for_boxes(struct dice *d, int need)
{
    for (const struct box *box = d->boxes; box < d->boxes + d->box_count; box++) {
        int64_t quantity = box->opener == need && !box->inside ? d->quantities[need] : 0;
        int64_t premium = one_in(d, 4) ? money(d->currency, between(d, 1, 200)) : 0;
        if (box->opener == need || box->asked[need])
            fprintf(d->wishes, "option %d %lld %lld\n", box->part, (long long)quantity, (long long)premium);
    }
}

static void roll_need(struct dice *d, int need)
{
    int64_t one = one_in(d, 3) ? between(d, 100, 900) : between(d, 5, 300);
    d->quantities[need] = between(d, 1, one_in(d, 3) ? 4 : 2) * UNIT;
    fprintf(d->wishes, "need %lld\n", (long long)d->quantities[need]);
    for (int64_t options = between(d, 1, 3); options > 0; options--)
        roll_option(d, d->quantities[need], one);
    ask_for_boxes(d, need);
}

/* Who asks for what is in a box has opened it, too. */
static void tell_contents(struct dice *d)
{
    for (const struct box *box = d->boxes; box < d->boxes + d->box_count; box++) {
        for (const struct content *content = box->contents; content < box->contents + box->count; content++) {
            fprintf(d->wishes, "content %d %lld\n", box->part, (long long)content->quantity);
            for (int i = 0; i < content->count; i++) {
                int need = content->needs[i];
                fprintf(d->wishes, "cover %d", need);
                if (content->bare)
                    fprintf(d->wishes, " %d", box->opener);
                if (content->bare && box->asked[need])
                    fprintf(d->wishes, " %d", need);
                fprintf(d->wishes, "\n");
            }
        }
    }
}

static void roll_limits(struct dice *d)
{
    if (one_in(d, 5))
        fprintf(d->wishes, "limit parcels %lld\n", (long long)between(d, 1, 2));
    if (one_in(d, 5))
        fprintf(d->wishes, "limit days %lld\n", (long long)between(d, 3, 9));
    if (one_in(d, 10))
        fprintf(d->wishes, "limit without %lld\n", (long long)roll(d, d->suppliers));
}

static void roll_rows(struct dice *d)
{
    static const char *const homes[] = {"EUR", "EUR", "EUR", "EUR", "EUR", "EUR", "JPY", "BHD"};
    d->currency = homes[roll(d, 8)];
    fprintf(d->out, "market %s\n", d->currency);
    roll_suppliers(d);
    roll_rates(d);
    roll_boxes(d);
    for (int n = 0; n < d->needs; n++)
        roll_need(d, n);
    tell_contents(d);
    roll_limits(d);
}

char *roll_market(uint64_t seed, int needs, int suppliers)
{
    char *text = NULL;
    size_t length = 0;
    struct dice d = {.state = (seed + 1) *
                              0xd1342543de82ef95u}; /* no two streams of which one is the other, shifted */
    d.needs = (int)between(&d, 1, needs);
    d.suppliers = (int)between(&d, 1, suppliers);
    d.out = open_memstream(&text, &length);
    d.wishes = open_memstream(&d.wished, &d.wished_length);
    if (!d.out || !d.wishes)
        return NULL;
    roll_rows(&d);
    fclose(d.wishes);
    fprintf(d.out, "%send\n", d.wished);
    free(d.wished);
    return fclose(d.out) ? NULL : text;
}
