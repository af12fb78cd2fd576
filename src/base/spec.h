/* Specs: dimensional designations that a standard defines, as comparable properties.
 *
 *   thread   `M6x1.0x20 8.8`      ISO 261/262 (coarse pitch when left out), length, property class ISO 898-1
 *   belt     `6PK1538`            ISO 9981, PK profile: ribs, effective length in mm
 *   o-ring   `20.22x3.53`, `AS568-210`   inside diameter × section in mm; SAE AS568 dash numbers
 *   other    anything else, compared as text without case and spaces
 *
 * What a designation leaves out is free when a part is matched against it; two needs are the same only when all
 * their properties agree. */
#ifndef LB_BASE_SPEC_H
#define LB_BASE_SPEC_H

#include "base/buf.h"

#include <stdbool.h>
#include <stdint.h>

enum lb_spec_kind { LB_SPEC_NONE, LB_SPEC_THREAD, LB_SPEC_BELT, LB_SPEC_O_RING, LB_SPEC_TEXT };

/* Lengths in micrometres; 0: not stated. */
struct lb_spec {
    enum lb_spec_kind kind;
    int32_t diameter, pitch, length; /* thread: nominal diameter, pitch, length; belt: length = effective length */
    int32_t ribs;                    /* belt */
    int32_t inside, section;         /* o-ring */
    char grade[16];                  /* thread: property class "8.8", "10.9", "12.9", "A2-70" (upper case); "" not stated */
    const char *text;                /* borrowed: the designation as written */
};

/* Never fails: what is no known designation is LB_SPEC_TEXT; NULL or blank is LB_SPEC_NONE.
 * Accepts X, x, × and * between numbers, blanks around them, decimal comma in numbers, `AS568-210`, `AS568A-210`,
 * `AS 568 210`. A second number of a thread is its pitch when not above the coarse pitch of that diameter, else its length.
 * Belt `6PK1538`, `6 PK 1538`. An O-ring is `20.22x3.53` with section between 0.5 and 10 mm and below the inside diameter's
 * plausible range; an unknown dash number stays LB_SPEC_TEXT. */
struct lb_spec lb_spec_parse(const char *text);
/* Does a part with `offered` meet a need for `wanted`: every property that wanted states is equal. NONE wanted: yes.
 * Kinds differ: no. */
bool lb_spec_meets(const struct lb_spec *offered, const struct lb_spec *wanted);
/* Appends a key that is equal exactly when all properties agree: "thread:6000:1000:20000:8.8", "text:g12evo". */
void lb_spec_key(struct lb_buf *out, const struct lb_spec *spec);

/* ISO 261 coarse pitch in micrometres of a nominal diameter in micrometres; 0: not a coarse-series diameter. */
int32_t lb_thread_coarse_pitch(int32_t diameter);
/* ISO 272 width across flats in mm of a hexagon for that diameter; 0: not tabled. */
int lb_thread_across_flats(int32_t diameter);
/* ISO 898-1 proof load in N of a coarse thread and class; 0: not tabled. */
int32_t lb_thread_proof_load(int32_t diameter, const char *grade);
/* AS568 dash number: fills inside and section in micrometres; false: not carried (only sizes two sources agree on). */
bool lb_o_ring_as568(int dash, int32_t *inside, int32_t *section);

#endif
