/* Text markets (market_text.h) on standard input through the basket, one JSON line each on standard output:
 *
 *     basket_run [--seconds 10] [--front]
 *
 *     found, proved, bound, total, premium, parcels, days, seconds (of lb_basket_solve alone, on the clock)
 *     cheapest   total of lb_basket_cheapest, null when it leaves needs out; cheapest_orders: can it be
 *                ordered, no parcel below its minimum order or its first row of shipping
 *     front, front_complete, front_seconds      points beside the first, with --front
 *     peak_kb    the most memory of this process so far */
#include "market/market_text.h"

#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <time.h>

struct run {
    double seconds;
    bool front;
    int workers;
};

static double now(void)
{
    struct timespec at;
    clock_gettime(CLOCK_MONOTONIC, &at);
    return (double)at.tv_sec + 1e-9 * (double)at.tv_nsec;
}

static const char *truth(bool is)
{
    return is ? "true" : "false";
}

static bool orders(const struct lb_basket *basket)
{
    bool can = basket->found;
    for (size_t i = 0; i < basket->parcel_count; i++)
        can &= !basket->parcels[i].below_minimum && !basket->parcels[i].below_shipping;
    return can;
}

static lb_status tell_cheapest(const struct lb_market *market, struct lb_error *err)
{
    struct lb_basket *basket;
    lb_status status = lb_basket_cheapest(&basket, market, err);
    if (status)
        return status;
    if (basket->found)
        printf(", \"cheapest\": %lld, \"cheapest_orders\": %s", (long long)basket->total.total,
               truth(orders(basket)));
    else
        printf(", \"cheapest\": null, \"cheapest_orders\": false");
    lb_basket_free(basket);
    return LB_OK;
}

static lb_status tell_front(const struct market_text *text, const struct lb_basket *first,
                            struct lb_error *err)
{
    struct lb_front *front;
    double begun = now();
    lb_status status = lb_front_solve(&front, &text->market, &text->limits, first, err);
    if (status)
        return status;
    printf(", \"front\": %zu, \"front_complete\": %s, \"front_seconds\": %.6f", front->count,
           truth(front->complete), now() - begun);
    lb_front_free(front);
    return LB_OK;
}

static lb_status run_one(const struct run *run, struct market_text *text, struct lb_error *err)
{
    struct lb_basket *basket;
    struct rusage used;
    text->limits.seconds = run->seconds;
    text->limits.workers = run->workers;
    double begun = now();
    lb_status status = lb_basket_solve(&basket, &text->market, &text->limits, err);
    double seconds = now() - begun;
    if (status)
        return status;
    printf("{\"found\": %s, \"proved\": %s, \"bound\": %lld, \"total\": %lld, \"premium\": %lld, "
           "\"parcels\": %zu, \"days\": %lld, \"seconds\": %.6f",
           truth(basket->found), truth(basket->proved), (long long)basket->bound,
           (long long)basket->total.total, (long long)basket->premium, basket->parcel_count,
           (long long)basket->days, seconds);
    status = tell_cheapest(&text->market, err);
    if (!status && run->front && basket->found)
        status = tell_front(text, basket, err);
    getrusage(RUSAGE_SELF, &used);
    printf(", \"peak_kb\": %ld}\n", used.ru_maxrss);
    fflush(stdout);
    lb_basket_free(basket);
    return status;
}

static bool read_words(struct run *run, int argc, char **argv)
{
    for (int i = 1; i < argc; i++) {
        if (strcmp(argv[i], "--front") == 0)
            run->front = true;
        else if (strcmp(argv[i], "--seconds") == 0 && i + 1 < argc)
            run->seconds = strtod(argv[++i], NULL);
        else if (strcmp(argv[i], "--workers") == 0 && i + 1 < argc)
            run->workers = atoi(argv[++i]);
        else
            return false;
    }
    return run->seconds > 0;
}

int main(int argc, char **argv)
{
    struct run run = {.seconds = 10};
    struct market_text *text;
    struct lb_error err = {0};
    long line = 0;
    lb_status status;
    if (!read_words(&run, argc, argv)) {
        fprintf(stderr, "usage: basket_run [--seconds N] [--workers N] [--front] <markets\n");
        return LB_USAGE;
    }
    while (!(status = market_text_read(&text, stdin, &line, &err)) && text) {
        status = run_one(&run, text, &err);
        market_text_free(text);
        if (status)
            break;
    }
    if (status)
        fprintf(stderr, "%s\n", lb_error_text(&err));
    lb_error_free(&err);
    return (int)status;
}
