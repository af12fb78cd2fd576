/* Fleets: stored and opened, numbered through, added up, bought and received as one. */
#include "purchase_help.h"

#include "base/vec.h"
#include "kit/fleet.h"
#include "report/fleet_json.h"

enum { MOST = 40 };

static struct lb_vehicle garage[MOST];
static size_t parked;

static void park(struct shop *shop, const char *name, const char *model)
{
    struct lb_vehicle vehicle = {.name = strdup(name), .interval = {LB_DATE_MIN, LB_DATE_MAX}};
    expect_ok(lb_vehicle_state(&vehicle, "make", "Orlop", &err));
    expect_ok(lb_vehicle_state(&vehicle, "model", model, &err));
    expect_ok(lb_vehicle_save(shop->store, &vehicle, &err));
    lb_vehicle_free(&vehicle);
}

static const struct lb_vehicle *vehicle_of(struct shop *shop, const char *name)
{
    cr_assert(parked < MOST);
    expect_ok(lb_vehicle_load(shop->store, name, &garage[parked], &err));
    return &garage[parked++];
}

/* The shop's finch, a gull and an owl like it, and a heron that no map covers. */
static struct shop fleet_shop(void)
{
    struct shop shop = shop_open();
    parked = 0;
    park(&shop, "gull", "Finch");
    park(&shop, "owl", "Finch");
    park(&shop, "heron", "Heron");
    return shop;
}

static void fleet_close(struct shop *shop)
{
    while (parked)
        lb_vehicle_free(&garage[--parked]);
    shop_close(shop);
}

/* Vehicle and job, in turns. */
static lb_status build_of(struct shop *shop, struct lb_fleet **out, const char *name,
                          const char *const *words, size_t count)
{
    struct lb_fleet_part parts[MOST];
    struct lb_want wants[MOST];
    for (size_t i = 0; i < count / 2; i++) {
        wants[i] = (struct lb_want){LB_WANT_JOB, (char *)words[2 * i + 1]};
        parts[i] = (struct lb_fleet_part){vehicle_of(shop, words[2 * i]), &wants[i], 1};
    }
    return lb_fleet_build(out, shop->store, name, parts, count / 2, SHOP_TODAY, &err);
}

#define try_build(shop, out, name, ...)                                                                      \
    build_of(shop, out, name, (const char *const[]){__VA_ARGS__},                                            \
             sizeof((const char *[]){__VA_ARGS__}) / sizeof(char *))

#define build(shop, name, ...)                                                                               \
    do {                                                                                                     \
        struct lb_fleet *built;                                                                              \
        expect_ok(try_build(shop, &built, name, __VA_ARGS__));                                               \
        lb_fleet_free(built);                                                                                \
    } while (0)

#define refuse(shop, words, name, ...)                                                                       \
    do {                                                                                                     \
        struct lb_fleet *built;                                                                              \
        cr_expect_eq(try_build(shop, &built, name, __VA_ARGS__), LB_DATA);                                   \
        cr_expect_null(built);                                                                               \
        cr_expect(strstr(lb_error_text(&err), words) != NULL, "\"%s\" without \"%s\"", lb_error_text(&err),  \
                  words);                                                                                    \
    } while (0)

static struct lb_fleet *open_fleet(struct shop *shop, const char *name)
{
    struct lb_fleet *fleet;
    expect_ok(lb_fleet_open(&fleet, shop->store, name, SHOP_TODAY, &err));
    return fleet;
}

/* "sp/finch pump, sp/gull both": the kits and their targets, as `kit list` tells them. */
static lb_status list_one(void *context, const char *name, const char *vehicle, const char *targets)
{
    struct lb_buf *out = context;
    lb_buf_printf(out, "%s%s: %s: %s", out->length ? " | " : "", name, vehicle, targets);
    return LB_OK;
}

static void expect_list(struct shop *shop, const char *want)
{
    struct lb_buf seen = {0};
    expect_ok(lb_kit_each(shop->store, list_one, &seen, &err));
    cr_expect_str_eq(lb_buf_text(&seen), want, "\"%s\" instead of \"%s\"", lb_buf_text(&seen), want);
    lb_buf_free(&seen);
}

static int64_t count_rows(struct shop *shop, const char *sql)
{
    int64_t count;
    expect_ok(lb_store_integer(shop->store, sql, &count, &err));
    return count;
}

static enum lb_decision decision_of(struct shop *shop, const char *kit_name, const char *part_type)
{
    struct lb_kit *kit = shop_open_kit(shop, kit_name);
    enum lb_decision decision = shop_line(kit, part_type)->decision;
    lb_kit_free(kit);
    return decision;
}

#define USUAL "sat: finch: pump | sun: finch: both"

Test(fleet, is_one_row_and_its_kits_are_kits)
{
    struct shop shop = fleet_shop();
    build(&shop, "sp", "finch", "pump", "gull", "both");
    expect_list(&shop, "sat: finch: pump | sp: finch, gull: pump, both | sun: finch: both");
    struct lb_kit *kit = shop_open_kit(&shop, "sp/gull");
    cr_expect_str_eq(kit->name, "sp/gull");
    cr_expect_str_eq(kit->vehicle.name, "gull");
    cr_expect_eq(kit->need_count, 5);
    lb_kit_free(kit);
    cr_expect_eq(lb_kit_open(&kit, shop.store, "SP", SHOP_TODAY, &err), LB_DATA);
    cr_expect_str_eq(lb_error_text(&err), "sp is a kit of 2 vehicles; name one: sp/finch, sp/gull");
    fleet_close(&shop);
}

Test(fleet, a_plain_kit_is_opened_as_a_fleet_of_one)
{
    struct shop shop = fleet_shop();
    struct lb_fleet *fleet = open_fleet(&shop, "sun");
    cr_expect(fleet->single && fleet->kit_count == 1 && fleet->id == 0);
    cr_expect_str_eq(fleet->name, "sun");
    size_t kit = 9;
    const struct lb_line *line = lb_fleet_line(fleet, 2, &kit, &err);
    cr_expect(line == &fleet->kits[0]->lines[1] && kit == 0);
    cr_expect_null(lb_fleet_line(fleet, 99, &kit, &err));
    lb_fleet_free(fleet);
    cr_expect_eq(lb_fleet_open(&fleet, shop.store, "spring", SHOP_TODAY, &err), LB_DATA);
    cr_expect_null(fleet);
    fleet_close(&shop);
}

Test(fleet, numbers_go_through_and_lead_back)
{
    struct shop shop = fleet_shop();
    build(&shop, "sp", "owl", "cover", "finch", "pump", "gull", "both");
    struct lb_fleet *fleet = open_fleet(&shop, "sp");
    int number = 0;
    for (size_t k = 0; k < fleet->kit_count; k++)
        for (size_t i = 0; i < fleet->kits[k]->line_count; i++) {
            size_t kit = 99;
            const struct lb_line *line = lb_fleet_line(fleet, ++number, &kit, &err);
            cr_expect(line == &fleet->kits[k]->lines[i] && kit == k);
            cr_expect_eq(lb_fleet_number(fleet, kit, line->number), number);
        }
    cr_expect_eq(number, fleet->line_count);
    size_t kit;
    cr_expect_null(lb_fleet_line(fleet, 0, &kit, &err));
    cr_expect_null(lb_fleet_line(fleet, number + 1, &kit, &err));
    cr_expect(strstr(lb_error_text(&err), "over all its vehicles") != NULL);
    lb_fleet_free(fleet);
    fleet_close(&shop);
}

Test(fleet, the_same_vehicle_twice_is_one_kit)
{
    struct shop shop = fleet_shop();
    build(&shop, "sp", "finch", "pump", "gull", "pump", "FINCH", "cover");
    expect_list(&shop, "sat: finch: pump | sp: finch, gull: pump, cover | sun: finch: both");
    struct lb_fleet *fleet = open_fleet(&shop, "sp");
    cr_expect_eq(fleet->kit_count, 2);
    cr_expect_eq(fleet->kits[0]->want_count, 2);
    lb_fleet_free(fleet);
    build(&shop, "mon", "owl", "pump", "Owl", "cover"); /* that is one vehicle */
    expect_list(&shop,
                "mon: owl: pump, cover | sat: finch: pump | sp: finch, gull: pump, cover | sun: finch: both");
    fleet_close(&shop);
}

Test(fleet, one_vehicle_makes_a_kit_of_it_and_decisions_stay)
{
    struct shop shop = fleet_shop();
    build(&shop, "sp", "finch", "pump", "gull", "both");
    decide(&shop, "sp/gull", "water-pump", LB_HAVE, NULL, NULL);
    decide(&shop, "sp/finch", "water-pump", LB_DROP, NULL, NULL);
    build(&shop, "sp", "gull", "both");
    expect_list(&shop, "sat: finch: pump | sp: gull: both | sun: finch: both");
    cr_expect_eq(decision_of(&shop, "sp", "water-pump"), LB_HAVE);
    cr_expect_eq(count_rows(&shop, "SELECT count(*) FROM fleet"), 0);
    cr_expect_eq(count_rows(&shop, "SELECT count(*) FROM kit"), 3);
    build(&shop, "SP", "owl", "pump", "gull", "pump");
    cr_expect_eq(decision_of(&shop, "sp/gull", "water-pump"), LB_HAVE);
    cr_expect_eq(decision_of(&shop, "sp/owl", "water-pump"), LB_BUY);
    build(&shop, "sp", "finch", "pump", "gull", "pump"); /* what was decided for the first finch is gone */
    cr_expect_eq(decision_of(&shop, "sp/finch", "water-pump"), LB_BUY);
    cr_expect_eq(decision_of(&shop, "sp/gull", "water-pump"), LB_HAVE);
    fleet_close(&shop);
}

Test(fleet, nothing_is_stored_when_one_vehicle_cannot_be_worked_out)
{
    struct shop shop = fleet_shop();
    refuse(&shop, "sp/heron: no service map covers heron", "sp", "finch", "pump", "heron", "pump", "gull",
           "pump");
    refuse(&shop, "sp/gull: ", "sp", "finch", "pump", "gull", "pmp");
    expect_list(&shop, USUAL);
    build(&shop, "sp", "finch", "pump", "gull", "both");
    refuse(&shop, "sp/heron: ", "sp", "gull", "pump", "heron", "pump");
    refuse(&shop, "no service map covers heron", "sp", "heron", "pump");
    refuse(&shop, "sat/heron: ", "sat", "finch", "pump", "heron", "pump");
    expect_list(&shop, "sat: finch: pump | sp: finch, gull: pump, both | sun: finch: both");
    fleet_close(&shop);
}

Test(fleet, kits_and_fleets_share_their_names)
{
    struct shop shop = fleet_shop();
    build(&shop, "sp", "finch", "pump", "gull", "both");
    refuse(&shop, "sp/gull is the kit for gull in sp", "SP/gull", "gull", "pump");
    refuse(&shop, "sp/gull is the kit for gull in sp", "sp/gull", "gull", "pump", "finch", "pump");
    build(&shop, "sp/owl", "owl", "pump"); /* nobody has that name yet */
    refuse(&shop, "the kit for owl would be called sp/owl", "sp", "finch", "pump", "owl", "pump");
    build(&shop, "tt/owl", "owl", "pump", "gull", "pump"); /* a fleet of that name */
    refuse(&shop, "the kit for owl would be called tt/owl", "tt", "finch", "pump", "owl", "pump");
    refuse(&shop, "needs a name", "", "finch", "pump", "gull", "pump");
    expect_list(&shop,
                "sat: finch: pump | sp: finch, gull: pump, both | sp/owl: owl: pump | sun: finch: both | "
                "tt/owl: owl, gull: pump");
    fleet_close(&shop);
}

/* A kit of the same name becomes the fleet's for its vehicle, with all that hangs on it. */
Test(fleet, what_was_ordered_is_not_lost)
{
    struct shop shop = fleet_shop();
    shop_order(&shop, (const char *const[]){"sat", NULL});
    refuse(&shop, "for finch in sat", "sat", "gull", "pump", "owl", "pump");
    build(&shop, "sat", "gull", "pump", "finch", "pump");
    expect_line(&shop, "sat/finch", "water-pump", "0/1/0/0");
    expect_line(&shop, "sat/gull", "water-pump", "0/0/0/1");
    refuse(&shop, "for finch in sat", "sat", "gull", "pump");
    refuse(&shop, "for finch in sat", "sat", "gull", "pump", "owl", "pump");
    build(&shop, "sat", "finch", "pump");
    expect_line(&shop, "sat", "water-pump", "0/1/0/0");
    fleet_close(&shop);
}

/* Ids are used again, so what was shown for a kit must not outlive it. */
Test(fleet, what_was_shown_goes_with_its_kits)
{
    struct shop shop = fleet_shop();
    const struct lb_purchase_options options = {.arrive_by = LB_NO_DAY, .seconds = 10};
    build(&shop, "sp", "finch", "pump", "gull", "both");
    for (int i = 0; i < 3; i++) {
        static const char *const names[] = {"sp", "sp/finch", "sat"};
        struct lb_purchase *p = buy(&shop, names[i]);
        expect_ok(lb_purchase_note_shown(shop.store, p, &options, SHOP_NOW, &err));
        lb_purchase_free(p);
    }
    cr_expect_eq(count_rows(&shop, "SELECT count(*) FROM shown"), 3);
    struct lb_purchase *p = buy(&shop, "sp/gull", "sp/finch");
    cr_expect_not_null(p->shown, "the fleet's name is its kits'");
    lb_purchase_free(p);
    build(&shop, "sp", "finch", "pump");
    cr_expect_eq(count_rows(&shop, "SELECT count(*) FROM shown"), 2); /* of all but the one with gull */
    fleet_close(&shop);
}

/* What the lines of a group have in common, step by step, found by trying all pairs until nothing changes. */
static bool alike(const struct lb_line *a, const struct lb_line *b)
{
    const struct lb_article *x = &a->need->article, *y = &b->need->article;
    if (strcmp(x->part_type, y->part_type) != 0 || strcmp(x->unit, y->unit) != 0)
        return false;
    if (x->spec.kind != LB_SPEC_NONE && y->spec.kind != LB_SPEC_NONE && lb_spec_meets(&x->spec, &y->spec) &&
        lb_spec_meets(&y->spec, &x->spec))
        return true;
    return a->chosen != LB_NO_NAME && b->chosen != LB_NO_NAME &&
           strcmp(a->candidates[a->chosen].part->key, b->candidates[b->chosen].part->key) == 0;
}

struct flat {
    const struct lb_line *line;
    size_t kit, group;
};

static size_t flatten(const struct lb_fleet *fleet, struct flat *flat)
{
    size_t count = 0;
    for (size_t k = 0; k < fleet->kit_count; k++)
        for (size_t i = 0; i < fleet->kits[k]->line_count; i++)
            if (fleet->kits[k]->lines[i].decision == LB_BUY) {
                flat[count] = (struct flat){&fleet->kits[k]->lines[i], k, count};
                count++;
            }
    for (bool moved = true; moved;) {
        moved = false;
        for (size_t a = 0; a < count; a++)
            for (size_t b = 0; b < count; b++)
                if (flat[a].group < flat[b].group && alike(flat[a].line, flat[b].line)) {
                    flat[b].group = flat[a].group;
                    moved = true;
                }
    }
    return count;
}

static void expect_sums(const struct lb_fleet *fleet)
{
    struct flat flat[400];
    size_t count = flatten(fleet, flat), seen = 0, groups = 0;
    struct lb_fleet_needs needs;
    expect_ok(lb_fleet_needs(&needs, fleet, &err));
    for (size_t i = 0; i < count; i++)
        groups += flat[i].group == i;
    cr_expect_eq(needs.count, groups, "%zu needs instead of %zu", needs.count, groups);
    for (size_t n = 0; n < needs.count; n++) {
        const struct lb_fleet_need *need = &needs.at[n];
        int64_t quantity = 0, to_buy = 0;
        size_t members = 0, group = count;
        for (size_t i = 0; i < count; i++)
            if (flat[i].line == need->shares[0].line)
                group = flat[i].group;
        for (size_t i = 0; i < count; i++) {
            if (flat[i].group != group)
                continue;
            cr_assert(members < need->share_count);
            cr_expect(need->shares[members].line == flat[i].line && need->shares[members].kit == flat[i].kit);
            quantity += flat[i].line->need->article.quantity;
            to_buy += flat[i].line->to_buy;
            members++;
        }
        cr_expect_eq(members, need->share_count);
        cr_expect_eq(quantity, need->quantity);
        cr_expect_eq(to_buy, need->to_buy);
        seen += members;
    }
    cr_expect_eq(seen, count); /* each line once */
    lb_fleet_needs_free(&needs);
}

/* Of each type: as much as the kits say when each is opened by itself. */
static void expect_types(struct shop *shop, const struct lb_fleet *fleet)
{
    static const char *const types[] = {"water-pump", "flange-bolt",   "pump-gasket",
                                        "coolant",    "starter-motor", "cover"};
    struct lb_fleet_needs needs;
    expect_ok(lb_fleet_needs(&needs, fleet, &err));
    for (size_t t = 0; t < sizeof types / sizeof *types; t++) {
        int64_t sum = 0, want = 0;
        for (size_t n = 0; n < needs.count; n++)
            sum += strcmp(needs.at[n].part_type, types[t]) == 0 ? needs.at[n].quantity : 0;
        for (size_t k = 0; k < fleet->kit_count; k++) {
            struct lb_kit *kit = shop_open_kit(shop, fleet->kits[k]->name);
            for (size_t i = 0; i < kit->line_count; i++)
                if (kit->lines[i].decision == LB_BUY &&
                    strcmp(kit->lines[i].need->article.part_type, types[t]) == 0)
                    want += kit->lines[i].need->article.quantity;
            lb_kit_free(kit);
        }
        cr_expect_eq(sum, want, "%s", types[t]);
    }
    lb_fleet_needs_free(&needs);
}

static void decide_line(struct shop *shop, const struct lb_kit *kit, const struct lb_line *line,
                        unsigned dice)
{
    static const char *const bolts[][2] = {{"Orlop", "100-02"}, {"Kestrel", "K-2"}, {"Orlop", "100-08"}};
    enum lb_decision decision = dice % 5 ? LB_BUY : (enum lb_decision)(dice / 5 % 4);
    bool named = decision == LB_BUY && strcmp(line->need->article.part_type, "flange-bolt") == 0;
    expect_ok(lb_kit_decide(shop->store, kit, line, decision, named ? bolts[dice / 20 % 3][0] : NULL,
                            named ? bolts[dice / 20 % 3][1] : NULL, &err));
}

Test(fleet, needs_are_added_up_whatever_is_decided)
{
    struct shop shop = fleet_shop();
    unsigned dice = 20260101;
    build(&shop, "sp", "finch", "both", "gull", "cover", "owl", "pump", "owl", "cover", "gull", "pump");
    for (int round = 0; round < 60; round++) {
        struct lb_fleet *fleet = open_fleet(&shop, "sp");
        expect_sums(fleet);
        expect_types(&shop, fleet);
        size_t kit;
        const struct lb_line *line;
        for (int i = 0; i < 4; i++) {
            dice = dice * 1103515245u + 12345u;
            line = lb_fleet_line(fleet, 1 + (long)(dice >> 8) % fleet->line_count, &kit, &err);
            cr_assert(line);
            decide_line(&shop, fleet->kits[kit], line, dice >> 12);
        }
        lb_fleet_free(fleet);
    }
    fleet_close(&shop);
}

/* Bolts of two vehicles by their spec, pumps by their part; the coolant is a fluid without a spec. */
Test(fleet, the_same_need_of_two_vehicles_is_one)
{
    struct shop shop = fleet_shop();
    build(&shop, "sp", "finch", "pump", "gull", "pump", "owl", "cover");
    decide(&shop, "sp/gull", "flange-bolt", LB_BUY, "Kestrel", "K-2");
    struct lb_fleet *fleet = open_fleet(&shop, "sp");
    struct lb_fleet_needs needs;
    struct lb_buf seen = {0};
    expect_ok(lb_fleet_needs(&needs, fleet, &err));
    for (size_t n = 0; n < needs.count; n++) {
        const struct lb_fleet_need *need = &needs.at[n];
        lb_buf_printf(&seen, "%s %s ", need->part_type, need->spec ? need->spec : "-");
        lb_decimal_print(&seen, need->quantity);
        lb_buf_printf(&seen, " %s of %zu\n", need->part ? need->part->number : "-", need->share_count);
    }
    const char *want = "water-pump - 2 100-01 of 2\nflange-bolt M6x1.0x25 8.8 16 - of 2\n"
                       "pump-gasket - 2 100-03 of 2\ncoolant - 7.2 100-04 of 2\ncover - 1 100-09 of 1\n"
                       "flange-bolt M8x1.25x25 8.8 4 100-08 of 1\n";
    cr_expect_str_eq(lb_buf_text(&seen), want, "\n%s", lb_buf_text(&seen));
    lb_buf_free(&seen);
    lb_fleet_needs_free(&needs);
    lb_fleet_free(fleet);
    fleet_close(&shop);
}

Test(fleet, is_bought_as_its_kits_are)
{
    struct shop shop = fleet_shop();
    build(&shop, "sp", "finch", "pump", "gull", "both", "owl", "cover");
    struct lb_purchase *whole = buy(&shop, "sp"), *each = buy(&shop, "sp/finch", "sp/gull", "sp/owl"),
                       *twice = buy(&shop, "sp/gull", "sp");
    cr_assert(whole->basket && each->basket && twice->basket);
    cr_expect(whole->basket->proved && each->basket->proved);
    cr_expect_eq(whole->kit_count, 3);
    cr_expect_eq(twice->kit_count, 3);
    cr_expect_gt(whole->basket->total.total, 0);
    cr_expect_eq(whole->basket->total.total, each->basket->total.total);
    cr_expect_eq(whole->basket->total.total, twice->basket->total.total);
    cr_expect_eq(whole->market.need_count, each->market.need_count);
    lb_purchase_free(whole);
    lb_purchase_free(each);
    lb_purchase_free(twice);
    fleet_close(&shop);
}

static lb_status receive_two(struct shop *shop, struct lb_receipts *receipts, int64_t first, int64_t second)
{
    struct lb_fleet *fleet = open_fleet(shop, "sp");
    const size_t kits[] = {1, 0, 1};
    const struct lb_arrival arrivals[] = {
        {.line = shop_line(fleet->kits[1], "flange-bolt"), .quantity = second * LB_MILLION},
        {.line = shop_line(fleet->kits[0], "flange-bolt"), .quantity = first * LB_MILLION},
        {.line = shop_line(fleet->kits[1], "water-pump"), .quantity = LB_MILLION}};
    lb_status status = lb_fleet_receive(receipts, shop->store, fleet, arrivals, kits, 3, LB_CAME_WELL,
                                        SHOP_NOW, SHOP_TODAY, &err);
    lb_fleet_free(fleet);
    return status;
}

/* 16 bolts come in two packs of ten. */
Test(fleet, what_comes_for_several_is_recorded_together)
{
    struct shop shop = fleet_shop();
    struct lb_receipts receipts[2];
    build(&shop, "sp", "finch", "pump", "gull", "pump");
    shop_order(&shop, (const char *const[]){"sp/finch", "sp/gull", NULL});
    cr_expect_eq(receive_two(&shop, receipts, 8, 13), LB_DATA);
    cr_expect(strstr(lb_error_text(&err), "8 were named just before this") != NULL, "%s",
              lb_error_text(&err));
    expect_line(&shop, "sp/finch", "flange-bolt", "0/8/0/0");
    expect_line(&shop, "sp/gull", "water-pump", "0/1/0/0");
    expect_shelf(&shop, "");
    expect_ok(receive_two(&shop, receipts, 8, 12));
    cr_expect_eq(receipts[0].count, 1);
    cr_expect_eq(receipts[1].count, 2);
    for (int k = 0; k < 2; k++)
        lb_receipts_free(&receipts[k]);
    expect_line(&shop, "sp/finch", "flange-bolt", "8/0/0/0");
    expect_line(&shop, "sp/gull", "flange-bolt", "8/0/0/0");
    expect_line(&shop, "sp/gull", "water-pump", "1/0/0/0");
    expect_line(&shop, "sp/finch", "water-pump", "0/1/0/0");
    expect_shelf(&shop, "100-02 4");
    fleet_close(&shop);
}

/* Whichever kit of the fleet a line is in: it is named, and what it wants no more goes on the shelf. */
Test(fleet, a_parcel_is_for_the_lines_of_every_kit)
{
    struct shop shop = fleet_shop();
    const struct lb_interval any = {LB_DATE_MIN, LB_DATE_MAX};
    struct lb_receipts receipts;
    build(&shop, "sp", "finch", "pump", "gull", "pump");
    shop_order(&shop, (const char *const[]){"sp/finch", "sp/gull", NULL});
    struct lb_kit *kit = shop_open_kit(&shop, "sp/gull");
    int bolts = shop_line(kit, "flange-bolt")->number, pump = shop_line(kit, "water-pump")->number;
    expect_ok(lb_kit_decide(shop.store, kit, shop_line(kit, "water-pump"), LB_HAVE, NULL, NULL, &err));
    lb_kit_free(kit);
    struct lb_fleet *fleet = open_fleet(&shop, "sp");
    expect_ok(lb_fleet_receive_parcel(&receipts, shop.store, fleet, "Quayside Parts", any, LB_CAME_WELL,
                                      SHOP_NOW, &err));
    bool told = false;
    for (size_t i = 0; i < receipts.count; i++)
        for (size_t o = 0; o < receipts.at[i]->other_count; o++) {
            const struct lb_receipt_other *other = &receipts.at[i]->others[o];
            bool theirs = strcmp(other->kit, "sp/gull") == 0;
            cr_expect(other->line > 0 && !(theirs && other->line == pump), "%s %d", other->kit, other->line);
            told |= theirs && other->line == bolts && other->quantity == 8 * LB_MILLION;
        }
    cr_expect(told);
    lb_receipts_free(&receipts);
    lb_fleet_free(fleet);
    expect_line(&shop, "sp/finch", "water-pump", "1/0/0/0");
    kit = shop_open_kit(&shop, "sp/gull");
    cr_expect_eq(shop_line(kit, "water-pump")->here, 0);
    lb_kit_free(kit);
    fleet_close(&shop);
}

Test(fleet, an_order_is_found_by_the_fleet_whichever_vehicle_it_is_for)
{
    struct shop shop = fleet_shop();
    const struct lb_interval any = {LB_DATE_MIN, LB_DATE_MAX};
    struct lb_receipts receipts;
    struct lb_deposit_list list;
    build(&shop, "sp", "finch", "pump", "gull", "both");
    shop_order(&shop, (const char *const[]){"sp/gull", NULL});
    struct lb_fleet *fleet = open_fleet(&shop, "sp");
    expect_ok(lb_fleet_receive_parcel(&receipts, shop.store, fleet, "Mill Lane", any, LB_CAME_WELL, SHOP_NOW,
                                      &err));
    lb_receipts_free(&receipts);
    cr_expect_eq(
        lb_fleet_receive_parcel(&receipts, shop.store, fleet, "Mill Lane", any, LB_CAME_WELL, SHOP_NOW, &err),
        LB_DATA);
    cr_expect(strstr(lb_error_text(&err), "is open for sp,") != NULL, "%s", lb_error_text(&err));
    expect_line(&shop, "sp/gull", "starter-motor", "1/0/0/0");
    expect_ok(lb_fleet_claim(&list, shop.store, fleet, 0, NULL, SHOP_TODAY, &err));
    cr_expect_eq(list.count, 1);
    cr_expect(strstr(list.at[0].kits, "sp/gull") != NULL);
    lb_deposits_free(&list);
    cr_expect_eq(lb_fleet_claim(&list, shop.store, fleet, 0, NULL, SHOP_TODAY, &err), LB_DATA);
    cr_expect(strstr(lb_error_text(&err), "no deposit is open for sp.") != NULL, "%s", lb_error_text(&err));
    lb_fleet_free(fleet);
    fleet_close(&shop);
}

/* Every line once, numbered through, each naming the kit and the line that have the same type. */
Test(fleet, json_numbers_lead_to_the_kits)
{
    struct shop shop = fleet_shop();
    build(&shop, "sp", "gull", "both", "owl", "cover");
    struct lb_fleet *fleet = open_fleet(&shop, "sp");
    json_t *object = lb_report_fleet_json(fleet), *lines = json_object_get(object, "lines"), *line;
    size_t i;
    cr_assert(object);
    cr_expect_eq(json_array_size(lines), (size_t)fleet->line_count);
    json_array_foreach(lines, i, line)
    {
        json_t *of = json_object_get(line, "of");
        cr_expect_eq(json_integer_value(json_object_get(line, "line")), (json_int_t)i + 1);
        struct lb_kit *kit = shop_open_kit(&shop, json_string_value(json_object_get(of, "kit")));
        const struct lb_line *own =
            lb_kit_line(kit, (long)json_integer_value(json_object_get(of, "line")), &err);
        cr_assert(own);
        cr_expect_str_eq(json_string_value(json_object_get(line, "part_type")), own->need->article.part_type);
        cr_expect_str_eq(json_string_value(json_object_get(line, "vehicle")), kit->vehicle.name);
        lb_kit_free(kit);
    }
    json_t *second = json_array_get(json_object_get(object, "vehicles"), 1);
    cr_expect_eq(json_integer_value(json_object_get(second, "first_line")), fleet->before[1] + 1);
    cr_expect_str_eq(json_string_value(json_object_get(second, "kit")), "sp/owl");
    json_decref(object);
    lb_fleet_free(fleet);
    fleet_close(&shop);
}

Test(fleet, of_thirty_vehicles)
{
    struct shop shop = fleet_shop();
    struct lb_fleet_part parts[30];
    const struct lb_want want = {LB_WANT_JOB, (char *)"pump"};
    for (int i = 0; i < 30; i++) {
        char name[16];
        snprintf(name, sizeof name, "van%02d", i);
        park(&shop, name, "Finch");
        parts[i] = (struct lb_fleet_part){vehicle_of(&shop, name), &want, 1};
    }
    struct lb_fleet *fleet;
    expect_ok(lb_fleet_build(&fleet, shop.store, "yard", parts, 30, SHOP_TODAY, &err));
    cr_expect_eq(fleet->kit_count, 30);
    expect_sums(fleet);
    struct lb_fleet_needs needs;
    expect_ok(lb_fleet_needs(&needs, fleet, &err));
    cr_expect_eq(needs.count, 4);
    cr_expect_eq(needs.at[1].quantity, 240 * LB_MILLION);
    cr_expect_eq(needs.at[1].share_count, 30);
    lb_fleet_needs_free(&needs);
    lb_fleet_free(fleet);
    struct lb_purchase *p = buy(&shop, "yard");
    cr_expect(p->basket && p->basket->found);
    cr_expect_eq(p->kit_count, 30);
    lb_purchase_free(p);
    struct lb_kit *kit;
    cr_expect_eq(lb_kit_open(&kit, shop.store, "yard", SHOP_TODAY, &err), LB_DATA);
    cr_expect(strstr(lb_error_text(&err), "yard/van05 and 24 more") != NULL, "%s", lb_error_text(&err));
    fleet_close(&shop);
}
