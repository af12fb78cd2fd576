/* Markets written as text (market/market_text.h) and what the basket says to them. */
#ifndef TESTS_BASKET_HELP_H
#define TESTS_BASKET_HELP_H

#include "basket/reasons.h"
#include "market/market_text.h"

#include <criterion/criterion.h>
#include <string.h>

static inline struct market_text *market_of(const char *words)
{
    struct market_text *text;
    struct lb_error err = {0};
    cr_assert_eq(market_text_parse(&text, words, &err), LB_OK, "%s\n%s", lb_error_text(&err), words);
    text->limits.seconds = 60;
    return text;
}

static inline struct lb_basket *basket_of(const struct market_text *text)
{
    struct lb_basket *basket;
    struct lb_error err = {0};
    cr_assert_eq(lb_basket_solve(&basket, &text->market, &text->limits, &err), LB_OK, "%s",
                 lb_error_text(&err));
    return basket;
}

static inline int64_t price_of(const struct lb_basket *basket)
{
    return basket->total.total + basket->premium;
}

/* "alpha bravo": the suppliers of the parcels, as they stand. */
static inline const char *names_of(const struct market_text *text, const struct lb_basket *basket)
{
    static char names[200];
    names[0] = '\0';
    for (size_t i = 0; i < basket->parcel_count; i++) {
        if (i)
            strcat(names, " ");
        strcat(names, text->market.suppliers[basket->parcels[i].supplier].name);
    }
    return names;
}

#endif
