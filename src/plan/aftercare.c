#include "plan/aftercare.h"

#include "plan/calls.h"

#define PART(what, from, words)                                                                              \
    {                                                                                                        \
        what, CALL_PART, from, words                                                                         \
    }
#define FLUID(what, words)                                                                                   \
    {                                                                                                        \
        what, CALL_FLUID, LB_UNTOUCHED, words                                                                \
    }
#define RENEWED(what, words)                                                                                 \
    {                                                                                                        \
        what, CALL_RENEWED, LB_UNTOUCHED, words                                                              \
    }

static const struct call checks[] = {
    PART(LB_CHECK_BRAKE_PEDAL, LB_LOOSENED, "brake pad"),
    PART(LB_CHECK_BRAKE_PEDAL, LB_LOOSENED, "brake shoe"),
    PART(LB_CHECK_BRAKE_PEDAL, LB_LOOSENED, "brake caliper"),
    PART(LB_CHECK_BRAKE_PEDAL, LB_LOOSENED, "brake disc"),
    PART(LB_CHECK_BRAKE_PEDAL, LB_LOOSENED, "brake drum"),
    PART(LB_CHECK_BRAKE_PEDAL, LB_LOOSENED, "brake hose"),
    PART(LB_CHECK_BRAKE_PEDAL, LB_LOOSENED, "brake line"),
    PART(LB_CHECK_BRAKE_PEDAL, LB_LOOSENED, "brake pipe"),
    PART(LB_CHECK_BRAKE_PEDAL, LB_LOOSENED, "brake servo"),
    PART(LB_CHECK_BRAKE_PEDAL, LB_LOOSENED, "wheel cylinder"),
    PART(LB_CHECK_BRAKE_PEDAL, LB_LOOSENED, "master cylinder -clutch"),
    PART(LB_CHECK_BRAKE_PEDAL, LB_LOOSENED, "vacuum hose"),
    FLUID(LB_CHECK_BRAKE_PEDAL, "brake fluid"),

    PART(LB_CHECK_FUEL_TIGHT, LB_LOOSENED, "fuel -cap -flap -gauge -relay -fuse -door"),
    PART(LB_CHECK_FUEL_TIGHT, LB_LOOSENED, "injector -cover"),
    PART(LB_CHECK_FUEL_TIGHT, LB_LOOSENED, "injection pump"),
    PART(LB_CHECK_FUEL_TIGHT, LB_LOOSENED, "carburettor"),
    PART(LB_CHECK_FUEL_TIGHT, LB_LOOSENED, "carburetor"),
    FLUID(LB_CHECK_FUEL_TIGHT, "fuel"),

    PART(LB_CHECK_BELT_RUN, LB_REMOVED, "belt -seat -safety -lap -tensioner -idler -pulley"),

    PART(LB_CHECK_WARNING_LAMPS, LB_LOOSENED, "battery -key -remote -backup"),
    PART(LB_CHECK_WARNING_LAMPS, LB_LOOSENED, "earth lead"),
    PART(LB_CHECK_WARNING_LAMPS, LB_LOOSENED, "ground cable"),
    PART(LB_CHECK_WARNING_LAMPS, LB_LOOSENED, "sensor"),
    PART(LB_CHECK_WARNING_LAMPS, LB_LOOSENED, "airbag"),
    PART(LB_CHECK_WARNING_LAMPS, LB_LOOSENED, "steering wheel"),
    PART(LB_CHECK_WARNING_LAMPS, LB_LOOSENED, "alternator -belt -bracket"),
    PART(LB_CHECK_WARNING_LAMPS, LB_LOOSENED, "injector -cover"),
    PART(LB_CHECK_WARNING_LAMPS, LB_LOOSENED, "ignition coil"),
    FLUID(LB_CHECK_WARNING_LAMPS, "brake fluid"),
    FLUID(LB_CHECK_WARNING_LAMPS, "engine oil"),

    FLUID(LB_CHECK_LEAKS, "coolant"),
    FLUID(LB_CHECK_LEAKS, "antifreeze"),
    FLUID(LB_CHECK_LEAKS, "oil"),
    FLUID(LB_CHECK_LEAKS, "fluid"),
    PART(LB_CHECK_LEAKS, LB_REMOVED, "oil filter"),
    PART(LB_CHECK_LEAKS, LB_REMOVED, "sump plug"),
    PART(LB_CHECK_LEAKS, LB_REMOVED, "valve cover"),
    PART(LB_CHECK_LEAKS, LB_REMOVED, "thermostat"),
    PART(LB_CHECK_LEAKS, LB_REMOVED, "=radiator"),

    FLUID(LB_CHECK_OIL_LEVEL, "engine oil"),
    FLUID(LB_CHECK_OIL_LEVEL, "gear oil"),
    FLUID(LB_CHECK_OIL_LEVEL, "transmission fluid"),
    FLUID(LB_CHECK_OIL_LEVEL, "steering fluid"),

    FLUID(LB_CHECK_COOLANT_COLD, "coolant"),
    FLUID(LB_CHECK_COOLANT_COLD, "antifreeze"),

    PART(LB_CHECK_WHEELS_AGAIN, LB_REMOVED, "road wheel"),
    PART(LB_CHECK_WHEELS_AGAIN, LB_REMOVED, "=wheel"),
};

static const struct call wastes[] = {
    FLUID(LB_WASTE_COOLANT, "coolant"),
    FLUID(LB_WASTE_COOLANT, "antifreeze"),
    FLUID(LB_WASTE_OIL, "oil"),
    FLUID(LB_WASTE_OIL, "transmission fluid"),
    FLUID(LB_WASTE_OIL, "steering fluid"),
    FLUID(LB_WASTE_OIL, "hydraulic fluid"),
    PART(LB_WASTE_OIL, LB_REMOVED, "oil filter"),
    FLUID(LB_WASTE_BRAKE_FLUID, "brake fluid"),
    FLUID(LB_WASTE_BRAKE_FLUID, "clutch fluid"),
    FLUID(LB_WASTE_FUEL, "fuel"),
    FLUID(LB_WASTE_FUEL, "petrol"),
    FLUID(LB_WASTE_FUEL, "gasoline"),
    PART(LB_WASTE_FUEL, LB_REMOVED, "fuel filter"),
    PART(LB_WASTE_FUEL, LB_REMOVED, "fuel tank -cap -flap"),
    PART(LB_WASTE_REFRIGERANT, LB_REMOVED, "ac compressor"),
    PART(LB_WASTE_REFRIGERANT, LB_REMOVED, "condenser -ignition -distributor"),
    PART(LB_WASTE_REFRIGERANT, LB_REMOVED, "evaporator"),
    PART(LB_WASTE_REFRIGERANT, LB_REMOVED, "receiver drier"),
    PART(LB_WASTE_REFRIGERANT, LB_REMOVED, "expansion valve"),
    PART(LB_WASTE_REFRIGERANT, LB_REMOVED, "ac line"),
    PART(LB_WASTE_REFRIGERANT, LB_REMOVED, "ac hose"),
    PART(LB_WASTE_REFRIGERANT, LB_REMOVED, "ac pipe"),
    FLUID(LB_WASTE_REFRIGERANT, "refrigerant"),
    RENEWED(LB_WASTE_BATTERY, "=battery"),
    RENEWED(LB_WASTE_BATTERY, "starter battery"),
    RENEWED(LB_WASTE_AIRBAG, "airbag"),
    RENEWED(LB_WASTE_AIRBAG, "pretensioner"),
};

uint32_t lb_checks(const struct lb_plan *plan)
{
    return calls_of(plan, checks, sizeof checks / sizeof *checks);
}

uint32_t lb_wastes(const struct lb_plan *plan)
{
    return calls_of(plan, wastes, sizeof wastes / sizeof *wastes);
}

const char *lb_check_text(enum lb_check check)
{
    static const char *const words[LB_CHECK_COUNT] = {
        [LB_CHECK_BRAKE_PEDAL] =
            "Before it moves: pump the brake pedal until it is firm and high, with the engine off and "
            "with it running. Try the brakes at walking pace first.",
        [LB_CHECK_FUEL_TIGHT] =
            "Before the first start and after it: every fuel joint is dry, and there is no smell.",
        [LB_CHECK_BELT_RUN] =
            "Belts lie in all their grooves and run true. Turn by hand first where the maker's manual "
            "says so.",
        [LB_CHECK_WARNING_LAMPS] = "Ignition on: the warning lamps come on; engine running: they go out.",
        [LB_CHECK_LEAKS] =
            "At working temperature, and again after it has cooled down: no leaks at anything that was "
            "opened.",
        [LB_CHECK_OIL_LEVEL] =
            "Oil and fluid levels on level ground, in the way and at the temperature that the maker's "
            "manual says.",
        [LB_CHECK_COOLANT_COLD] = "Next morning, with the engine cold: coolant level, and top up.",
        [LB_CHECK_WHEELS_AGAIN] =
            "Torque again, wheels and anything else, only where the maker's manual says so, and "
            "after the distance that it says.",
    };
    return words[check];
}

const char *lb_waste_text(enum lb_waste waste)
{
    static const char *const words[LB_WASTE_COUNT] = {
        [LB_WASTE_COOLANT] =
            "Old coolant: in a closed, labelled container to a collection point for hazardous waste. Never "
            "into a drain or onto the ground.",
        [LB_WASTE_OIL] =
            "Used oil and oil filters: back to where oil is sold or to a collection point, not mixed with "
            "coolant, brake fluid or fuel.",
        [LB_WASTE_BRAKE_FLUID] =
            "Old brake fluid: in a container of its own to a collection point for hazardous waste.",
        [LB_WASTE_FUEL] = "Fuel and what is soaked with it: in a container meant for fuel, outdoors, to a "
                          "collection point.",
        [LB_WASTE_REFRIGERANT] =
            "Refrigerant: never let it out. Certified people recover it before a line is opened.",
        [LB_WASTE_BATTERY] =
            "The old battery: upright, its posts covered, back to the seller or to a collection point.",
        [LB_WASTE_AIRBAG] =
            "Airbags and tensioners that have not gone off: leave them to trained people; they are "
            "explosives.",
    };
    return words[waste];
}
