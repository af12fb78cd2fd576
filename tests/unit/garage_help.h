/* A vehicle with a small service map whose parts wear, and its log. */
#ifndef LB_TESTS_GARAGE_HELP_H
#define LB_TESTS_GARAGE_HELP_H

#include "shop_help.h"

#include "garage/service_log.h"

static inline int32_t day_of(const char *text)
{
    struct lb_interval days;
    cr_assert_null(lb_date_parse(text, &days), "%s", text);
    return days.first;
}

static inline void garage_map(struct shop *shop)
{
    shop_import(shop, "platforms.csv", "platform,make,model\np1,Orlop,Finch\n");
    shop_import(shop, "components.csv",
                "platform,component,name,part_type,quantity,wear_km,wear_months,inspect,when\n"
                "p1,cover,,cover,1,,,cracks,\n"
                "p1,belt,Timing belt,drive-belt,1,60000,72,,\n"
                "p1,pump,,water-pump,1,100000,,,\n"
                "p1,hose,,radiator-hose,1,,120,,\n"
                "p1,filter,,oil-filter,1,15000,12,,\n"
                "p1,seal,,shaft-seal,1,50000,,,ac = yes\n"
                "p1,seal,,shaft-seal,1,40000,,,ac = yes\n"
                "p1,knob,,knob,1,30000,24,,colour = red\n"
                "p1,knob,,knob,1,,36,,\n");
    shop_import(shop, "fastenings.csv",
                "platform,component,item,kind,part_type,quantity,reuse\n"
                "p1,cover,cover bolt,bolt,flange-bolt,4,never\n"
                "p1,pump,pump bolt,bolt,flange-bolt,8,never\n"
                "p1,pump,pump gasket,gasket,pump-gasket,1,never\n");
    shop_import(shop, "access.csv",
                "platform,component,needs,state\np1,belt,cover,removed\np1,pump,belt,removed\n");
    shop_import(shop, "circuits.csv", "platform,circuit,capacity,fluid_type\np1,coolant,3.6,coolant\n");
    shop_import(shop, "opens.csv",
                "platform,component,circuit,share_percent\np1,pump,coolant,100\np1,hose,coolant,100\n");
    shop_import(shop, "jobs.csv",
                "platform,job,component,circuit,action,when\n"
                "p1,timing,belt,,renew,\np1,pump,pump,,renew,\np1,hoses,hose,,renew,\n"
                "p1,everything,hose,,renew,\np1,everything,belt,,refit,\np1,everything,pump,,renew,\n"
                "p1,everything,filter,,renew,\np1,flush,,coolant,renew,\np1,cold,seal,,renew,ac = yes\n"
                "p1,open,cover,,refit,\n");
}

/* built, ac: NULL: not stated. */
static inline void garage_vehicle(struct shop *shop, struct lb_vehicle *vehicle, const char *name,
                                  const char *model, const char *built, const char *ac)
{
    *vehicle = (struct lb_vehicle){.name = strdup(name), .interval = {LB_DATE_MIN, LB_DATE_MAX}};
    expect_ok(lb_vehicle_state(vehicle, "make", "Orlop", &err));
    expect_ok(lb_vehicle_state(vehicle, "model", model, &err));
    if (built)
        expect_ok(lb_vehicle_state(vehicle, "built", built, &err));
    if (ac)
        expect_ok(lb_vehicle_state(vehicle, "ac", ac, &err));
    expect_ok(lb_vehicle_save(shop->store, vehicle, &err));
}

static inline struct shop garage_open(void)
{
    struct shop shop = {.s = scratch_make()};
    expect_ok(lb_store_open(&shop.store, scratch_path(&shop.s, "i.db"), LB_STORE_WRITE, &err));
    expect_ok(lb_lookup_ready(shop.store, &err));
    garage_map(&shop);
    return shop;
}

/* km below 0: nobody looked; component NULL: a reading alone. */
static inline int64_t log_line(struct shop *shop, const struct lb_vehicle *vehicle, const char *on,
                               int64_t km, const char *component, bool swapped)
{
    const char *const components[] = {component};
    struct lb_log_entry entry = {.day = day_of(on),
                                 .has_km = km >= 0,
                                 .km = km * LB_MILLION,
                                 .swapped = swapped,
                                 .done = component,
                                 .components = components,
                                 .component_count = component != NULL};
    expect_ok(lb_log_add(shop->store, vehicle->id, &entry, &err));
    return entry.id;
}

#endif
