/* What decides among baskets that cost the same, and needs that nothing can supply. */
#include "basket_help.h"
#include "market/brute.h"

#include <stdio.h>
#include <stdlib.h>

static void expect_basket(const char *words, int64_t price, const char *names, int64_t days)
{
    struct market_text *text = market_of(words);
    struct lb_basket *basket = basket_of(text);
    cr_expect(basket->found && basket->proved);
    cr_expect_eq(price_of(basket), price, "%lld\n%s", (long long)price_of(basket), words);
    cr_expect_eq(basket->bound, price);
    cr_expect_str_eq(names_of(text, basket), names, "%s\n%s", names_of(text, basket), words);
    cr_expect_eq(basket->days, days, "%lld\n%s", (long long)basket->days, words);
    lb_basket_free(basket);
    market_text_free(text);
}

#define NEED "need 1000000\noption "
#define OF   " 1000000 0\n"

Test(basket_ties, fewer_parcels_go_first)
{
    expect_basket("market EUR\n"
                  "supplier alpha EUR -1 0 -1\nsupplier bravo EUR -1 0 -1\nsupplier charlie EUR -1 9 -1\n"
                  "part 0\noffer 0 EUR 100 0 1000000 1 -1 0\noffer 2 EUR 90 0 1000000 1 -1 0\n"
                  "part 0\noffer 1 EUR 100 0 1000000 1 -1 0\noffer 2 EUR 110 0 1000000 1 -1 0\n"
                  "part 0\noffer 1 EUR 10 0 1000000 1 -1 0\noffer 2 EUR 20 0 1000000 1 -1 0\n" NEED
                  "0" OF NEED "1" OF "end\n",
                  190, "bravo charlie", 9);
    expect_basket("market EUR\n"
                  "supplier alpha EUR -1 0 -1\nsupplier bravo EUR -1 0 -1\nsupplier charlie EUR -1 9 -1\n"
                  "part 0\noffer 0 EUR 100 0 1000000 1 -1 0\noffer 2 EUR 90 0 1000000 1 -1 0\n"
                  "part 0\noffer 1 EUR 100 0 1000000 1 -1 0\noffer 2 EUR 100 0 1000000 1 -1 0\n" NEED
                  "0" OF NEED "1" OF "end\n",
                  190, "charlie", 9);
}

Test(basket_ties, then_the_earlier_arrival)
{
    expect_basket("market EUR\n"
                  "supplier alpha EUR -1 5 -1\nsupplier bravo EUR -1 2 -1\nsupplier charlie EUR -1 3 -1\n"
                  "part 0\noffer 0 EUR 100 0 1000000 1 -1 0\noffer 1 EUR 100 0 1000000 1 -1 4\n"
                  "offer 2 EUR 100 0 1000000 1 -1 1\n" NEED "0" OF "end\n",
                  100, "charlie", 4);
    /* Of one supplier's two offers as well. */
    expect_basket("market EUR\nsupplier alpha EUR -1 1 -1\n"
                  "part 0\noffer 0 EUR 100 0 1000000 1 -1 6\noffer 0 EUR 100 0 1000000 1 -1 2\n" NEED "0" OF
                  "end\n",
                  100, "alpha", 3);
}

Test(basket_ties, then_the_names)
{
    expect_basket("market EUR\n"
                  "supplier delta EUR -1 1 -1\nsupplier bravo EUR -1 1 -1\nsupplier charlie EUR -1 1 -1\n"
                  "part 0\noffer 0 EUR 100 0 1000000 1 -1 0\noffer 1 EUR 100 0 1000000 1 -1 0\n"
                  "offer 2 EUR 100 0 1000000 1 -1 0\n" NEED "0" OF "end\n",
                  100, "bravo", 1);
    /* bravo + charlie cost what alpha + delta do. */
    expect_basket("market EUR\n"
                  "supplier delta EUR -1 1 -1\nsupplier bravo EUR -1 1 -1\nsupplier charlie EUR -1 1 -1\n"
                  "supplier alpha EUR -1 1 -1\n"
                  "part 0\noffer 1 EUR 100 0 1000000 1 -1 0\npart 0\noffer 2 EUR 100 0 1000000 1 -1 0\n"
                  "part 0\noffer 3 EUR 130 0 1000000 1 -1 0\npart 0\noffer 0 EUR 70 0 1000000 1 -1 0\n"
                  "need 1000000\noption 0 1000000 0\nwith 1 1000000\noption 2 1000000 0\nwith 3 1000000\n"
                  "end\n",
                  200, "alpha delta", 1);
}

/* A supplier that gives things for nothing sends them in a parcel all the same. */
Test(basket_ties, what_is_free_is_sent_as_well)
{
    expect_basket("market EUR\n"
                  "supplier alpha EUR -1 1 -1\nship 0 50\nsupplier bravo EUR -1 1 -1\nship 0 20\n"
                  "part 0\noffer 0 EUR 0 0 1000000 1 -1 0\noffer 1 EUR 10 0 1000000 1 -1 0\n" NEED "0" OF
                  "end\n",
                  30, "bravo", 1);
}

Test(basket_ties, a_premium_counts_in_the_price_that_is_equal)
{
    expect_basket("market EUR\nsupplier alpha EUR -1 1 -1\n"
                  "part 1000000\npart 0\noffer 0 EUR 80 0 1000000 1 -1 0\n"
                  "need 1000000\noption 1 1000000 0\noption 0 1000000 80\nend\n",
                  80, "", 0);
}

static uint32_t seed;

static int roll(int below)
{
    seed = seed * 1664525u + 1013904223u;
    return (int)((seed >> 8) % (uint32_t)below);
}

/* Few prices, charges and days, so that many baskets cost the same. */
static char *roll_ties(void)
{
    static const char *const names[] = {"delta", "alpha", "charlie", "bravo"};
    char *words = NULL;
    size_t length = 0;
    FILE *out = open_memstream(&words, &length);
    fprintf(out, "market EUR\n");
    for (int s = 0; s < 4; s++)
        fprintf(out, "supplier %s EUR -1 %d -1\nship 0 %d\n", names[s], roll(2), 100 * roll(2));
    for (int i = 0; i < 5; i++) {
        fprintf(out, "part 0\n");
        for (int o = 0; o < 4; o++)
            if (roll(4))
                fprintf(out, "offer %d EUR %d 0 1000000 1 %d %d\n", o, 100 + 100 * roll(2), roll(3) ? -1 : 1,
                        roll(3));
    }
    for (int n = 0; n < 3; n++)
        fprintf(out, "need 1000000\noption %d 1000000 0\noption %d 1000000 %d\n", n, 3 + roll(2),
                100 * roll(2));
    fprintf(out, "end\n");
    fclose(out);
    return words;
}

static void hold_against(const char *words)
{
    struct market_text *text = market_of(words);
    struct brute_basket best = brute_solve(&text->market, &text->limits);
    struct lb_basket *basket = basket_of(text);
    uint32_t bits = 0;
    cr_assert_eq(basket->found, best.found, "%s", words);
    for (size_t i = 0; i < basket->parcel_count; i++) {
        int rank = 0;
        for (size_t s = 0; s < 4; s++)
            rank += strcmp(text->market.suppliers[s].name,
                           text->market.suppliers[basket->parcels[i].supplier].name) < 0;
        bits |= 1u << rank;
    }
    cr_expect(basket->proved);
    cr_expect(!best.found ||
                  (price_of(basket) == best.price && basket->parcel_count == (size_t)best.parcels &&
                   basket->days == best.days && bits == best.suppliers),
              "%lld, %zu parcels, %lld days, %x; by trying everything %lld, %d, %lld, %x\n%s",
              (long long)price_of(basket), basket->parcel_count, (long long)basket->days, bits,
              (long long)best.price, best.parcels, (long long)best.days, best.suppliers, words);
    lb_basket_free(basket);
    market_text_free(text);
}

Test(basket_ties, equal_those_of_trying_everything)
{
    seed = 7;
    for (int i = 0; i < 300; i++) {
        char *words = roll_ties();
        hold_against(words);
        free(words);
    }
}

static void expect_unmet(const char *words, const char *limit, size_t count, uint32_t first)
{
    char all[2000];
    snprintf(all, sizeof all, "%s%send\n", words, limit);
    struct market_text *text = market_of(all);
    struct lb_basket *basket = basket_of(text);
    cr_expect(!basket->found && basket->proved, "%s", all);
    cr_expect_eq(basket->unmet_count, count, "%zu\n%s", basket->unmet_count, all);
    cr_expect(!count || basket->unmet[0] == first);
    lb_basket_free(basket);
    market_text_free(text);
}

static const char two_needs[] = "market EUR\nsupplier alpha EUR -1 2 -1\nsupplier bravo USD -1 2 -1\n"
                                "part 0\noffer 0 EUR 100 0 1000000 1 3 0\n"
                                "part 500000\noffer 0 EUR 100 0 1000000 1 2 3\n";

static void expect_two(const char *more, const char *limit, size_t count, uint32_t first)
{
    char words[1500];
    snprintf(words, sizeof words, "%s%s", two_needs, more);
    expect_unmet(words, limit, count, first);
}

Test(basket_ties, needs_that_nothing_can_supply_are_listed)
{
    expect_unmet("market EUR\npart 0\nneed 1000000\noption 0 1000000 0\n", "", 1, 0);
    expect_unmet("market EUR\nneed 1000000\n", "", 1, 0);
    expect_unmet("market EUR\nsupplier bravo USD -1 2 -1\npart 0\noffer 0 USD 1 0 1000000 1 -1 0\n" NEED
                 "0" OF,
                 "", 1, 0);
    /* 2.5 are there, with the shelf */
    expect_two(NEED "0" OF "need 2600000\noption 1 2600000 0\n", "", 1, 1);
    expect_two(NEED "0" OF NEED "1" OF, "limit days 4\n", 1, 1);
    expect_two(NEED "0" OF NEED "1" OF, "limit without 0\n", 2, 0);
    expect_two("need 1000000\noption 0 1000000 0\nwith 1 3000000\n", "", 1, 0);
}

Test(basket_ties, what_is_only_together_too_much_is_no_need_s_own)
{
    expect_two("need 2000000\noption 0 2000000 0\nneed 2000000\noption 0 2000000 0\n", "", 0, 0);
    expect_two(NEED "0" OF NEED "1" OF "need 500000\noption 1 2500000 0\n", "", 0, 0);
}

Test(basket_ties, boxes_are_looked_into_for_unmet_needs)
{
    /* Three boxes of 2 can be had. */
    expect_two("need 7000000\noption 0 0 0\ncontent 0 2000000\ncover 0\n", "", 1, 0);
    expect_two("need 7000000\noption 0 0 0\ncontent 0 2000000\n", "", 1, 0);
    /* 6 from boxes that nobody may open, and 2 of its own. */
    expect_two("need 7000000\noption 1 7000000 0\nneed 1000000\noption 1 1000000 0\n"
               "content 0 2000000\ncover 0 1\n",
               "", 1, 0);
}
