/* What is shown of a purchase made by hand. */
#include "buy_help.h"
#include "report/buy_text.h"

#include "base/text.h"

#include <criterion/criterion.h>
#include <string.h>

static const struct lb_style ninety = {.width = 90};
static const struct lb_purchase_options nothing_asked = {.arrive_by = LB_NO_DAY, .seconds = 10};

static void shows(const struct lb_purchase *purchase, const struct lb_purchase_options *asked,
                  const struct lb_style *style, const char *expected)
{
    struct lb_buf out = {0};
    lb_report_buy(&out, purchase, asked, style);
    cr_expect(!out.failed);
    cr_expect_str_eq(lb_buf_text(&out), expected, "\n%s", lb_buf_text(&out));
    lb_buf_free(&out);
}

/* What stands below the totals, or, with `from`, from there on. */
static void shows_from(const struct lb_purchase *purchase, const struct lb_purchase_options *asked,
                       const char *from, const char *expected)
{
    struct lb_buf out = {0};
    lb_report_buy(&out, purchase, asked, &ninety);
    cr_assert(!out.failed);
    const char *at = strstr(lb_buf_text(&out), from);
    cr_assert(at, "%s", lb_buf_text(&out));
    cr_expect_str_eq(at, expected, "\n%s", at);
    lb_buf_free(&out);
}

static void begins(const struct lb_purchase *purchase, const struct lb_purchase_options *asked,
                   const char *expected)
{
    struct lb_buf out = {0};
    lb_report_buy(&out, purchase, asked, &ninety);
    cr_assert(!out.failed);
    cr_expect_eq(strncmp(lb_buf_text(&out), expected, strlen(expected)), 0, "\n%s", lb_buf_text(&out));
    lb_buf_free(&out);
}

Test(buy_text, the_whole_page)
{
    struct lb_basket basket = hand_made_basket;
    struct lb_purchase purchase = hand_made(&basket);
    shows(&purchase, &nothing_asked, &ninety,
          "saturday, brakes: 125.26 EUR in 3 parcels, all here by Sat 2026-12-05 as far as it is\n"
          "  stated; proved: nothing cheaper meets every line\n"
          "\n"
          "       Harbour Street     for                     their code  a pack    EUR\n"
          "  1 ×  Halvane HV-WP1120  saturday 11 water-pump  HS-1         61.90  61.90\n"
          "       shipping                                                        6.90\n"
          "       tax                                                            13.07\n"
          "       parcel                                                         81.87\n"
          "  Here by Thu 2026-12-03.\n"
          "  Deposits apart: 12.00 EUR, back with the old part.\n"
          "\n"
          "       The Shed                     for                  a pack    EUR\n"
          "  1 ×  Saltmere SM-C2, pack of 5 L  saturday 32 coolant   24.97  24.97  *+\n"
          "       parcel                                                    24.97\n"
          "  Here by Mon 2026-11-30 at the earliest; not stated: how long it is on its way, and when\n"
          "  the lines marked + are sent.\n"
          "  Not stated: whether they have enough of the lines marked *; taken as enough.\n"
          "  Shipping is not stated; taken as nothing.\n"
          "\n"
          "       West Quay                 for                        their code    a pack    GBP\n"
          "  2 ×  Studwell SW-11411, pack   saturday 14, brakes 4      WQ-77       2.50 USD   3.88  *\n"
          "       of 10                     push-pin\n"
          "       shipping                                                                   12.00\n"
          "       parcel                                                                     15.88\n"
          "  Here by Sat 2026-12-05.\n"
          "  Not stated: whether they have enough of the lines marked *; taken as enough.\n"
          "  Counted at 1 USD = 0.776 GBP.\n"
          "  Counted at 1 GBP = 1.16 EUR.\n"
          "\n"
          "Need not be bought\n"
          "                                            for\n"
          "      3  Studwell SW-11411, from the shelf  saturday 14, brakes 4 push-pin\n"
          "  1.5 L  Saltmere SM-C2, from the shelf     saturday 32 coolant\n"
          "      1  in the box of Halvane HV-WP1120    saturday 28 gasket\n"
          "\n"
          "  Charged 106.84 EUR: goods 86.87, shipping 6.90, tax 13.07; deposits apart 12.00\n"
          "  Charged 15.88 GBP: goods 3.88, shipping 12.00, tax 0.00\n"
          "  Together 125.26 EUR: goods 91.37, shipping 20.82, tax 13.07; deposits apart 12.00\n");
}

Test(buy_text, one_kit_and_one_parcel)
{
    struct lb_basket basket = hand_made_basket;
    struct lb_purchase purchase = hand_made(&basket);
    purchase.kit_count = 1;
    purchase.market.need_count = 2;
    basket.parcel_count = basket.total_count = 1;
    basket.days = 3;
    basket.totals = &basket.total;
    basket.total = (struct lb_basket_total){"EUR", 6190, 690, 1307, 1200, 8187};
    shows(&purchase, &nothing_asked, &ninety,
          "saturday: 81.87 EUR in 1 parcel, here by Thu 2026-12-03; proved: nothing cheaper meets\n"
          "  every line\n"
          "\n"
          "       Harbour Street     for            their code  a pack    EUR\n"
          "  1 ×  Halvane HV-WP1120  11 water-pump  HS-1         61.90  61.90\n"
          "       shipping                                               6.90\n"
          "       tax                                                   13.07\n"
          "       parcel                                                81.87\n"
          "  Here by Thu 2026-12-03.\n"
          "  Deposits apart: 12.00 EUR, back with the old part.\n"
          "\n"
          "Need not be bought\n"
          "                                      for\n"
          "  1  in the box of Halvane HV-WP1120  28 gasket\n"
          "\n"
          "  Together 81.87 EUR: goods 61.90, shipping 6.90, tax 13.07; deposits apart 12.00\n");
}

Test(buy_text, what_is_to_be_settled_and_what_has_moved)
{
    static const struct lb_purchase_gap gaps[] = {
        {"ask", 0, 22, "o-ring: whether it is needed depends on: built"},
        {"fit-unknown", 1, 4, "hose: whether Plainway PW30044 fits depends on: built"}};
    static const struct lb_moved moved[] = {{&buy_part[BOX], "Harbour Street", 5990, 6190, "EUR"},
                                            {&buy_part[CLIPS], "West Quay", 260, 250, "USD"},
                                            {&buy_part[OTHER_PUMP], "The Shed", 2700, -1, "EUR"}};
    struct lb_basket basket = hand_made_basket;
    struct lb_purchase purchase = hand_made(&basket);
    purchase.gaps = gaps;
    purchase.gap_count = 2;
    purchase.moved = moved;
    purchase.moved_count = 3;
    purchase.shown = "2026-11-23T08:15:00Z";
    purchase.market.part_count = purchase.market.need_count = 0;
    basket.parcel_count = 0;
    shows(&purchase, &nothing_asked, &ninety,
          "saturday, brakes: nothing to buy: all that is needed is here, on its way or left out\n"
          "\n"
          "To be settled before it is ordered\n"
          "  kit       line  gap          what is wrong\n"
          "  saturday    22  ask          o-ring: whether it is needed depends on: built\n"
          "  brakes       4  fit-unknown  hose: whether Plainway PW30044 fits depends on: built\n"
          "\n"
          "What has moved since it was last shown, 2026-11-23\n"
          "  part               from                  was          now\n"
          "  Halvane HV-WP1120  Harbour Street  59.90 EUR    61.90 EUR\n"
          "  Studwell SW-11411  West Quay        2.60 USD     2.50 USD\n"
          "  Plainway PW40112   The Shed        27.00 EUR  not offered\n");
}

Test(buy_text, what_stands_in_the_way)
{
    static const struct lb_purchase_gap gaps[] = {
        {"no-part", 0, 7, "heater-valve-seal: no catalogue has a part for it"},
        {"ask", 0, 22, "o-ring: whether it is needed depends on: built"},
        {"no-basket", 7, 0, "The Shed alone cannot supply everything"}};
    struct lb_purchase purchase = hand_made(NULL);
    const struct lb_purchase_options asked = {.arrive_by = 20791,
                                              .suppliers_at_most = 2,
                                              .only = (const char *[]){"shed", "West Quay"},
                                              .only_count = 2,
                                              .without = (const char *[]){"harbour"},
                                              .without_count = 1,
                                              .seconds = 10};
    purchase.gaps = gaps;
    purchase.gap_count = 3;
    purchase.blocked = true;
    shows(&purchase, &asked, &ninety,
          "saturday, brakes: nothing is bought, since not every line can be met\n"
          "  Asked for: here by Fri 2026-12-04; 2 suppliers at most; only from shed, West Quay; not\n"
          "  from harbour.\n"
          "\n"
          "What stands in the way\n"
          "  kit       line  gap        what is wrong\n"
          "  saturday     7  no-part    heater-valve-seal: no catalogue has a part for it\n"
          "  saturday    22  ask        o-ring: whether it is needed depends on: built\n"
          "                  no-basket  The Shed alone cannot supply everything\n");
    purchase.kit_count = purchase.gap_count = 1;
    shows(&purchase, &nothing_asked, &ninety,
          "saturday: nothing is bought, since not every line can be met\n"
          "\n"
          "What stands in the way\n"
          "  line  gap      what is wrong\n"
          "     7  no-part  heater-valve-seal: no catalogue has a part for it\n");
}

Test(buy_text, what_is_not_proved)
{
    struct lb_basket basket = hand_made_basket;
    struct lb_purchase purchase = hand_made(&basket);
    struct lb_purchase_options asked = {.arrive_by = LB_NO_DAY, .suppliers_at_most = 1, .seconds = 2.5};
    purchase.kit_count = 1;
    begins(&purchase, &asked,
           "saturday: 125.26 EUR in 3 parcels, all here by Sat 2026-12-05 as far as it is stated;\n"
           "  proved: nothing cheaper meets every line within what was asked for\n"
           "  Asked for: 1 supplier at most.\n");
    basket.proved = false;
    basket.bound = 12338;
    begins(&purchase, &nothing_asked,
           "saturday: 125.26 EUR in 3 parcels, all here by Sat 2026-12-05 as far as it is stated; the\n"
           "  best that was found in time: nothing below 123.38 EUR, so at most 1.88 EUR (1.5 %) could\n"
           "  be saved\n"
           "  To search longer: --seconds 100\n");
    basket.bound = 12525;
    begins(&purchase, &asked,
           "saturday: 125.26 EUR in 3 parcels, all here by Sat 2026-12-05 as far as it is stated; the\n"
           "  best that was found in time: nothing below 125.25 EUR, so at most 0.01 EUR (under 0.1 %)\n"
           "  could be saved\n"
           "  Asked for: 1 supplier at most.\n"
           "  To search longer: --seconds 25\n");
    basket.bound = 0;
    begins(&purchase, &nothing_asked,
           "saturday: 125.26 EUR in 3 parcels, all here by Sat 2026-12-05 as far as it is stated; the\n"
           "  best that was found in time; how much another one might save is not known\n"
           "  To search longer: --seconds 100\n");
    basket.bound = 12526;
    begins(&purchase, &nothing_asked,
           "saturday: 125.26 EUR in 3 parcels, all here by Sat 2026-12-05 as far as it is stated; the\n"
           "  best that was found in time, and nothing costs less\n"
           "  To search longer: --seconds 100\n");
}

/* What the owner prefers may cost more, and is part of what was minimised. */
Test(buy_text, what_is_preferred)
{
    struct lb_basket_option options[] = {pump_options[0], pump_options[1]};
    struct lb_basket_need needs[NEEDS];
    struct lb_basket basket = hand_made_basket;
    struct lb_purchase purchase = hand_made(&basket);
    memcpy(needs, market_needs, sizeof needs);
    options[1].premium = 250;
    needs[NEED_PUMP].options = options;
    purchase.market.needs = needs;
    begins(&purchase, &nothing_asked,
           "saturday, brakes: 125.26 EUR in 3 parcels, all here by Sat 2026-12-05 as far as it is\n"
           "  stated; proved: nothing cheaper meets every line, with your preferences counted\n");
    basket.premium = 250;
    shows_from(&purchase, &nothing_asked, "  Together",
               "  Together 125.26 EUR: goods 91.37, shipping 20.82, tax 13.07; deposits apart 12.00\n"
               "  Parts that you prefer less were counted 2.50 EUR dearer than they are, and still taken.\n");
    basket.proved = false;
    basket.bound = 12500;
    begins(&purchase, &nothing_asked,
           "saturday, brakes: 125.26 EUR in 3 parcels, all here by Sat 2026-12-05 as far as it is\n"
           "  stated; the best that was found in time: at most 2.76 EUR (2.2 %) could be saved\n"
           "  To search longer: --seconds 100\n");
}

Test(buy_text, other_baskets)
{
    struct lb_basket basket = hand_made_basket, sooner = hand_made_basket, fewer = hand_made_basket,
                     *points[] = {&fewer, &sooner};
    struct lb_front front = {.points = points, .count = 2, .complete = true};
    struct lb_purchase purchase = hand_made(&basket);
    purchase.front = &front;
    fewer.parcel_count = 1;
    fewer.days = 8;
    fewer.total.total = 13001;
    sooner.days = 1;
    sooner.total.total = 22000;
    sooner.proved = false;
    shows_from(&purchase, &nothing_asked, "\nSooner",
               "\n"
               "Sooner, or in fewer parcels\n"
               "             all here by                   costs\n"
               "  3 parcels  Sat 2026-12-05 or later  125.26 EUR  as above\n"
               "   1 parcel  Tue 2026-12-08           130.01 EUR  4.75 dearer\n"
               "  3 parcels  Tue 2026-12-01 or later  220.00 EUR  94.74 dearer, not proved\n"
               "  To have another: --arrive-by DATE, --suppliers-at-most N\n");
    front.complete = false;
    fewer.total.total = 12400;
    shows_from(&purchase, &nothing_asked, "\nSooner",
               "\n"
               "Sooner, or in fewer parcels\n"
               "             all here by                   costs\n"
               "   1 parcel  Tue 2026-12-08           124.00 EUR  1.26 cheaper\n"
               "  3 parcels  Sat 2026-12-05 or later  125.26 EUR  as above\n"
               "  3 parcels  Tue 2026-12-01 or later  220.00 EUR  94.74 dearer, not proved\n"
               "  To have another: --arrive-by DATE, --suppliers-at-most N\n"
               "  Whether others come sooner or in fewer parcels was not found out in time.\n");
    front.count = 0;
    shows_from(&purchase, &nothing_asked, "  Whether",
               "  Whether others come sooner or in fewer parcels was not found out in time.\n");
    front.complete = true;
    shows_from(&purchase, &nothing_asked, "  Nothing",
               "  Nothing else comes sooner or in fewer parcels, at any price.\n");
}

static const struct lb_next_best next[] = {
    {NEED_PUMP, true, 1, 0, 1, 520}, {NEED_CLIPS, true, 0, 1, 13, -40}, {NEED_COOLANT, false, 0, 0, 0, 0}};
static const struct lb_without without[] = {{HARBOUR, false, true, 0},
                                            {SHED, true, true, 1230},
                                            {WESTQUAY, true, false, 310},
                                            {SHED, false, false, 0}};
static const struct lb_surplus surplus[] = {{CLIPS, 0, 2, 210}, {COOLANT, 0, 1, -1}};
static const struct lb_one_more one_more[] = {{HARBOUR, BOX, 0, 1, 0, 40}, {WESTQUAY, CLIPS, 0, 3, 800, -5}};

Test(buy_text, reasons)
{
    struct lb_basket basket = hand_made_basket;
    struct lb_purchase purchase = hand_made(&basket);
    struct lb_reasons reasons = {next, without, one_more, surplus, 3, 4, 2, 2};
    purchase.reasons = &reasons;
    shows_from(&purchase, &nothing_asked, "\nThe next best",
               "\n"
               "The next best, line by line\n"
               "         line  bought             next best                                     in all\n"
               "  saturday 11  Halvane HV-WP1120  1 × Plainway PW40112, Harbour Street     5.20 dearer\n"
               "  saturday 14  Studwell SW-11411  13 × Studwell SW-11411, Harbour Street  0.40 cheaper\n"
               "  saturday 32  Saltmere SM-C2     nothing else would do\n"
               "\n"
               "What suppliers and packs are worth\n"
               "  It cannot be done without Harbour Street.\n"
               "  Without The Shed: 12.30 dearer.\n"
               "  Without West Quay: at most 3.10 dearer.\n"
               "  Without The Shed: not found out in time.\n"
               "  2 × Studwell SW-11411, West Quay, more than needed: it saves 2.10 EUR.\n"
               "  1 × Saltmere SM-C2, The Shed, more than needed: without it there is no parcel.\n"
               "  1 pack more of Halvane HV-WP1120 from Harbour Street would make shipping free: 0.40\n"
               "  dearer in all.\n"
               "  3 packs more of Studwell SW-11411 from West Quay would make shipping 8.00 GBP: 0.05\n"
               "  cheaper in all.\n");
    reasons = (struct lb_reasons){0};
    shows_from(&purchase, &nothing_asked, "  Together",
               "  Together 125.26 EUR: goods 91.37, shipping 20.82, tax 13.07; deposits apart 12.00\n");
}

/* No line is wider than the terminal, whatever is bought. */
Test(buy_text, fits_the_terminal)
{
    struct lb_basket basket = hand_made_basket, *points[] = {&basket};
    struct lb_front front = {.points = points, .count = 1};
    struct lb_reasons reasons = {next, without, one_more, surplus, 3, 4, 2, 2};
    struct lb_purchase purchase = hand_made(&basket);
    purchase.front = &front;
    purchase.reasons = &reasons;
    for (int width = 40; width <= 120; width += 8) {
        struct lb_buf out = {0};
        lb_report_buy(&out, &purchase, &nothing_asked, &(struct lb_style){.width = width});
        char *rest = NULL;
        cr_assert(!out.failed && out.text);
        for (char *line = strtok_r(out.text, "\n", &rest); line; line = strtok_r(NULL, "\n", &rest))
            cr_expect_leq(lb_text_width(line), width, "%d: %s", width, line);
        lb_buf_free(&out);
    }
}
