/* When which caution is called for. What each word list lets in and keeps out is told by
 * tests/unit/test_hazards.c. */
#include "plan/hazards.h"

#include "plan/calls.h"

#define PART(hazard, from, words)                                                                            \
    {                                                                                                        \
        LB_HAZARD_##hazard, CALL_PART, from, words                                                           \
    }
#define FLUID(hazard, words)                                                                                 \
    {                                                                                                        \
        LB_HAZARD_##hazard, CALL_FLUID, LB_UNTOUCHED, words                                                  \
    }

static const struct call calls[] = {
    /* What is reached from below or behind a wheel. */
    PART(LIFTING, LB_LOOSENED, "road wheel"),
    PART(LIFTING, LB_LOOSENED, "=wheel"),
    PART(LIFTING, LB_LOOSENED, "wheel arch"),
    PART(LIFTING, LB_LOOSENED, "wheel bearing"),
    PART(LIFTING, LB_LOOSENED, "wheel hub"),
    PART(LIFTING, LB_LOOSENED, "wheel cylinder"),
    PART(LIFTING, LB_LOOSENED, "wheel speed sensor"),
    PART(LIFTING, LB_LOOSENED, "undertray"),
    PART(LIFTING, LB_LOOSENED, "skid plate"),
    PART(LIFTING, LB_LOOSENED, "subframe"),
    PART(LIFTING, LB_LOOSENED, "control arm"),
    PART(LIFTING, LB_LOOSENED, "wishbone"),
    PART(LIFTING, LB_LOOSENED, "ball joint"),
    PART(LIFTING, LB_LOOSENED, "tie rod"),
    PART(LIFTING, LB_LOOSENED, "strut -bonnet -tailgate -boot"),
    PART(LIFTING, LB_LOOSENED, "shock absorber"),
    PART(LIFTING, LB_LOOSENED, "drive shaft"),
    PART(LIFTING, LB_LOOSENED, "propeller shaft"),
    PART(LIFTING, LB_LOOSENED, "exhaust pipe"),
    PART(LIFTING, LB_LOOSENED, "downpipe"),
    PART(LIFTING, LB_LOOSENED, "silencer"),
    PART(LIFTING, LB_LOOSENED, "gearbox assembly"),
    PART(LIFTING, LB_LOOSENED, "gearbox sump"),
    PART(LIFTING, LB_LOOSENED, "=gearbox"),
    PART(LIFTING, LB_LOOSENED, "sump plug"),
    PART(LIFTING, LB_LOOSENED, "oil sump"),
    PART(LIFTING, LB_LOOSENED, "fuel tank -cap -flap"),
    PART(LIFTING, LB_LOOSENED, "brake pad"),
    PART(LIFTING, LB_LOOSENED, "brake disc"),
    PART(LIFTING, LB_LOOSENED, "brake drum"),
    PART(LIFTING, LB_LOOSENED, "brake shoe"),
    PART(LIFTING, LB_LOOSENED, "brake caliper"),
    PART(LIFTING, LB_LOOSENED, "brake hose"),
    FLUID(LIFTING, "engine oil"),
    FLUID(LIFTING, "gear oil"),
    FLUID(LIFTING, "transmission fluid"),

    PART(BATTERY, LB_LOOSENED, "battery -key -remote -backup"),
    PART(BATTERY, LB_LOOSENED, "earth lead"),
    PART(BATTERY, LB_LOOSENED, "ground cable"),
    PART(BATTERY, LB_LOOSENED, "starter -relay -switch"),
    PART(BATTERY, LB_LOOSENED, "alternator -belt -bracket -pulley"),
    PART(BATTERY, LB_LOOSENED, "fuse box"),

    PART(AIRBAG, LB_LOOSENED, "airbag"),
    PART(AIRBAG, LB_LOOSENED, "air bag"),
    PART(AIRBAG, LB_LOOSENED, "steering wheel"),
    PART(AIRBAG, LB_LOOSENED, "seat belt"),
    PART(AIRBAG, LB_LOOSENED, "pretensioner"),
    PART(AIRBAG, LB_LOOSENED, "clock spring"),
    PART(AIRBAG, LB_LOOSENED, "=seat"),
    PART(AIRBAG, LB_LOOSENED, "front seat"),
    PART(AIRBAG, LB_LOOSENED, "driver seat"),
    PART(AIRBAG, LB_LOOSENED, "passenger seat"),
    PART(AIRBAG, LB_LOOSENED, "dashboard"),
    PART(AIRBAG, LB_LOOSENED, "headlining"),
    PART(AIRBAG, LB_LOOSENED, "pillar trim"),

    PART(FUEL, LB_LOOSENED, "fuel -cap -flap -gauge -relay -fuse -door"),
    PART(FUEL, LB_LOOSENED, "injector -cover"),
    PART(FUEL, LB_LOOSENED, "injection pump"),
    PART(FUEL, LB_LOOSENED, "carburettor"),
    PART(FUEL, LB_LOOSENED, "carburetor"),
    FLUID(FUEL, "fuel"),
    FLUID(FUEL, "petrol"),
    FLUID(FUEL, "gasoline"),
    FLUID(FUEL, "diesel -oil"),

    PART(HOT_COOLANT, LB_REMOVED, "=radiator"),
    PART(HOT_COOLANT, LB_REMOVED, "radiator hose"),
    PART(HOT_COOLANT, LB_LOOSENED, "radiator cap"),
    PART(HOT_COOLANT, LB_LOOSENED, "expansion tank cap"),
    PART(HOT_COOLANT, LB_REMOVED, "expansion tank"),
    PART(HOT_COOLANT, LB_REMOVED, "coolant -washer -fan -relay"),
    PART(HOT_COOLANT, LB_REMOVED, "heater hose"),
    PART(HOT_COOLANT, LB_REMOVED, "heater valve"),
    PART(HOT_COOLANT, LB_REMOVED, "heater core"),
    PART(HOT_COOLANT, LB_REMOVED, "water pump -washer -pulley -belt"),
    PART(HOT_COOLANT, LB_REMOVED, "thermostat -room"),
    FLUID(HOT_COOLANT, "coolant"),
    FLUID(HOT_COOLANT, "antifreeze"),

    PART(GLYCOL, LB_REMOVED, "=radiator"),
    PART(GLYCOL, LB_REMOVED, "radiator hose"),
    PART(GLYCOL, LB_REMOVED, "expansion tank -cap"),
    PART(GLYCOL, LB_REMOVED, "coolant -washer -fan -relay -cap"),
    PART(GLYCOL, LB_REMOVED, "heater hose"),
    PART(GLYCOL, LB_REMOVED, "heater valve"),
    PART(GLYCOL, LB_REMOVED, "heater core"),
    PART(GLYCOL, LB_REMOVED, "water pump -washer -pulley -belt"),
    PART(GLYCOL, LB_REMOVED, "thermostat -room"),
    FLUID(GLYCOL, "coolant"),
    FLUID(GLYCOL, "antifreeze"),

    PART(HOT_EXHAUST, LB_LOOSENED, "exhaust -camshaft -cam -valve -rocker"),
    PART(HOT_EXHAUST, LB_LOOSENED, "downpipe"),
    PART(HOT_EXHAUST, LB_LOOSENED, "silencer"),
    PART(HOT_EXHAUST, LB_LOOSENED, "muffler"),
    PART(HOT_EXHAUST, LB_LOOSENED, "catalytic converter"),
    PART(HOT_EXHAUST, LB_LOOSENED, "particulate filter"),
    PART(HOT_EXHAUST, LB_LOOSENED, "oxygen sensor"),
    PART(HOT_EXHAUST, LB_LOOSENED, "lambda sensor"),
    PART(HOT_EXHAUST, LB_LOOSENED, "turbocharger -hose -pipe"),

    PART(REFRIGERANT, LB_LOOSENED, "condenser -ignition -distributor"),
    PART(REFRIGERANT, LB_LOOSENED, "ac compressor"),
    PART(REFRIGERANT, LB_LOOSENED, "ac line"),
    PART(REFRIGERANT, LB_LOOSENED, "ac hose"),
    PART(REFRIGERANT, LB_LOOSENED, "ac pipe"),
    PART(REFRIGERANT, LB_LOOSENED, "evaporator"),
    PART(REFRIGERANT, LB_LOOSENED, "receiver drier"),
    PART(REFRIGERANT, LB_LOOSENED, "expansion valve"),
    FLUID(REFRIGERANT, "refrigerant"),

    PART(SPRING, LB_LOOSENED, "strut -bonnet -tailgate -boot"),
    PART(SPRING, LB_LOOSENED, "coil spring"),
    PART(SPRING, LB_LOOSENED, "road spring"),
    PART(SPRING, LB_LOOSENED, "suspension spring"),
    PART(SPRING, LB_LOOSENED, "leaf spring"),
    PART(SPRING, LB_LOOSENED, "valve spring"),
    PART(SPRING, LB_LOOSENED, "torsion bar"),
    PART(SPRING, LB_LOOSENED, "shock absorber"),
    PART(SPRING, LB_LOOSENED, "ball joint"),
    PART(SPRING, LB_LOOSENED, "control arm"),
    PART(SPRING, LB_LOOSENED, "wishbone"),

    PART(ENGINE_SUPPORT, LB_LOOSENED, "engine mount -control"),
    PART(ENGINE_SUPPORT, LB_LOOSENED, "torque mount"),
    PART(ENGINE_SUPPORT, LB_LOOSENED, "gearbox mount"),
    PART(ENGINE_SUPPORT, LB_LOOSENED, "transmission mount"),
    PART(ENGINE_SUPPORT, LB_LOOSENED, "engine assembly"),
    PART(ENGINE_SUPPORT, LB_LOOSENED, "gearbox assembly"),
    PART(ENGINE_SUPPORT, LB_LOOSENED, "=engine"),
    PART(ENGINE_SUPPORT, LB_LOOSENED, "=gearbox"),
    PART(ENGINE_SUPPORT, LB_LOOSENED, "subframe"),

    PART(BRAKE_DUST, LB_LOOSENED, "brake pad"),
    PART(BRAKE_DUST, LB_LOOSENED, "brake shoe"),
    PART(BRAKE_DUST, LB_LOOSENED, "brake lining"),
    PART(BRAKE_DUST, LB_LOOSENED, "brake disc"),
    PART(BRAKE_DUST, LB_LOOSENED, "brake drum"),
    PART(BRAKE_DUST, LB_LOOSENED, "brake caliper"),
    PART(BRAKE_DUST, LB_LOOSENED, "caliper bracket"),
    PART(BRAKE_DUST, LB_LOOSENED, "wheel cylinder"),
    PART(BRAKE_DUST, LB_LOOSENED, "clutch set"),
    PART(BRAKE_DUST, LB_LOOSENED, "clutch kit"),
    PART(BRAKE_DUST, LB_LOOSENED, "clutch disc"),
    PART(BRAKE_DUST, LB_LOOSENED, "clutch plate"),

    PART(BRAKE_FLUID, LB_REMOVED, "brake caliper"),
    PART(BRAKE_FLUID, LB_REMOVED, "brake hose"),
    PART(BRAKE_FLUID, LB_REMOVED, "brake line"),
    PART(BRAKE_FLUID, LB_REMOVED, "brake pipe"),
    PART(BRAKE_FLUID, LB_REMOVED, "brake fluid reservoir"),
    PART(BRAKE_FLUID, LB_REMOVED, "wheel cylinder"),
    PART(BRAKE_FLUID, LB_REMOVED, "master cylinder"),
    PART(BRAKE_FLUID, LB_REMOVED, "slave cylinder"),
    FLUID(BRAKE_FLUID, "brake fluid"),
    FLUID(BRAKE_FLUID, "clutch fluid"),

    PART(USED_OIL, LB_REMOVED, "oil filter"),
    PART(USED_OIL, LB_REMOVED, "oil sump"),
    PART(USED_OIL, LB_REMOVED, "sump plug"),
    FLUID(USED_OIL, "oil"),
    FLUID(USED_OIL, "transmission fluid"),
    FLUID(USED_OIL, "steering fluid"),
    FLUID(USED_OIL, "hydraulic fluid"),

    PART(BELTS_FANS, LB_LOOSENED, "belt -seat -safety -lap"),
    PART(BELTS_FANS, LB_LOOSENED, "radiator fan -relay -switch"),
    PART(BELTS_FANS, LB_LOOSENED, "cooling fan -relay -switch"),
    PART(BELTS_FANS, LB_LOOSENED, "viscous fan"),
    PART(BELTS_FANS, LB_LOOSENED, "fan clutch"),
    PART(BELTS_FANS, LB_LOOSENED, "=fan"),
};

uint32_t lb_hazards(const struct lb_plan *plan)
{
    return calls_of(plan, calls, sizeof calls / sizeof *calls);
}

static const struct {
    const char *title, *text;
} words[LB_HAZARD_COUNT] = {
    [LB_HAZARD_LIFTING] =
        {"Lifting and stands",
         "Work at or under a raised vehicle only when it stands on axle stands on firm, level ground with "
         "its other wheels chocked. Never trust a jack. Lifting points: see the maker's manual."},
    [LB_HAZARD_BATTERY] =
        {"Battery and short circuit",
         "Take the earth lead off first and put it on last. Batteries give off explosive gas and hold "
         "acid: no sparks, no flame, no rings or watches."},
    [LB_HAZARD_AIRBAG] =
        {"Airbags and seat-belt tensioners",
         "They can go off in your hands. Disconnect the battery and wait as long as the maker's manual "
         "says. Do not measure at their wiring. Leave them to trained people where the law asks for it."},
    [LB_HAZARD_FUEL] =
        {"Fuel",
         "Fuel and its vapour burn at once, and lines may be under pressure with the engine off. Relieve "
         "the pressure as the maker's manual says. No flame, no sparks, no hot lamp; fresh air and an "
         "extinguisher at hand."},
    [LB_HAZARD_HOT_COOLANT] = {"Hot coolant",
                               "Hot coolant is under pressure and scalds. Open the cooling system only "
                               "when the engine is cold."},
    [LB_HAZARD_GLYCOL] = {"Poisonous coolant",
                          "Glycol tastes sweet and kills pets and children. Catch all of it, keep it "
                          "covered, and wipe up what was spilt at once."},
    [LB_HAZARD_HOT_EXHAUST] = {"Hot exhaust",
                               "Exhaust parts stay hot long after the engine was switched off. Let them "
                               "cool before you work near them."},
    [LB_HAZARD_REFRIGERANT] = {"Refrigerant",
                               "It is under pressure and freezes skin and eyes. Leave its lines closed: "
                               "opening them is for certified people with recovery equipment, and it is "
                               "never let out into the air."},
    [LB_HAZARD_SPRING] = {"Springs under load",
                          "A spring or torsion bar stores enough energy to kill. Use the compressor "
                          "or the support that the maker's manual names before anything that holds "
                          "it is undone."},
    [LB_HAZARD_ENGINE_SUPPORT] = {"Heavy engine or gearbox",
                                  "Support it as the maker's manual says before anything that "
                                  "carries it is undone, and keep out from under it."},
    [LB_HAZARD_BRAKE_DUST] = {"Dust of brakes and clutches",
                              "It harms the lungs, and old linings may hold asbestos. Never "
                              "blow it out or brush it dry: wet it and wipe it."},
    [LB_HAZARD_BRAKE_FLUID] = {"Brake fluid",
                               "It attacks eyes, skin and paint, and it takes up water. Use fresh fluid of "
                               "the grade that the maker's manual names, and bleed as it says."},
    [LB_HAZARD_USED_OIL] = {"Used oil",
                            "It harms skin and water, and it may be hot. Wear gloves and catch all of it."},
    [LB_HAZARD_BELTS_FANS] = {"Belts and fans",
                              "Keep hands, hair and sleeves out of belts and fans. An electric fan can "
                              "start with the engine off."},
};

const char *lb_hazard_title(enum lb_hazard hazard)
{
    return words[hazard].title;
}

const char *lb_hazard_text(enum lb_hazard hazard)
{
    return words[hazard].text;
}
