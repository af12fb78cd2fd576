/* Facility location is the basket without its frills: a customer is a need, a warehouse a supplier that
 * charges the same for any parcel. Twelve problems of OR-Library with their published optima
 * (orlib/README.md). */
#include "base/decimal.h"
#include "market/market_text.h"

#include <criterion/criterion.h>
#include <stdlib.h>
#include <string.h>

/* All costs are multiples of 0.0125; the reader counts in 10^-5. */
enum { PLACES = 5, STEP = 1250, NAME_ROOM = 512 };

static int64_t next_number(FILE *in)
{
    char word[64] = "0"; /* some say .00000 */
    const char *rest;
    int64_t value;
    cr_assert_eq(fscanf(in, "%62s", word + 1), 1, "the file ends too early");
    cr_assert_eq(lb_decimal_scan(word, PLACES, INT64_MAX, &value, &rest), LB_SCAN_OK, "%s", word);
    return value;
}

static int64_t next_count(FILE *in)
{
    return next_number(in) / 100000;
}

static int64_t next_cost(FILE *in)
{
    int64_t cost = next_number(in);
    cr_assert_eq(cost % STEP, 0);
    return cost / STEP;
}

static void write_warehouses(FILE *out, FILE *in, int64_t count)
{
    fprintf(out, "market EUR\n");
    for (int64_t w = 0; w < count; w++) {
        next_number(in); /* capacity */
        fprintf(out, "supplier w%02d EUR -1 -1 -1\nship 0 %lld\n", (int)w, (long long)next_cost(in));
    }
}

static void write_customers(FILE *out, FILE *in, int64_t count, int64_t warehouses)
{
    for (int64_t c = 0; c < count; c++) {
        next_number(in); /* demand */
        fprintf(out, "part 0\n");
        for (int64_t w = 0; w < warehouses; w++)
            fprintf(out, "offer %d EUR %lld 0 1000000 1 -1 -1\n", (int)w, (long long)next_cost(in));
    }
    for (int64_t c = 0; c < count; c++)
        fprintf(out, "need 1000000\noption %d 1000000 0\n", (int)c);
    fprintf(out, "end\n");
}

static struct market_text *problem(const char *name)
{
    char path[NAME_ROOM];
    snprintf(path, sizeof path, "%s/outside/orlib/%s.txt", LB_TESTS_DIR, name);
    FILE *in = fopen(path, "r");
    cr_assert_not_null(in, "%s", path);
    char *words = NULL;
    size_t length = 0;
    FILE *out = open_memstream(&words, &length);
    int64_t warehouses = next_count(in), customers = next_count(in);
    write_warehouses(out, in, warehouses);
    write_customers(out, in, customers, warehouses);
    fclose(out);
    fclose(in);
    struct market_text *text;
    struct lb_error err = {0};
    lb_status status = market_text_parse(&text, words, &err);
    cr_assert_eq(status, LB_OK, "%s: %s", name, lb_error_text(&err));
    free(words);
    return text;
}

/* `optimum` is as published, in thousandths; the exact one may have a digit more. */
static void solve(const char *name, int64_t optimum)
{
    struct market_text *text = problem(name);
    struct lb_basket *basket;
    struct lb_error err = {0};
    text->limits.seconds = 60;
    lb_status status = lb_basket_solve(&basket, &text->market, &text->limits, &err);
    cr_assert_eq(status, LB_OK, "%s: %s", name, lb_error_text(&err));
    cr_expect(basket->found && basket->proved, "%s: not proved", name);
    int64_t ten_thousandths = basket->total.total * 125;
    cr_expect(ten_thousandths >= optimum * 10 - 5 && ten_thousandths <= optimum * 10 + 5,
              "%s: %lld ten thousandths, published %lld thousandths", name, (long long)ten_thousandths,
              (long long)optimum);
    lb_basket_free(basket);
    market_text_free(text);
}

Test(facility_location, published_optima)
{
    FILE *in = fopen(LB_TESTS_DIR "/outside/orlib/optima.txt", "r");
    cr_assert_not_null(in);
    char name[32], optimum[32];
    int count = 0;
    for (; fscanf(in, "%31s %31s", name, optimum) == 2; count++) {
        int64_t thousandths;
        const char *rest;
        cr_assert_eq(lb_decimal_scan(optimum, 3, INT64_MAX, &thousandths, &rest), LB_SCAN_OK);
        solve(name, thousandths);
    }
    fclose(in);
    cr_expect_eq(count, 12);
}
