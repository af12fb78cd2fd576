/* Each caution, check and disposal appears exactly when the teardown calls for it: what one disturbed part,
 * one opened circuit, one renewed part calls for, as a whole set, near misses included. */
#include "plan/aftercare.h"
#include "plan/hazards.h"

#include <criterion/criterion.h>
#include <string.h>

enum kind { PART, FLUID, UNDESCRIBED, DRY, RENEWED };

struct scene {
    struct lb_map map;
    struct lb_map_component component;
    struct lb_map_circuit circuit;
    struct lb_need need;
    struct lb_plan plan;
    const char *names[1];
    enum lb_level levels[1];
    uint32_t opened[1], unknown[1], dry[1];
};

/* A plan in which just this happens. */
static void set_scene(struct scene *s, enum kind kind, const char *name, enum lb_level level)
{
    *s = (struct scene){.names = {name}, .levels = {level}};
    s->map.components = s->map.circuits = s->names;
    s->plan.map = &s->map;
    s->plan.levels = s->levels;
    s->plan.opened = s->opened;
    s->plan.unknown_parts = s->unknown;
    s->plan.dry_circuits = s->dry;
    if (kind == FLUID || kind == DRY) {
        s->map.circuit_count = s->plan.opened_count = 1;
        s->circuit.fluid.part_type = name;
        s->map.circuit_rows = &s->circuit;
        s->map.circuit_row_count = kind == FLUID;
        s->plan.dry_circuit_count = kind == DRY;
        return;
    }
    s->map.component_count = 1;
    s->component.article.part_type = name;
    s->map.component_rows = &s->component;
    s->map.component_row_count = kind != UNDESCRIBED;
    s->plan.unknown_part_count = kind == UNDESCRIBED;
    s->need = (struct lb_need){.article = {.part_type = name}, .reason = LB_TARGET};
    s->plan.needs = &s->need;
    s->plan.need_count = kind == RENEWED;
}

#define H(hazard) (1U << LB_HAZARD_##hazard)

static const struct {
    enum kind kind;
    const char *name;
    enum lb_level level;
    uint32_t want;
} scenes[] = {
    {PART, "road-wheel", LB_REMOVED, H(LIFTING)},
    {PART, "wheel", LB_REMOVED, H(LIFTING)},
    {PART, "undertray", LB_REMOVED, H(LIFTING)},
    {PART, "road-wheel", LB_UNTOUCHED, 0},
    {PART, "wheel-trim", LB_REMOVED, 0},
    {PART, "flywheel", LB_REMOVED, 0},
    {PART, "radiator-top-cover", LB_REMOVED, 0},
    {PART, "drive-belt", LB_REMOVED, H(BELTS_FANS)},
    {PART, "drive-shaft", LB_LOOSENED, H(LIFTING)},
    {PART, "bonnet-strut", LB_REMOVED, 0},
    {FLUID, "engine-oil", 0, H(LIFTING) | H(USED_OIL)},
    {FLUID, "gear-oil", 0, H(LIFTING) | H(USED_OIL)},
    {FLUID, "automatic-transmission-fluid", 0, H(LIFTING) | H(USED_OIL)},
    {FLUID, "power-steering-fluid", 0, H(USED_OIL)},
    {FLUID, "washer-fluid", 0, 0},
    {PART, "oil-filter", LB_REMOVED, H(USED_OIL)},
    {PART, "oil-filter", LB_LOOSENED, 0},
    {PART, "oil-pressure-switch", LB_REMOVED, 0},

    {FLUID, "coolant", 0, H(HOT_COOLANT) | H(GLYCOL)},
    {FLUID, "coolant-concentrate", 0, H(HOT_COOLANT) | H(GLYCOL)},
    {FLUID, "washer-fluid-concentrate", 0, 0},
    {DRY, "coolant", 0, H(HOT_COOLANT) | H(GLYCOL)},
    {DRY, "washer", 0, 0},
    {PART, "radiator", LB_REMOVED, H(HOT_COOLANT) | H(GLYCOL)},
    {PART, "radiator", LB_ASIDE, 0},
    {PART, "radiator-grille", LB_REMOVED, 0},
    {PART, "radiator-mount", LB_REMOVED, 0},
    {PART, "radiator-hose", LB_REMOVED, H(HOT_COOLANT) | H(GLYCOL)},
    {PART, "radiator-cap", LB_REMOVED, H(HOT_COOLANT)},
    {PART, "expansion-tank-cap", LB_LOOSENED, H(HOT_COOLANT)},
    {PART, "expansion-tank", LB_REMOVED, H(HOT_COOLANT) | H(GLYCOL)},
    {PART, "expansion-tank", LB_ASIDE, 0},
    {PART, "water-pump", LB_REMOVED, H(HOT_COOLANT) | H(GLYCOL)},
    {PART, "water-pump-pulley", LB_REMOVED, 0},
    {PART, "washer-fluid-pump", LB_REMOVED, 0},
    {PART, "windscreen-washer-pump", LB_REMOVED, 0},
    {PART, "heater-supply-hose", LB_REMOVED, H(HOT_COOLANT) | H(GLYCOL)},
    {PART, "heater-blower", LB_REMOVED, 0},
    {PART, "thermostat", LB_REMOVED, H(HOT_COOLANT) | H(GLYCOL)},
    {PART, "oil-cooler", LB_REMOVED, 0},

    {PART, "fuel-rail", LB_ASIDE, H(FUEL)},
    {PART, "fuel-filter", LB_REMOVED, H(FUEL)},
    {PART, "fuel-tank", LB_REMOVED, H(FUEL) | H(LIFTING)},
    {PART, "injector", LB_REMOVED, H(FUEL)},
    {PART, "carburettor", LB_REMOVED, H(FUEL)},
    {PART, "fuel-flap", LB_REMOVED, 0},
    {PART, "fuel-pump-relay", LB_REMOVED, 0},
    {PART, "refuelling-note", LB_REMOVED, 0},
    {PART, "air-filter", LB_REMOVED, 0},

    {PART, "brake-pad-set", LB_REMOVED, H(BRAKE_DUST) | H(LIFTING)},
    {PART, "brake-pads", LB_REMOVED, H(BRAKE_DUST) | H(LIFTING)},
    {PART, "brake-shoe-set", LB_REMOVED, H(BRAKE_DUST) | H(LIFTING)},
    {PART, "brake-disc", LB_REMOVED, H(BRAKE_DUST) | H(LIFTING)},
    {PART, "brake-drum", LB_REMOVED, H(BRAKE_DUST) | H(LIFTING)},
    {PART, "brake-caliper", LB_ASIDE, H(BRAKE_DUST) | H(LIFTING)},
    {PART, "brake-caliper", LB_REMOVED, H(BRAKE_DUST) | H(BRAKE_FLUID) | H(LIFTING)},
    {PART, "clutch-set", LB_REMOVED, H(BRAKE_DUST)},
    {PART, "clutch-cable", LB_REMOVED, 0},
    {PART, "brake-light-switch", LB_REMOVED, 0},
    {PART, "brake-pedal", LB_REMOVED, 0},
    {PART, "keypad", LB_REMOVED, 0},
    {PART, "brake-hose", LB_REMOVED, H(BRAKE_FLUID) | H(LIFTING)},
    {PART, "brake-hose", LB_LOOSENED, H(LIFTING)},
    {PART, "clutch-slave-cylinder", LB_REMOVED, H(BRAKE_FLUID)},
    {PART, "clutch-slave-cylinder", LB_ASIDE, 0},
    {FLUID, "brake-fluid", 0, H(BRAKE_FLUID)},
    {PART, "brake-servo", LB_REMOVED, 0},

    {PART, "driver-airbag", LB_REMOVED, H(AIRBAG)},
    {PART, "steering-wheel", LB_REMOVED, H(AIRBAG)},
    {PART, "seat-belt-tensioner", LB_REMOVED, H(AIRBAG)},
    {PART, "front-seat", LB_REMOVED, H(AIRBAG)},
    {PART, "valve-seat", LB_REMOVED, 0},
    {PART, "belt-tensioner", LB_REMOVED, H(BELTS_FANS)},
    {PART, "steering-rack", LB_REMOVED, 0},

    {PART, "strut", LB_REMOVED, H(SPRING) | H(LIFTING)},
    {PART, "coil-spring", LB_REMOVED, H(SPRING)},
    {PART, "torsion-bar", LB_LOOSENED, H(SPRING)},
    {PART, "upper-ball-joint", LB_REMOVED, H(SPRING) | H(LIFTING)},
    {PART, "spring-clamp", LB_REMOVED, 0},
    {PART, "shoe-spring-kit", LB_REMOVED, 0},
    {PART, "anti-roll-bar-link", LB_REMOVED, 0},

    {PART, "condenser", LB_ASIDE, H(REFRIGERANT)},
    {PART, "ac-compressor", LB_ASIDE, H(REFRIGERANT)},
    {PART, "ignition-condenser", LB_REMOVED, 0},
    {PART, "air-compressor", LB_REMOVED, 0},
    {PART, "ac-belt", LB_REMOVED, H(BELTS_FANS)},
    {FLUID, "refrigerant", 0, H(REFRIGERANT)},

    {PART, "battery", LB_REMOVED, H(BATTERY)},
    {PART, "earth-lead", LB_REMOVED, H(BATTERY)},
    {PART, "starter", LB_REMOVED, H(BATTERY)},
    {PART, "alternator", LB_ASIDE, H(BATTERY)},
    {PART, "alternator-belt", LB_REMOVED, H(BELTS_FANS)},
    {PART, "key-battery", LB_REMOVED, 0},
    {PART, "starter-relay", LB_REMOVED, 0},

    {PART, "exhaust-pipe", LB_LOOSENED, H(HOT_EXHAUST) | H(LIFTING)},
    {PART, "exhaust-manifold", LB_REMOVED, H(HOT_EXHAUST)},
    {PART, "oxygen-sensor", LB_REMOVED, H(HOT_EXHAUST)},
    {PART, "exhaust-camshaft", LB_REMOVED, 0},
    {PART, "intake-manifold", LB_REMOVED, 0},

    {PART, "engine-mount", LB_LOOSENED, H(ENGINE_SUPPORT)},
    {PART, "gearbox-assembly", LB_REMOVED, H(ENGINE_SUPPORT) | H(LIFTING)},
    {PART, "engine-assembly", LB_LOOSENED, H(ENGINE_SUPPORT)},
    {PART, "engine-cover", LB_REMOVED, 0},
    {PART, "strut-top-mount", LB_REMOVED, H(SPRING) | H(LIFTING)},

    {PART, "timing-belt", LB_LOOSENED, H(BELTS_FANS)},
    {PART, "radiator-fan", LB_REMOVED, H(BELTS_FANS)},
    {PART, "viscous-fan", LB_LOOSENED, H(BELTS_FANS)},
    {PART, "radiator-fan-switch", LB_REMOVED, 0},
    {PART, "heater-fan", LB_REMOVED, 0},

    {UNDESCRIBED, "front-brake-pads", LB_REMOVED, H(BRAKE_DUST) | H(LIFTING)},
    {UNDESCRIBED, "front-cover", LB_REMOVED, 0},
};

static void list(uint32_t set, char *out, size_t room)
{
    out[0] = '\0';
    for (int h = 0; h < LB_HAZARD_COUNT; h++)
        if (set & 1U << h) {
            strncat(out, lb_hazard_title((enum lb_hazard)h), room - strlen(out) - 1);
            strncat(out, "; ", room - strlen(out) - 1);
        }
}

Test(hazards, each_appears_exactly_when_the_teardown_calls_for_it)
{
    uint32_t called = 0, near = 0;
    for (size_t i = 0; i < sizeof scenes / sizeof *scenes; i++) {
        struct scene s;
        char seen[400], want[400];
        set_scene(&s, scenes[i].kind, scenes[i].name, scenes[i].level);
        uint32_t set = lb_hazards(&s.plan);
        list(set, seen, sizeof seen);
        list(scenes[i].want, want, sizeof want);
        cr_expect_eq(set, scenes[i].want, "%s: \"%s\" instead of \"%s\"", scenes[i].name, seen, want);
        called |= set;
        near += scenes[i].want == 0;
    }
    cr_expect_eq(called, (1U << LB_HAZARD_COUNT) - 1, "every caution has a teardown that calls for it");
    cr_expect_gt(near, 30);
}

Test(hazards, a_teardown_calls_for_all_of_its_parts_together)
{
    struct lb_map_component rows[] = {{.component = 0, .article = {.part_type = "fuel-rail"}},
                                      {.component = 1, .article = {.part_type = "battery"}},
                                      {.component = 2, .article = {.part_type = "strut"}}};
    struct lb_map map = {.component_rows = rows, .component_row_count = 3, .component_count = 3};
    const enum lb_level levels[] = {LB_ASIDE, LB_REMOVED, LB_UNTOUCHED};
    struct lb_plan plan = {.map = &map, .levels = levels};
    cr_expect_eq(lb_hazards(&plan), H(FUEL) | H(BATTERY));
}

Test(hazards, every_caution_has_a_title_and_a_text_of_its_own)
{
    for (int h = 0; h < LB_HAZARD_COUNT; h++) {
        cr_assert(lb_hazard_title((enum lb_hazard)h) && lb_hazard_text((enum lb_hazard)h));
        cr_expect_lt(strlen(lb_hazard_text((enum lb_hazard)h)), 260);
        for (int k = 0; k < h; k++)
            cr_expect(strcmp(lb_hazard_text((enum lb_hazard)h), lb_hazard_text((enum lb_hazard)k)) != 0);
    }
}

#define C(check) (1U << LB_CHECK_##check)
#define W(waste) (1U << LB_WASTE_##waste)

static const struct {
    enum kind kind;
    const char *name;
    enum lb_level level;
    uint32_t checks, wastes;
} after[] = {
    {FLUID, "coolant-concentrate", 0, C(LEAKS) | C(COOLANT_COLD), W(COOLANT)},
    {FLUID, "washer-concentrate", 0, 0, 0},
    {FLUID, "engine-oil", 0, C(LEAKS) | C(OIL_LEVEL) | C(WARNING_LAMPS), W(OIL)},
    {FLUID, "automatic-transmission-fluid", 0, C(LEAKS) | C(OIL_LEVEL), W(OIL)},
    {FLUID, "brake-fluid", 0, C(LEAKS) | C(BRAKE_PEDAL) | C(WARNING_LAMPS), W(BRAKE_FLUID)},
    {PART, "brake-pad-set", LB_REMOVED, C(BRAKE_PEDAL), 0},
    {PART, "brake-light-switch", LB_REMOVED, 0, 0},
    {PART, "fuel-filter", LB_REMOVED, C(FUEL_TIGHT), W(FUEL)},
    {PART, "fuel-flap", LB_REMOVED, 0, 0},
    {PART, "accessory-belt", LB_REMOVED, C(BELT_RUN), 0},
    {PART, "seat-belt", LB_REMOVED, 0, 0},
    {PART, "road-wheel", LB_REMOVED, C(WHEELS_AGAIN), 0},
    {PART, "road-wheel", LB_LOOSENED, 0, 0},
    {PART, "wheel-trim", LB_REMOVED, 0, 0},
    {PART, "wheel-speed-sensor", LB_ASIDE, C(WARNING_LAMPS), 0},
    {PART, "ac-compressor", LB_ASIDE, 0, 0},
    {PART, "ac-compressor", LB_REMOVED, 0, W(REFRIGERANT)},
    {PART, "battery", LB_REMOVED, C(WARNING_LAMPS), 0},
    {RENEWED, "battery", LB_REMOVED, C(WARNING_LAMPS), W(BATTERY)},
    {RENEWED, "battery-tray", LB_REMOVED, C(WARNING_LAMPS), 0},
    {RENEWED, "airbag", LB_REMOVED, C(WARNING_LAMPS), W(AIRBAG)},
    {PART, "oil-filter", LB_REMOVED, C(LEAKS), W(OIL)},
    {PART, "engine-cover", LB_REMOVED, 0, 0},
};

Test(hazards, checks_and_disposal_as_the_teardown_calls_for_them)
{
    uint32_t checks = 0, wastes = 0;
    for (size_t i = 0; i < sizeof after / sizeof *after; i++) {
        struct scene s;
        set_scene(&s, after[i].kind, after[i].name, after[i].level);
        cr_expect_eq(lb_checks(&s.plan), after[i].checks, "%s: checks %x", after[i].name, lb_checks(&s.plan));
        cr_expect_eq(lb_wastes(&s.plan), after[i].wastes, "%s: wastes %x", after[i].name, lb_wastes(&s.plan));
        checks |= after[i].checks;
        wastes |= after[i].wastes;
    }
    cr_expect_eq(checks, (1U << LB_CHECK_COUNT) - 1);
    cr_expect_eq(wastes, (1U << LB_WASTE_COUNT) - 1);
}
