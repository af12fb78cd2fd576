/* Why this basket: on small markets with known answers, and what must hold on random ones. */
#include "basket_help.h"
#include "market/roll.h"

#include <stdlib.h>

enum { MARKETS = 200 };

struct case_of {
    struct market_text *text;
    struct lb_basket *basket;
    struct lb_reasons *reasons;
};

static struct case_of open_case(const char *words)
{
    struct lb_error err = {0};
    struct case_of c = {.text = market_of(words)};
    c.basket = basket_of(c.text);
    cr_assert(c.basket->found && c.basket->proved, "%s", words);
    cr_assert_eq(lb_reasons_solve(&c.reasons, &c.text->market, &c.text->limits, c.basket, &err), LB_OK, "%s",
                 lb_error_text(&err));
    return c;
}

static void close_case(struct case_of *c)
{
    lb_reasons_free(c->reasons);
    lb_basket_free(c->basket);
    market_text_free(c->text);
}

static void expect_next(const struct case_of *c, size_t i, struct lb_next_best wanted)
{
    cr_assert_lt(i, c->reasons->next_count);
    struct lb_next_best next = c->reasons->next[i];
    cr_expect(next.need == wanted.need && next.found == wanted.found && next.option == wanted.option &&
                  next.offer == wanted.offer && next.packs == wanted.packs && next.dearer == wanted.dearer,
              "need %u: found %d, option %u, offer %u, %lld packs, %lld dearer", next.need, next.found,
              next.option, next.offer, (long long)next.packs, (long long)next.dearer);
}

static void expect_without(const struct case_of *c, size_t i, const char *name, bool found, int64_t dearer)
{
    cr_assert_lt(i, c->reasons->without_count);
    const struct lb_without *without = &c->reasons->without[i];
    cr_expect_str_eq(c->text->market.suppliers[without->supplier].name, name);
    cr_expect(without->proved && without->found == found && without->dearer == dearer, "%s: %lld dearer",
              name, (long long)without->dearer);
}

#define TWO_SUPPLIERS                                                                                        \
    "market EUR\nsupplier bravo EUR -1 1 -1\nship 0 20\nsupplier alpha EUR -1 1 -1\nship 0 50\n"

Test(basket_reasons, another_offer_and_another_supplier)
{
    struct case_of c = open_case(TWO_SUPPLIERS "part 0\noffer 1 EUR 100 0 1000000 1 -1 0\n"
                                               "offer 0 EUR 150 0 1000000 1 -1 0\n"
                                               "offer 0 EUR 160 0 1000000 1 -1 0\n"
                                               "need 1000000\noption 0 1000000 0\nend\n");
    cr_assert_eq(c.reasons->next_count, 1);
    expect_next(&c, 0, (struct lb_next_best){0, true, 0, 1, 1, 20});
    expect_without(&c, 0, "alpha", true, 20);
    cr_expect(!c.reasons->one_more_count && !c.reasons->surplus_count);
    close_case(&c);
}

Test(basket_reasons, nothing_else_would_do)
{
    struct case_of c = open_case(TWO_SUPPLIERS "part 0\noffer 1 EUR 100 0 1000000 1 -1 0\n"
                                               "offer 0 EUR 1 0 1000000 1 2 0\n"
                                               "need 3000000\noption 0 3000000 0\n"
                                               "part 1000000\nneed 1000000\noption 1 1000000 0\nend\n");
    cr_assert_eq(c.reasons->next_count, 1, "what lies on the shelf is not bought");
    expect_without(&c, c.reasons->without_count - 1, "bravo", true, 350 - 172);
    expect_without(&c, 0, "alpha", false, 0);
    close_case(&c);
}

Test(basket_reasons, a_premium_can_make_the_next_one_cheaper)
{
    struct case_of c =
        open_case(TWO_SUPPLIERS "part 0\noffer 1 EUR 700 0 1000000 1 -1 0\n"
                                "part 0\noffer 1 EUR 500 0 1000000 1 -1 0\n"
                                "need 1000000\noption 0 1000000 0\noption 1 1000000 300\nend\n");
    expect_next(&c, 0, (struct lb_next_best){0, true, 1, 0, 1, -200});
    close_case(&c);
}

Test(basket_reasons, others_keep_what_they_need_of_the_part)
{
    /* 7 by fours: 2 packs. Without the first need 1 pack holds 4, and 3 more are to be bought. */
    struct case_of c = open_case(TWO_SUPPLIERS "part 0\noffer 1 EUR 100 0 4000000 1 -1 0\n"
                                               "offer 0 EUR 90 0 1000000 1 -1 0\n"
                                               "need 3000000\noption 0 3000000 0\n"
                                               "need 4000000\noption 0 4000000 0\nend\n");
    cr_assert_eq(c.reasons->next_count, 2);
    expect_next(&c, 0, (struct lb_next_best){0, true, 0, 1, 3, 190});
    expect_next(&c, 1, (struct lb_next_best){1, true, 0, 1, 3, 190});
    close_case(&c);
}

Test(basket_reasons, the_last_line_takes_its_parcel_along)
{
    struct case_of c = open_case(TWO_SUPPLIERS "part 0\noffer 1 EUR 100 0 1000000 1 -1 0\n"
                                               "offer 0 EUR 180 0 1000000 1 -1 0\n"
                                               "part 0\noffer 0 EUR 60 0 1000000 1 -1 0\n"
                                               "offer 1 EUR 200 0 1000000 1 -1 0\n"
                                               "need 1000000\noption 0 1000000 0\n"
                                               "need 1000000\noption 1 1000000 0\nend\n");
    cr_expect_eq(c.basket->total.total, 230);
    expect_next(&c, 0, (struct lb_next_best){0, true, 0, 1, 1, 30});
    expect_next(&c, 1, (struct lb_next_best){1, true, 0, 1, 1, 120});
    close_case(&c);
}

Test(basket_reasons, companions_come_and_go_with_their_option)
{
    struct case_of c = open_case(TWO_SUPPLIERS "part 0\noffer 1 EUR 100 0 1000000 1 -1 0\n"
                                               "part 0\noffer 1 EUR 90 0 1000000 1 -1 0\n"
                                               "part 0\noffer 1 EUR 40 0 1000000 1 -1 0\n"
                                               "offer 1 EUR 30 0 1000000 1 -1 0\n"
                                               "need 1000000\noption 0 1000000 0\n"
                                               "option 1 1000000 0\nwith 2 2000000\nend\n");
    expect_next(&c, 0, (struct lb_next_best){0, true, 1, 0, 1, 50});
    close_case(&c);
}

/* The box that the first need is answered by holds what the second needs. */
Test(basket_reasons, a_box_that_others_take_out_of_stays)
{
    struct case_of c = open_case(TWO_SUPPLIERS "part 0\noffer 1 EUR 100 0 1000000 1 -1 0\n"
                                               "part 0\noffer 1 EUR 90 0 1000000 1 -1 0\n"
                                               "part 0\noffer 1 EUR 80 0 1000000 1 -1 0\n"
                                               "need 1000000\noption 0 1000000 0\noption 1 1000000 0\n"
                                               "need 1000000\noption 2 1000000 0\n"
                                               "content 0 1000000\ncover 1 0\nend\n");
    cr_assert_eq(c.reasons->next_count, 1);
    expect_next(&c, 0, (struct lb_next_best){0, false, 0, 0, 0, 0});
    close_case(&c);
}

Test(basket_reasons, as_many_boxes_as_hold_enough)
{
    struct case_of c = open_case(TWO_SUPPLIERS "part 0\noffer 1 EUR 10 0 1000000 1 -1 0\n"
                                               "part 0\noffer 1 EUR 40 0 1000000 1 -1 0\n"
                                               "need 5000000\noption 0 5000000 0\noption 1 0 0\n"
                                               "content 1 2000000\ncover 0\nend\n");
    expect_next(&c, 0, (struct lb_next_best){0, true, 1, 0, 3, 70});
    close_case(&c);
}

#define TEN_OF "need 10000000\noption 0 10000000 0\nend\n"

Test(basket_reasons, one_more_for_free_shipping)
{
    struct case_of c = open_case("market EUR\nsupplier alpha EUR -1 1 -1\nship 0 60\nship 1000 0\n"
                                 "part 0\noffer 0 EUR 98 0 1000000 1 -1 0\n" TEN_OF);
    cr_assert_eq(c.reasons->one_more_count, 1);
    const struct lb_one_more *more = c.reasons->one_more;
    cr_expect(more->supplier == 0 && more->part == 0 && more->offer == 0 && more->packs == 1);
    cr_expect(more->charge == 0 && more->dearer == 38, "%lld", (long long)more->dearer);
    close_case(&c);
    c = open_case("market EUR\nsupplier alpha EUR -1 1 -1\nship 0 60\nship 1000 0\n"
                  "part 0\noffer 0 EUR 98 0 1000000 1 10 0\n" TEN_OF); /* no more is in stock */
    cr_expect_eq(c.reasons->one_more_count, 0);
    close_case(&c);
    c = open_case("market EUR\nsupplier alpha EUR -1 1 -1\nship 0 60\nship 1200 0\n"
                  "part 0\noffer 0 EUR 98 0 1000000 1 -1 0\n" TEN_OF); /* it would be three */
    cr_expect_eq(c.reasons->one_more_count, 0);
    close_case(&c);
}

Test(basket_reasons, of_lines_the_fewest_then_the_cheapest_packs)
{
    struct case_of c = open_case("market EUR\nsupplier alpha EUR -1 1 -1\nship 0 5\nship 100 9\nship 200 2\n"
                                 "part 0\noffer 0 EUR 110 0 1000000 1 -1 0\n"
                                 "part 0\noffer 0 EUR 40 0 1000000 1 -1 0\n"
                                 "part 0\noffer 0 EUR 41 0 1000000 1 -1 0\n"
                                 "need 1000000\noption 0 1000000 0\nwith 1 1000000\nwith 2 1000000\nend\n");
    cr_assert_eq(c.reasons->one_more_count, 1);
    const struct lb_one_more *more = c.reasons->one_more;
    cr_expect(more->part == 1 && more->packs == 1 && more->charge == 2 && more->dearer == 33,
              "%u, %lld, %lld", more->part, (long long)more->packs, (long long)more->dearer);
    close_case(&c);
}

Test(basket_reasons, surplus_that_pays_says_what_it_saves)
{
    struct case_of c = open_case("market EUR\nsupplier alpha EUR -1 1 -1\nship 0 500\nship 1000 0\n"
                                 "part 0\noffer 0 EUR 98 0 1000000 1 -1 0\n" TEN_OF);
    cr_assert_eq(c.reasons->surplus_count, 1);
    cr_expect(c.reasons->surplus->part == 0 && c.reasons->surplus->packs == 1);
    cr_expect_eq(c.reasons->surplus->saves, 402);
    cr_expect_eq(c.reasons->one_more_count, 0);
    close_case(&c);
    c = open_case("market EUR\nsupplier alpha EUR 1100 1 -1\n"
                  "part 0\noffer 0 EUR 98 0 1000000 1 -1 0\n" TEN_OF);
    cr_assert_eq(c.reasons->surplus_count, 1);
    cr_expect(c.reasons->surplus->packs == 2 && c.reasons->surplus->saves == -1);
    close_case(&c);
    /* A pack of 20 is no surplus, nor is what its minimum asks for. */
    c = open_case("market EUR\nsupplier alpha EUR -1 1 -1\n"
                  "part 0\noffer 0 EUR 98 0 9000000 3 -1 0\n" TEN_OF);
    cr_expect_eq(c.reasons->surplus_count, 0);
    close_case(&c);
}

static int64_t premium_of(const struct case_of *c, uint32_t need, uint32_t option)
{
    return c->text->market.needs[need].options[option].premium;
}

/* It was proved that nothing is cheaper, so no reason may be. */
static void expect_none_cheaper(const struct case_of *c, const char *words)
{
    for (size_t i = 0; i < c->reasons->next_count; i++) {
        const struct lb_next_best *next = &c->reasons->next[i];
        if (next->found)
            cr_expect_geq(next->dearer + premium_of(c, next->need, next->option) -
                              premium_of(c, next->need, c->basket->answers[next->need].option),
                          0, "need %u\n%s", next->need, words);
    }
    for (size_t i = 0; i < c->reasons->one_more_count; i++)
        cr_expect_geq(c->reasons->one_more[i].dearer, 0, "%s", words);
}

/* Equal in price; one of equals may have some of it as a premium. */
static void expect_without_as_asked(const struct case_of *c, const char *words)
{
    bool closed[4] = {false};
    cr_assert_eq(c->reasons->without_count, c->basket->parcel_count);
    for (size_t i = 0; i < c->reasons->without_count; i++) {
        const struct lb_without *without = &c->reasons->without[i];
        const bool *kept = c->text->limits.closed;
        for (size_t s = 0; s < c->text->market.supplier_count; s++)
            closed[s] = (kept && kept[s]) || s == without->supplier;
        c->text->limits.closed = closed;
        struct lb_basket *other = basket_of(c->text);
        c->text->limits.closed = kept;
        cr_expect_eq(other->found, without->found, "%s", words);
        if (other->found && without->found && other->proved && without->proved && !other->premium &&
            !c->basket->premium)
            cr_expect_leq(without->dearer, other->total.total - c->basket->total.total, "%s", words);
        lb_basket_free(other);
    }
}

Test(basket_reasons, hold_on_random_markets)
{
    size_t next = 0, more = 0, surplus = 0;
    for (uint64_t seed = 300000; seed < 300000 + MARKETS; seed++) {
        char *words = roll_market(seed, 4, 4);
        struct market_text *text = market_of(words);
        struct lb_basket *basket = basket_of(text);
        if (basket->found && basket->proved) {
            struct case_of c = open_case(words);
            expect_none_cheaper(&c, words);
            expect_without_as_asked(&c, words);
            next += c.reasons->next_count;
            more += c.reasons->one_more_count;
            surplus += c.reasons->surplus_count;
            close_case(&c);
        }
        lb_basket_free(basket);
        market_text_free(text);
        free(words);
    }
    cr_expect(next > 100 && more > 5 && surplus > 20, "%zu, %zu, %zu", next, more, surplus);
}
