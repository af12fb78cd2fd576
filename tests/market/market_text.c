/* One function a kind of line; a table says which, and how many numbers follow. */
#include "market/market_text.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>

enum { WORDS = 64 };

struct reader {
    struct market_text *text;
    struct lb_market *market; /* the text's */
    bool *closed;             /* by supplier; made when the first is */
    char *words[WORDS];
    size_t count;
    long line;
    struct lb_error *err;
};

static lb_status wrong(struct reader *r, const char *what)
{
    return lb_fail(r->err, LB_DATA, "line %ld of the market (%s): %s", r->line, r->words[0], what);
}

/* What `at` points to with one element more, which is `element`; moves when the count is a power of two.
 * NULL: out of memory. */
static void *grown(struct reader *r, const void *at, size_t count, size_t size, const void *element)
{
    char *room = (char *)(uintptr_t)at; /* of the arena, so it may be written to */
    if (!(count & (count - 1))) {
        room = lb_arena_alloc(&r->text->arena, (count ? 2 * count : 1) * size);
        if (room && count)
            memcpy(room, at, count * size);
    }
    if (room)
        memcpy(room + count * size, element, size);
    return room;
}

#define APPEND(r, at, count, ...)                                                                            \
    (((at) = grown((r), (at), (count), sizeof *(at), &(__VA_ARGS__))) ? ((count)++, LB_OK)                   \
                                                                      : lb_fail_nomem((r)->err))

/* The last element, to be added to; `at` is of the arena. */
#define LAST(type, at, count) ((struct type *)(uintptr_t) & (at)[(count)-1])

static lb_status number(struct reader *r, size_t word, int64_t *out)
{
    char *end;
    errno = 0;
    *out = strtoll(r->words[word], &end, 10);
    if (errno || *end || end == r->words[word])
        return lb_fail(r->err, LB_DATA, "line %ld of the market (%s): \"%s\" is no whole number", r->line,
                       r->words[0], r->words[word]);
    return LB_OK;
}

/* The words from `first` on, as numbers. */
static lb_status numbers(struct reader *r, size_t first, int64_t *out)
{
    lb_status status = LB_OK;
    for (size_t i = first; !status && i < r->count; i++)
        status = number(r, i, &out[i - first]);
    return status;
}

static const char *kept(struct reader *r, size_t word)
{
    return lb_arena_text(&r->text->arena, r->words[word], strlen(r->words[word]));
}

static lb_status read_market(struct reader *r)
{
    r->market->currency = kept(r, 1);
    return r->market->currency ? LB_OK : lb_fail_nomem(r->err);
}

static lb_status read_supplier(struct reader *r)
{
    int64_t n[3];
    lb_status status = numbers(r, 3, n);
    const char *name = kept(r, 1), *currency = kept(r, 2);
    if (status || !name || !currency)
        return status ? status : lb_fail_nomem(r->err);
    if (r->closed)
        return wrong(r, "suppliers stand above what is said of them");
    return APPEND(r, r->market->suppliers, r->market->supplier_count,
                  (struct lb_supplier){.name = name,
                                       .label = name,
                                       .currency = currency,
                                       .minimum_order = n[0],
                                       .ship_days = n[1],
                                       .tax = n[2]});
}

static lb_status read_ship(struct reader *r)
{
    int64_t n[2];
    lb_status status = numbers(r, 1, n);
    if (status || !r->market->supplier_count)
        return status ? status : wrong(r, "no supplier stands above it");
    struct lb_supplier *supplier = LAST(lb_supplier, r->market->suppliers, r->market->supplier_count);
    return APPEND(r, supplier->shipping, supplier->shipping_count, (struct lb_shipping){n[0], n[1]});
}

static lb_status read_rate(struct reader *r)
{
    int64_t rate;
    lb_status status = number(r, 3, &rate);
    const char *currency = kept(r, 1), *in = kept(r, 2);
    if (status || !currency || !in)
        return status ? status : lb_fail_nomem(r->err);
    return APPEND(r, r->market->rates, r->market->rate_count, (struct lb_rate){currency, in, rate});
}

static lb_status read_part(struct reader *r)
{
    int64_t on_hand;
    lb_status status = number(r, 1, &on_hand);
    return status ? status
                  : APPEND(r, r->market->parts, r->market->part_count,
                           (struct lb_basket_part){.on_hand = on_hand});
}

static lb_status read_offer(struct reader *r)
{
    int64_t n[6], supplier;
    lb_status status = number(r, 1, &supplier);
    const char *currency = kept(r, 2);
    if (!status)
        status = numbers(r, 3, n);
    if (status || !currency)
        return status ? status : lb_fail_nomem(r->err);
    if (!r->market->part_count || supplier < 0 || (size_t)supplier >= r->market->supplier_count)
        return wrong(r, "part and supplier must stand above it");
    if (n[2] <= 0)
        return wrong(r, "a pack holds more than nothing");
    struct lb_basket_part *part = LAST(lb_basket_part, r->market->parts, r->market->part_count);
    return APPEND(r, part->offers, part->offer_count,
                  (struct lb_basket_offer){.supplier = (uint32_t)supplier,
                                           .currency = currency,
                                           .price = n[0],
                                           .deposit = n[1],
                                           .pack = n[2],
                                           .minimum_packs = n[3],
                                           .stock = n[4],
                                           .lead_days = n[5]});
}

static lb_status read_need(struct reader *r)
{
    int64_t quantity;
    lb_status status = number(r, 1, &quantity);
    return status ? status
                  : APPEND(r, r->market->needs, r->market->need_count,
                           (struct lb_basket_need){.quantity = quantity});
}

static lb_status read_option(struct reader *r)
{
    int64_t n[3];
    lb_status status = numbers(r, 1, n);
    if (status || !r->market->need_count)
        return status ? status : wrong(r, "no need stands above it");
    struct lb_basket_need *need = LAST(lb_basket_need, r->market->needs, r->market->need_count);
    return APPEND(r, need->options, need->option_count,
                  (struct lb_basket_option){.part = (uint32_t)n[0], .quantity = n[1], .premium = n[2]});
}

static lb_status read_with(struct reader *r)
{
    int64_t n[2];
    lb_status status = numbers(r, 1, n);
    size_t needs = r->market->need_count;
    if (status || !needs || !r->market->needs[needs - 1].option_count)
        return status ? status : wrong(r, "no option stands above it");
    const struct lb_basket_need *need = &r->market->needs[needs - 1];
    struct lb_basket_option *option = LAST(lb_basket_option, need->options, need->option_count);
    return APPEND(r, option->companions, option->companion_count,
                  (struct lb_basket_demand){(uint32_t)n[0], n[1]});
}

static lb_status read_content(struct reader *r)
{
    int64_t n[2];
    lb_status status = numbers(r, 1, n);
    return status ? status
                  : APPEND(r, r->market->contents, r->market->content_count,
                           (struct lb_basket_content){.part = (uint32_t)n[0], .quantity = n[1]});
}

static lb_status read_cover(struct reader *r)
{
    int64_t n[WORDS];
    lb_status status = numbers(r, 1, n);
    if (status || !r->market->content_count)
        return status ? status : wrong(r, "no content stands above it");
    struct lb_basket_cover cover = {.need = (uint32_t)n[0]};
    for (size_t i = 2; !status && i < r->count; i++)
        status = APPEND(r, cover.openers, cover.opener_count, (uint32_t){(uint32_t)n[i - 1]});
    struct lb_basket_content *content =
        LAST(lb_basket_content, r->market->contents, r->market->content_count);
    return status ? status : APPEND(r, content->covers, content->cover_count, cover);
}

static lb_status close_supplier(struct reader *r, int64_t supplier)
{
    if (supplier < 0 || (size_t)supplier >= r->market->supplier_count)
        return wrong(r, "the supplier must stand above it");
    if (!r->closed)
        r->closed = lb_arena_alloc(&r->text->arena, r->market->supplier_count * sizeof *r->closed);
    if (!r->closed)
        return lb_fail_nomem(r->err);
    r->closed[supplier] = true;
    r->text->limits.closed = r->closed;
    return LB_OK;
}

static lb_status read_limit(struct reader *r)
{
    int64_t n;
    lb_status status = number(r, 2, &n);
    if (status)
        return status;
    if (strcmp(r->words[1], "without") == 0)
        return close_supplier(r, n);
    if (strcmp(r->words[1], "parcels") == 0)
        r->text->limits.parcels = (int)n;
    else if (strcmp(r->words[1], "days") == 0)
        r->text->limits.arrive_days = n;
    else
        return wrong(r, "it limits parcels or days, or says without whom");
    return LB_OK;
}

static const struct {
    const char *word;
    size_t least, most; /* words after the first */
    lb_status (*read)(struct reader *r);
} kinds[] = {
    {"market", 1, 1, read_market},   {"supplier", 5, 5, read_supplier},   {"ship", 2, 2, read_ship},
    {"rate", 3, 3, read_rate},       {"part", 1, 1, read_part},           {"offer", 8, 8, read_offer},
    {"need", 1, 1, read_need},       {"option", 3, 3, read_option},       {"with", 2, 2, read_with},
    {"content", 2, 2, read_content}, {"cover", 1, WORDS - 2, read_cover}, {"limit", 2, 2, read_limit},
};

static lb_status read_line(struct reader *r)
{
    for (size_t i = 0; i < sizeof kinds / sizeof *kinds; i++) {
        if (strcmp(kinds[i].word, r->words[0]) != 0)
            continue;
        if (r->count - 1 < kinds[i].least || r->count - 1 > kinds[i].most)
            return wrong(r, "too few or too many words");
        return kinds[i].read(r);
    }
    return wrong(r, "no such line");
}

static void split(struct reader *r, char *line)
{
    char *rest = NULL;
    r->count = 0;
    for (char *word = strtok_r(line, " \t\r\n", &rest); word && r->count < WORDS;
         word = strtok_r(NULL, " \t\r\n", &rest))
        r->words[r->count++] = word;
    if (r->count && r->words[0][0] == '#')
        r->count = 0;
}

static bool covers_stand(const struct lb_market *market, const struct lb_basket_content *content)
{
    bool good = content->part < market->part_count;
    for (size_t c = 0; c < content->cover_count; c++) {
        good &= content->covers[c].need < market->need_count;
        for (size_t o = 0; o < content->covers[c].opener_count; o++)
            good &= content->covers[c].openers[o] < market->need_count;
    }
    return good;
}

static bool options_stand(const struct lb_market *market, const struct lb_basket_need *need)
{
    bool good = need->quantity > 0;
    for (size_t o = 0; o < need->option_count; o++) {
        good &= need->options[o].part < market->part_count && need->options[o].quantity >= 0;
        for (size_t c = 0; c < need->options[o].companion_count; c++)
            good &= need->options[o].companions[c].part < market->part_count;
    }
    return good;
}

/* What refers to parts and needs may stand above them, so it is looked at when all is read. */
static lb_status check(struct reader *r)
{
    const struct lb_market *market = r->market;
    bool good = market->currency != NULL;
    for (size_t i = 0; i < market->need_count; i++)
        good &= options_stand(market, &market->needs[i]);
    for (size_t i = 0; i < market->content_count; i++)
        good &= covers_stand(market, &market->contents[i]);
    return good ? LB_OK
                : wrong(r,
                        "the market has no currency, an empty need, or names a part or need that it has not");
}

/* Up to and with `end`. *begun: there was anything. */
static lb_status read_lines(struct reader *r, FILE *in, bool *begun)
{
    char *line = NULL;
    size_t room = 0;
    lb_status status = LB_OK;
    bool ended = false;
    while (!status && !ended && getline(&line, &room, in) >= 0) {
        r->line++;
        split(r, line);
        *begun |= r->count > 0;
        ended = r->count && strcmp(r->words[0], "end") == 0;
        if (r->count)
            status = ended ? check(r) : read_line(r);
    }
    free(line);
    if (!status && *begun && !ended)
        status = lb_fail(r->err, LB_DATA, "line %ld: the market has no end", r->line);
    return status;
}

lb_status market_text_read(struct market_text **out, FILE *in, long *line, struct lb_error *err)
{
    *out = NULL;
    struct market_text *text = calloc(1, sizeof *text);
    if (!text)
        return lb_fail_nomem(err);
    text->limits = (struct lb_basket_limits){.arrive_days = -1, .seconds = 10};
    struct reader reader = {.text = text, .market = &text->market, .line = *line, .err = err};
    bool begun = false;
    lb_status status = read_lines(&reader, in, &begun);
    *line = reader.line;
    if (status || !begun)
        market_text_free(text);
    else
        *out = text;
    return status;
}

lb_status market_text_parse(struct market_text **out, const char *text, struct lb_error *err)
{
    long line = 0;
    *out = NULL;
    FILE *in = fmemopen((char *)(uintptr_t)text, strlen(text), "r");
    if (!in)
        return lb_fail_nomem(err);
    lb_status status = market_text_read(out, in, &line, err);
    fclose(in);
    return status;
}

void market_text_free(struct market_text *text)
{
    if (!text)
        return;
    lb_arena_free(&text->arena);
    free(text);
}
