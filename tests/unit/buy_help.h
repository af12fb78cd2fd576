/* A purchase made by hand: two kits, three suppliers (one foreign, one that states next to nothing), a box, a
 * shelf. */
#ifndef TESTS_BUY_HELP_H
#define TESTS_BUY_HELP_H

#include "base/decimal.h"
#include "purchase/purchase.h"

enum { HARBOUR, WESTQUAY, SHED };
enum { PUMP, BOX, CLIPS, COOLANT, OTHER_PUMP, PARTS };
enum { NEED_PUMP, NEED_GASKET, NEED_CLIPS, NEED_COOLANT, NEED_BRAKE_CLIPS, NEEDS };

static const struct lb_supplier buy_suppliers[] = {
    {.name = "harbour", .label = "Harbour Street", .currency = "EUR", .ship_days = 1, .tax = 19 * LB_MILLION},
    {.name = "westquay", .label = "West Quay", .currency = "GBP", .ship_days = 5, .minimum_order = 1500},
    {.name = "shed", .label = "The Shed", .currency = "EUR", .ship_days = -1}};

static const struct lb_rate buy_rates[] = {{"GBP", "EUR", 1160000}, {"USD", "GBP", 776000}};

static const struct lb_part buy_part[PARTS] = {[PUMP] = {.brand = "Velmora", .number = "1140-0150"},
                                               [BOX] = {.brand = "Halvane", .number = "HV-WP1120"},
                                               [CLIPS] = {.brand = "Studwell", .number = "SW-11411"},
                                               [COOLANT] = {.brand = "Saltmere", .number = "SM-C2"},
                                               [OTHER_PUMP] = {.brand = "Plainway", .number = "PW40112"}};
static const struct lb_part *const buy_parts[PARTS] = {&buy_part[PUMP], &buy_part[BOX], &buy_part[CLIPS],
                                                       &buy_part[COOLANT], &buy_part[OTHER_PUMP]};

static const struct lb_part_offer box_offers[] = {{.supplier_code = "HS-1",
                                                   .currency = "EUR",
                                                   .price = 6190,
                                                   .deposit = 1200,
                                                   .pack_quantity = LB_MILLION,
                                                   .minimum_packs = 1,
                                                   .stock = 3,
                                                   .lead_days = 2}},
                                  clip_offers[] = {{.supplier_code = "WQ-77",
                                                    .currency = "USD",
                                                    .price = 250,
                                                    .pack_quantity = 10 * LB_MILLION,
                                                    .minimum_packs = 1,
                                                    .stock = -1,
                                                    .lead_days = 0},
                                                   {.currency = "EUR",
                                                    .price = 199,
                                                    .pack_quantity = LB_MILLION,
                                                    .minimum_packs = 1,
                                                    .stock = 40,
                                                    .lead_days = 0}},
                                  coolant_offers[] = {{.supplier_code = NULL,
                                                       .currency = "EUR",
                                                       .price = 2497,
                                                       .pack_quantity = 5 * LB_MILLION,
                                                       .minimum_packs = 1,
                                                       .stock = -1,
                                                       .lead_days = -1}},
                                  pump_offers[] = {{.supplier_code = "HS-2",
                                                    .currency = "EUR",
                                                    .price = 2780,
                                                    .pack_quantity = LB_MILLION,
                                                    .minimum_packs = 1,
                                                    .stock = 1,
                                                    .lead_days = 0}};
static const struct lb_part_offer *const box_at[] = {&box_offers[0]},
                                         *const clips_at[] = {&clip_offers[0], &clip_offers[1]},
                                         *const coolant_at[] = {&coolant_offers[0]},
                                         *const pump_at[] = {&pump_offers[0]};
static const struct lb_part_offer *const *const buy_offers[PARTS] = {NULL, box_at, clips_at, coolant_at,
                                                                     pump_at};

static const struct lb_basket_offer
    box_market[] = {{.supplier = HARBOUR,
                     .pack = LB_MILLION,
                     .currency = "EUR",
                     .price = 6190,
                     .stock = 3,
                     .lead_days = 2}},
    clip_market[] =
        {{.supplier = WESTQUAY, .pack = 10 * LB_MILLION, .currency = "USD", .price = 250, .stock = -1},
         {.supplier = HARBOUR, .pack = 10 * LB_MILLION, .currency = "EUR", .price = 199, .stock = 40}},
    coolant_market[] = {{.supplier = SHED,
                         .pack = 5 * LB_MILLION,
                         .currency = "EUR",
                         .price = 2497,
                         .stock = -1,
                         .lead_days = -1}},
    pump_market[] = {{.supplier = HARBOUR, .pack = LB_MILLION, .currency = "EUR", .price = 2780, .stock = 1}};
static const struct lb_basket_part market_parts[PARTS] = {[PUMP] = {.on_hand = 0},
                                                          [BOX] = {box_market, 1, 0},
                                                          [CLIPS] = {clip_market, 2, 3 * LB_MILLION},
                                                          [COOLANT] = {coolant_market, 1, 1500000},
                                                          [OTHER_PUMP] = {pump_market, 1, 0}};

/* The box is the pump, and holds the gasket. */
static const struct lb_basket_option pump_options[] = {{.part = BOX, .quantity = LB_MILLION},
                                                       {.part = OTHER_PUMP, .quantity = LB_MILLION}},
                                     gasket_options[] = {{.part = BOX}},
                                     clip_options[] = {{.part = CLIPS, .quantity = 16 * LB_MILLION}},
                                     coolant_options[] = {{.part = COOLANT, .quantity = 3600000}},
                                     brake_options[] = {{.part = CLIPS, .quantity = 2 * LB_MILLION}};
static const struct lb_basket_need market_needs[NEEDS] = {{LB_MILLION, pump_options, 2},
                                                          {LB_MILLION, gasket_options, 1},
                                                          {16 * LB_MILLION, clip_options, 1},
                                                          {3600000, coolant_options, 1},
                                                          {2 * LB_MILLION, brake_options, 1}};
static const struct lb_basket_cover gasket_covers[] = {{.need = NEED_GASKET}};
static const struct lb_basket_content market_contents[] = {{BOX, LB_MILLION, gasket_covers, 1}};

static const struct lb_need plan_needs[NEEDS] = {
    {.article = {.part_type = "water-pump", .quantity = LB_MILLION, .unit = "each"}},
    {.article = {.part_type = "gasket", .quantity = LB_MILLION, .unit = "each"}},
    {.article = {.part_type = "push-pin", .quantity = 16 * LB_MILLION, .unit = "each"}},
    {.article = {.part_type = "coolant", .quantity = 3600000, .unit = "L"}},
    {.article = {.part_type = "push-pin", .quantity = 2 * LB_MILLION, .unit = "each"}}};
static const struct lb_line kit_lines[NEEDS] = {{.number = 11, .need = &plan_needs[NEED_PUMP]},
                                                {.number = 28, .need = &plan_needs[NEED_GASKET]},
                                                {.number = 14, .need = &plan_needs[NEED_CLIPS]},
                                                {.number = 32, .need = &plan_needs[NEED_COOLANT]},
                                                {.number = 4, .need = &plan_needs[NEED_BRAKE_CLIPS]}};
static const struct lb_purchase_need buy_needs[NEEDS] = {{.kit = 0, .line = &kit_lines[NEED_PUMP]},
                                                         {.kit = 0, .line = &kit_lines[NEED_GASKET]},
                                                         {.kit = 0, .line = &kit_lines[NEED_CLIPS]},
                                                         {.kit = 0, .line = &kit_lines[NEED_COOLANT]},
                                                         {.kit = 1, .line = &kit_lines[NEED_BRAKE_CLIPS]}};

static struct lb_kit saturday = {.name = "saturday"}, brakes = {.name = "brakes"};
static struct lb_kit *const buy_kits[] = {&saturday, &brakes};

static const struct lb_parcel_line box_lines[] = {{BOX, 0, 1, 6190, 6190, 1200}},
                                   clip_lines[] = {{CLIPS, 0, 2, 194, 388, 0}},
                                   coolant_lines[] = {{COOLANT, 0, 1, 2497, 2497, 0}};
static const struct lb_parcel buy_parcel_list[] = {{.supplier = HARBOUR,
                                                    .currency = "EUR",
                                                    .goods = 6190,
                                                    .shipping = 690,
                                                    .tax = 1307,
                                                    .deposits = 1200,
                                                    .total = 8187,
                                                    .days = 3,
                                                    .lines = box_lines,
                                                    .line_count = 1},
                                                   {.supplier = SHED,
                                                    .currency = "EUR",
                                                    .goods = 2497,
                                                    .total = 2497,
                                                    .days_not_stated = true,
                                                    .stock_not_stated = true,
                                                    .shipping_not_stated = true,
                                                    .lines = coolant_lines,
                                                    .line_count = 1},
                                                   {.supplier = WESTQUAY,
                                                    .currency = "GBP",
                                                    .goods = 388,
                                                    .shipping = 1200,
                                                    .total = 1588,
                                                    .days = 5,
                                                    .stock_not_stated = true,
                                                    .rate = &buy_rates[0],
                                                    .lines = clip_lines,
                                                    .line_count = 1}};
static const struct lb_basket_total buy_totals_charged[] = {{"EUR", 8687, 690, 1307, 1200, 10684},
                                                            {"GBP", 388, 1200, 0, 0, 1588}};
static const struct lb_basket_answer buy_answers[NEEDS] = {{0, LB_MILLION, 0},
                                                           {UINT32_MAX, 0, LB_MILLION},
                                                           {0, 16 * LB_MILLION, 0},
                                                           {0, 3600000, 0},
                                                           {0, 2 * LB_MILLION, 0}};

static const struct lb_basket hand_made_basket = {.found = true,
                                                  .proved = true,
                                                  .bound = 12526,
                                                  .total = {"EUR", 9137, 2082, 1307, 1200, 12526},
                                                  .parcels = buy_parcel_list,
                                                  .parcel_count = 3,
                                                  .totals = buy_totals_charged,
                                                  .total_count = 2,
                                                  .answers = buy_answers,
                                                  .days = 5};

/* 2026-11-30, a Monday. The basket is the caller's: as above, or changed. */
static inline struct lb_purchase hand_made(struct lb_basket *basket)
{
    return (struct lb_purchase){.kits = buy_kits,
                                .kit_count = 2,
                                .market = {.suppliers = buy_suppliers,
                                           .supplier_count = 3,
                                           .rates = buy_rates,
                                           .rate_count = 2,
                                           .parts = market_parts,
                                           .part_count = PARTS,
                                           .needs = market_needs,
                                           .need_count = NEEDS,
                                           .contents = market_contents,
                                           .content_count = 1,
                                           .currency = "EUR"},
                                .parts = buy_parts,
                                .offers = buy_offers,
                                .needs = buy_needs,
                                .basket = basket,
                                .today = 20787};
}

#endif
