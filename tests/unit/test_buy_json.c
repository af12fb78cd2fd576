/* A purchase made by hand, as programs read it (formats.md §5, "buy"). */
#include "buy_help.h"
#include "report/buy_json.h"

#include <criterion/criterion.h>
#include <stdlib.h>
#include <string.h>

/* "parcels.2.lines.0.packs" */
static const json_t *find(const json_t *value, const char *path)
{
    char *copy = strdup(path), *rest = NULL;
    cr_assert(copy);
    for (char *step = strtok_r(copy, ".", &rest); step; step = strtok_r(NULL, ".", &rest))
        value =
            json_is_array(value) ? json_array_get(value, (size_t)atoi(step)) : json_object_get(value, step);
    free(copy);
    return value;
}

/* A value as it is dumped, on one line. */
static void says(const json_t *object, const char *path, const char *expected)
{
    const json_t *value = find(object, path);
    char *text = value ? json_dumps(value, JSON_ENCODE_ANY | JSON_REAL_PRECISION(15)) : NULL;
    cr_assert(text, "%s is not there", path);
    cr_expect_str_eq(text, expected, "%s: %s", path, text);
    free(text);
}

static json_t *reported(const struct lb_purchase *purchase)
{
    json_t *object = lb_report_buy_json(purchase);
    cr_assert(object);
    return object;
}

Test(buy_json, sums_and_days)
{
    struct lb_basket basket = hand_made_basket;
    const struct lb_purchase purchase = hand_made(&basket);
    json_t *object = reported(&purchase);
    says(object, "version", "1");
    says(object, "kits", "[\"saturday\", \"brakes\"]");
    says(object, "currency", "\"EUR\"");
    says(object, "goods", "{\"amount\": \"91.37\", \"currency\": \"EUR\"}");
    says(object, "shipping", "{\"amount\": \"20.82\", \"currency\": \"EUR\"}");
    says(object, "tax", "{\"amount\": \"13.07\", \"currency\": \"EUR\"}");
    says(object, "deposits", "{\"amount\": \"12.00\", \"currency\": \"EUR\"}");
    says(object, "total", "{\"amount\": \"125.26\", \"currency\": \"EUR\"}");
    says(object, "charged.1.total", "{\"amount\": \"15.88\", \"currency\": \"GBP\"}");
    says(object, "proved", "true");
    says(object, "bound", "null");
    says(object, "gap", "null");
    says(object, "premium.amount", "\"0.00\"");
    says(object, "arrives", "\"2026-12-05\"");
    says(object, "arrival_not_stated", "true");
    says(object, "front", "[]");
    says(object, "front_complete", "false");
    says(object, "gaps", "[]");
    says(object, "reasons", "null");
    says(object, "shown", "null");
    says(object, "moved", "[]");
    json_decref(object);
}

Test(buy_json, parcels)
{
    struct lb_basket basket = hand_made_basket;
    const struct lb_purchase purchase = hand_made(&basket);
    json_t *object = reported(&purchase);
    says(object, "parcels.0.supplier", "\"harbour\"");
    says(object, "parcels.0.name", "\"Harbour Street\"");
    says(object, "parcels.0.arrives", "\"2026-12-03\"");
    says(object, "parcels.0.goods.amount", "\"61.90\"");
    says(object, "parcels.0.shipping.amount", "\"6.90\"");
    says(object, "parcels.0.tax.amount", "\"13.07\"");
    says(object, "parcels.0.total.amount", "\"81.87\"");
    says(object, "parcels.0.deposits.amount", "\"12.00\"");
    says(object, "parcels.0.rate", "null");
    says(object, "parcels.0.shipping_not_stated", "false");
    says(object, "parcels.0.lines.0.deposit.amount", "\"12.00\"");
    says(object, "parcels.0.lines.0.rate", "null");
    says(object, "parcels.0.lines.0.for", "[{\"kit\": \"saturday\", \"line\": 11}]");
    says(object, "parcels.1.arrives", "\"2026-11-30\"");
    says(object, "parcels.1.arrival_not_stated", "true");
    says(object, "parcels.1.stock_not_stated", "true");
    says(object, "parcels.1.shipping_not_stated", "true");
    says(object, "parcels.1.lines.0.pack_quantity", "5");
    says(object, "parcels.1.lines.0.supplier_code", "\"\"");
    says(object, "parcels.2.goods", "{\"amount\": \"3.88\", \"currency\": \"GBP\"}");
    says(object, "parcels.2.rate", "{\"currency\": \"GBP\", \"in\": \"EUR\", \"rate\": 1.16}");
    says(object, "parcels.2.lines.0.brand", "\"Studwell\"");
    says(object, "parcels.2.lines.0.part_number", "\"SW-11411\"");
    says(object, "parcels.2.lines.0.supplier_code", "\"WQ-77\"");
    says(object, "parcels.2.lines.0.packs", "2");
    says(object, "parcels.2.lines.0.pack_quantity", "10");
    says(object, "parcels.2.lines.0.price", "{\"amount\": \"2.50\", \"currency\": \"USD\"}");
    says(object, "parcels.2.lines.0.amount", "{\"amount\": \"3.88\", \"currency\": \"GBP\"}");
    says(object, "parcels.2.lines.0.rate", "{\"currency\": \"USD\", \"in\": \"GBP\", \"rate\": 0.776}");
    says(object, "parcels.2.lines.0.for",
         "[{\"kit\": \"saturday\", \"line\": 14}, {\"kit\": \"brakes\", \"line\": 4}]");
    json_decref(object);
}

Test(buy_json, what_need_not_be_bought)
{
    struct lb_basket basket = hand_made_basket;
    const struct lb_purchase purchase = hand_made(&basket);
    json_t *object = reported(&purchase);
    says(object, "from_shelf",
         "[{\"brand\": \"Studwell\", \"part_number\": \"SW-11411\", \"quantity\": 3, \"opened\": false, "
         "\"for\": [{\"kit\": \"saturday\", \"line\": 14}, {\"kit\": \"brakes\", \"line\": 4}]}, "
         "{\"brand\": \"Saltmere\", \"part_number\": \"SM-C2\", \"quantity\": 1.5, \"opened\": false, "
         "\"for\": [{\"kit\": \"saturday\", \"line\": 32}]}]");
    says(object, "from_boxes",
         "[{\"kit\": \"saturday\", \"line\": 28, \"quantity\": 1, "
         "\"boxes\": [{\"brand\": \"Halvane\", \"part_number\": \"HV-WP1120\"}]}]");
    json_decref(object);
}

/* A box is there for a need as long as one of those opens it that may. */
Test(buy_json, a_box_that_is_opened_for_another)
{
    static const uint32_t pump[] = {NEED_COOLANT, NEED_PUMP};
    const struct lb_basket_cover cover = {.need = NEED_GASKET, .openers = pump, .opener_count = 2};
    const struct lb_basket_content content = {BOX, LB_MILLION, &cover, 1};
    struct lb_basket basket = hand_made_basket;
    struct lb_purchase purchase = hand_made(&basket);
    purchase.market.contents = &content;
    json_t *object = reported(&purchase);
    says(object, "from_boxes.0.boxes.0.part_number", "\"HV-WP1120\"");
    json_decref(object);
}

/* The needs' own option is the box: it is one box, whoever else needs it. */
Test(buy_json, a_box_from_the_shelf_and_what_belongs_together)
{
    static const struct lb_basket_demand seal[] = {{CLIPS, 2 * LB_MILLION}};
    static const struct lb_basket_option options[] = {
        {.part = BOX, .companions = seal, .companion_count = 1}};
    struct lb_basket_need needs[NEEDS];
    struct lb_basket_part parts[PARTS];
    struct lb_basket_answer answers[NEEDS];
    struct lb_basket basket = hand_made_basket;
    struct lb_purchase purchase = hand_made(&basket);
    memcpy(needs, market_needs, sizeof needs);
    memcpy(parts, market_parts, sizeof parts);
    memcpy(answers, buy_answers, sizeof answers);
    needs[NEED_PUMP].options = needs[NEED_GASKET].options = options;
    parts[BOX].on_hand = 5 * LB_MILLION;
    parts[CLIPS].on_hand = 20 * LB_MILLION;
    answers[NEED_GASKET] = answers[NEED_PUMP] = (struct lb_basket_answer){0, 0, LB_MILLION};
    answers[NEED_CLIPS] = answers[NEED_BRAKE_CLIPS] = (struct lb_basket_answer){UINT32_MAX, 0, 0};
    purchase.market.needs = needs;
    purchase.market.parts = parts;
    basket.answers = answers;
    json_t *object = reported(&purchase);
    says(object, "from_shelf.0.part_number", "\"HV-WP1120\"");
    says(object, "from_shelf.0.quantity", "1");
    says(object, "from_shelf.0.for",
         "[{\"kit\": \"saturday\", \"line\": 11}, {\"kit\": \"saturday\", \"line\": 28}]");
    says(object, "from_shelf.1.part_number", "\"SW-11411\"");
    says(object, "from_shelf.1.quantity", "4");
    json_decref(object);
}

Test(buy_json, the_front_has_the_basket_in_its_place)
{
    struct lb_basket basket = hand_made_basket, cheaper = hand_made_basket, sooner = hand_made_basket,
                     *points[] = {&cheaper, &sooner};
    struct lb_front front = {.points = points, .count = 2, .complete = true};
    struct lb_purchase purchase = hand_made(&basket);
    purchase.front = &front;
    cheaper.total.total--;
    cheaper.parcel_count = 1;
    sooner.total.total = 20000;
    sooner.days = 1;
    json_t *object = reported(&purchase);
    cr_expect_eq(json_array_size(json_object_get(object, "front")), 3);
    says(object, "front_complete", "true");
    says(object, "front.0.total.amount", "\"125.25\"");
    says(object, "front.0.parcels", "1");
    says(object, "front.0.arrival_not_stated", "false");
    says(object, "front.1.total.amount", "\"125.26\"");
    says(object, "front.1.arrives", "\"2026-12-05\"");
    says(object, "front.2.total", "{\"amount\": \"200.00\", \"currency\": \"EUR\"}");
    says(object, "front.2.parcels", "3");
    says(object, "front.2.arrives", "\"2026-12-01\"");
    json_decref(object);
}

Test(buy_json, not_proved)
{
    struct lb_basket basket = hand_made_basket;
    const struct lb_purchase purchase = hand_made(&basket);
    basket.proved = false;
    basket.premium = 300;
    basket.bound = 12500;
    json_t *object = reported(&purchase);
    says(object, "proved", "false");
    says(object, "premium.amount", "\"3.00\"");
    says(object, "bound", "{\"amount\": \"125.00\", \"currency\": \"EUR\"}");
    says(object, "gap", "{\"amount\": \"3.26\", \"currency\": \"EUR\"}");
    json_decref(object);
}

/* All that is promised is there, also when there is nothing to show. */
Test(buy_json, blocked)
{
    static const struct lb_purchase_gap gaps[] = {{"no-part", 1, 7, "no catalogue has a part for it"},
                                                  {"no-basket", 9, 0, "nobody delivers by then"}};
    static const char *const absent[] = {"goods", "shipping", "deposits", "tax",     "total",
                                         "bound", "gap",      "premium",  "arrives", "reasons"};
    static const char *const empty[] = {"parcels", "front", "charged", "from_shelf", "from_boxes", "moved"};
    struct lb_purchase purchase = hand_made(NULL);
    purchase.blocked = true;
    purchase.gaps = gaps;
    purchase.gap_count = 2;
    json_t *object = reported(&purchase);
    for (size_t i = 0; i < sizeof absent / sizeof *absent; i++)
        says(object, absent[i], "null");
    for (size_t i = 0; i < sizeof empty / sizeof *empty; i++)
        says(object, empty[i], "[]");
    says(object, "proved", "false");
    says(object, "gaps",
         "[{\"code\": \"no-part\", \"kit\": \"brakes\", \"line\": 7, "
         "\"message\": \"no catalogue has a part for it\"}, "
         "{\"code\": \"no-basket\", \"kit\": null, \"line\": null, "
         "\"message\": \"nobody delivers by then\"}]");
    json_decref(object);
}

Test(buy_json, nothing_to_buy)
{
    struct lb_basket basket = {.found = true, .proved = true, .total = {.currency = "EUR"}};
    struct lb_purchase purchase = hand_made(&basket);
    purchase.market.part_count = purchase.market.need_count = 0;
    json_t *object = reported(&purchase);
    says(object, "total.amount", "\"0.00\"");
    says(object, "arrives", "null");
    says(object, "parcels", "[]");
    says(object, "proved", "true");
    json_decref(object);
}

Test(buy_json, what_has_moved_and_why)
{
    static const struct lb_moved moved[] = {{&buy_part[BOX], "Harbour Street", 5990, 6190, "EUR"},
                                            {&buy_part[PUMP], "Gone Ltd", 1000, -1, "GBP"}};
    static const struct lb_next_best next[] = {{NEED_PUMP, true, 1, 0, 1, -520}, {.need = NEED_COOLANT}};
    static const struct lb_without without[] = {{HARBOUR, false, true, 0}, {SHED, true, false, 1230}};
    static const struct lb_surplus surplus[] = {{CLIPS, 0, 2, -1}};
    static const struct lb_one_more one_more[] = {{WESTQUAY, CLIPS, 0, 3, 800, 40}};
    const struct lb_reasons reasons = {next, without, one_more, surplus, 2, 2, 1, 1};
    struct lb_basket basket = hand_made_basket;
    struct lb_purchase purchase = hand_made(&basket);
    purchase.moved = moved;
    purchase.moved_count = 2;
    purchase.shown = "2026-11-23T08:15:00Z";
    purchase.reasons = (struct lb_reasons *)&reasons;
    json_t *object = reported(&purchase);
    says(object, "shown", "\"2026-11-23T08:15:00Z\"");
    says(object, "moved.0",
         "{\"brand\": \"Halvane\", \"part_number\": \"HV-WP1120\", \"supplier\": \"harbour\", "
         "\"was\": {\"amount\": \"59.90\", \"currency\": \"EUR\"}, "
         "\"now\": {\"amount\": \"61.90\", \"currency\": \"EUR\"}}");
    says(object, "moved.1.supplier", "\"Gone Ltd\"");
    says(object, "moved.1.now", "null");
    says(object, "reasons.next_best.0",
         "{\"kit\": \"saturday\", \"line\": 11, \"found\": true, \"brand\": \"Plainway\", "
         "\"part_number\": \"PW40112\", \"supplier\": \"harbour\", \"packs\": 1, "
         "\"dearer\": {\"amount\": \"-5.20\", \"currency\": \"EUR\"}}");
    says(object, "reasons.next_best.1",
         "{\"kit\": \"saturday\", \"line\": 32, \"found\": false, \"dearer\": null}");
    says(object, "reasons.without.0",
         "{\"supplier\": \"harbour\", \"found\": false, \"proved\": true, \"dearer\": null}");
    says(object, "reasons.without.1.dearer.amount", "\"12.30\"");
    says(object, "reasons.one_more_pack.0",
         "{\"brand\": \"Studwell\", \"part_number\": \"SW-11411\", \"supplier\": \"westquay\", \"packs\": 3, "
         "\"shipping\": {\"amount\": \"8.00\", \"currency\": \"GBP\"}, "
         "\"dearer\": {\"amount\": \"0.40\", \"currency\": \"EUR\"}}");
    says(object, "reasons.surplus.0.packs", "2");
    says(object, "reasons.surplus.0.saves", "null");
    json_decref(object);
}
