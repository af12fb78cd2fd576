/* Measures: a number with a unit, converted exactly to the unit the contract names.
 *
 * Dimensions and their base units: count (each), volume (L), mass (g), length (mm), torque (N·m), temperature
 * (degrees Celsius), distance (km), share (%), angle (degrees). Source of factors: NIST SP 811 B.8; codes of
 * UNECE Rec 20 (H87, EA, LTR, MLT, GRM, KGM, MTR, MMT, GLL, QTL ...) are read too. A distance is a length of
 * its own: `50000 mi` in a wear_km cell. */
#ifndef LB_BASE_MEASURE_H
#define LB_BASE_MEASURE_H

#include "base/buf.h"

#include <stdbool.h>
#include <stdint.h>

enum lb_dimension {
    LB_COUNT,
    LB_VOLUME,
    LB_MASS,
    LB_LENGTH,
    LB_TORQUE,
    LB_TEMPERATURE,
    LB_DISTANCE,
    LB_SHARE,
    LB_ANGLE,
    LB_OTHER_UNIT, /* a word the program does not know, e.g. `tube`: counts, merges with its own word only */
};

struct lb_unit {
    enum lb_dimension dimension;
    int64_t factor, divisor; /* base units = value × factor ÷ divisor (temperature: then the offset) */
    int64_t offset;          /* millionths of the base unit, added before factor (°F: -32000000) */
};

/* Looks a unit up by name, symbol or code, without case where that is unambiguous (`L`, `l`, `litre`,
 * `liter`, `mL`, `cl`, `dl`, `US gal`, `gal` (US), `imp gal`, `qt`, `pt`, `fl oz`; `g`, `kg`, `mg`, `oz`,
 * `lb`; `mm`, `cm`, `m`, `in`, `"`, `ft`; `N·m`, `Nm`, `N.m`, `N*m`, `lbf.ft`, `lbf·ft`, `ft-lb`, `ft·lbf`,
 * `lb-ft`, `lbf.in`, `in-lb`, `kgf.m`, `kgf.cm`; `°C`, `C`, `°F`, `F`, `K`; `km`, `mi`, `miles`; `%`; `°`,
 * `deg`; `each`, `ea`, `pc`, `pcs`, `piece`, `pieces`, `H87`, `EA`, and empty = each). Blanks, dots, hyphens,
 * stars and the signs of multiplication in a name are dropped, so `Fl. Oz.` is `floz`. `hint` decides where a
 * word has two meanings (`oz`: of mass, or fluid where a volume is wanted; `K`: kelvin, or thousand where a
 * distance is wanted). `m` is the metre only: some write it for miles, so a distance refuses it. Unknown:
 * LB_OTHER_UNIT, factor 1. Never fails for want of memory. */
struct lb_unit lb_unit_find(const char *name, enum lb_dimension hint);
/* The base unit's symbol: "each", "L", "g", "mm", "N·m", "°C", "km", "%", "°"; "" for LB_OTHER_UNIT. */
const char *lb_unit_symbol(enum lb_dimension dimension);
/* value (millionths of the given unit) in millionths of the base unit, rounded half away from zero. */
int64_t lb_unit_to_base(struct lb_unit unit, int64_t value);

/* Appends a quantity as it is said: "4" for pieces (`unit` "each"), "3.6 L" else. Exact. */
void lb_measure_print(struct lb_buf *out, int64_t millionths, const char *unit);

/* Reads a cell: a number, optionally followed by a unit of the wanted dimension; without unit it is in the
 * base unit. NULL and *millionths, or why not, in words (static text: "is not a number", "is a length, not a
 * torque"); *millionths is then untouched. */
const char *lb_measure_parse(const char *cell, enum lb_dimension wanted, int64_t *millionths);

#endif
