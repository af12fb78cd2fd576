/* The parts that are listed for one vehicle, as plain data: what find looks through first when a vehicle is
 * given. Made by the garage (garage/fitting.h), which knows conditions. */
#ifndef LB_FIND_SHORTLIST_H
#define LB_FIND_SHORTLIST_H

#include <stddef.h>
#include <stdint.h>

enum lb_find_fit { LB_FIND_NO_VEHICLE, LB_FIND_FITS, LB_FIND_ASK, LB_FIND_NO };

/* A word of a part's title: its stem as a hash (lb_hash of the stem's bytes from LB_HASH_START, the low 32
 * bits) and its place (catalog/title.h). */
struct lb_listed_word {
    uint32_t stem;
    uint32_t place;
};

struct lb_listed_part {
    const char *key;            /* the part key (catalog/partkey.h) */
    int64_t row;                /* of parts; 0: no catalogue describes it */
    enum lb_find_fit fit;       /* FITS or ASK */
    const char *asks;           /* ASK: "built", "abs, built" */
    uint16_t position;          /* where it goes (base/position.h), of all rows that fit; 0: not stated */
    uint8_t length, type_words; /* of its title */
    const struct lb_listed_word *words;
    size_t word_count;
};

struct lb_shortlist {
    const struct lb_listed_part *parts; /* by key, bytewise; each once */
    size_t count;
    const char *vehicle;            /* its name */
    const char *const *fluid_types; /* part types that the vehicle's map takes as fluids or consumables: parts
                                       of these that no list says anything of fit every vehicle; sorted */
    size_t fluid_type_count;
    const char *const
        *platforms; /* the vehicle's: those that its make, model and facts do not exclude; sorted */
    size_t platform_count;
};

#endif
