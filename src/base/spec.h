/* Specs: dimensional designations that a standard defines, as comparable properties.
 *
 *   thread   `M6x1.0x20 8.8`   ISO 261/262 (coarse pitch when left out), length, class (ISO 898-1, 3506-1)
 *   belt     `6PK1538`         ISO 9981, PK profile: ribs, effective length in mm
 *   o-ring   `20.22x3.53`      inside diameter × section in mm
 *            `AS568-210`       the same by SAE AS568 dash number
 *   other    anything else, compared as text without case and blanks
 *
 * What a designation leaves out is free when a part is matched against it; two needs are the same only when
 * all their properties agree. Not a judge of fit: an O-ring a tenth of a millimetre off is another O-ring.
 *
 *     struct lb_spec wanted = lb_spec_parse("M6x20"), offered = lb_spec_parse("M6 × 1,0 × 20 - 8.8");
 *     lb_spec_meets(&offered, &wanted);   // true: the need leaves the class free
 */
#ifndef LB_BASE_SPEC_H
#define LB_BASE_SPEC_H

#include "base/buf.h"

#include <stdbool.h>
#include <stdint.h>

enum lb_spec_kind { LB_SPEC_NONE, LB_SPEC_THREAD, LB_SPEC_BELT, LB_SPEC_O_RING, LB_SPEC_TEXT };

/* Lengths in micrometres; 0: not stated. */
struct lb_spec {
    enum lb_spec_kind kind;
    int32_t diameter, pitch; /* thread: nominal diameter */
    int32_t length;          /* thread; belt: effective length */
    int32_t ribs;            /* belt */
    int32_t inside, section; /* o-ring */
    char grade[16];          /* thread: property class "8.8", "A2-70" (upper case); "": not stated */
    const char *text;        /* borrowed: the designation as written */
};

/* Never fails, needs no memory: what is no known designation is LB_SPEC_TEXT; NULL or blank is LB_SPEC_NONE.
 * A designation is taken whole or not at all: `6PK1538 EPDM` is a text.
 *
 * Everywhere: no case; X, x, × and * between numbers; blanks around them; `,` as decimal sign; `mm` after a
 * number; at most three decimals; 63 characters.
 *
 * Thread: `M` and the diameter (1 to 300 mm), pitch, length, class; pitch, length and class may be left out.
 * A second number is the pitch when not above lb_thread_pitch_limit, else the length. After `-` instead of x
 * it can only be the pitch (`M8-1.25x25`). The class stands last, after a blank or `-`: 4.6 to 12.9, or A2,
 * A2-70 and the like.
 *
 * Belt: `6PK1538`, `6 PK 1538`.
 *
 * O-ring: two numbers, the section from 0.5 to 10 mm and at most two and a half times the inside diameter;
 * `AS568-210`, `AS568A-210`, `AS 568 210`, where a dash number that is not carried stays a text. */
struct lb_spec lb_spec_parse(const char *text);
/* Does a part with `offered` meet a need for `wanted`: every property that wanted states is equal. NONE
 * wanted: yes. Kinds differ: no. */
bool lb_spec_meets(const struct lb_spec *offered, const struct lb_spec *wanted);
/* The same number for any two specs one of which meets the other, and hardly ever for others: what specs are
 * looked up by. A thread's diameter and pitch are always stated, its length and class may be free. 0:
 * LB_SPEC_NONE. */
uint64_t lb_spec_family(const struct lb_spec *spec);
/* Appends a key that is equal exactly when all properties agree: "thread:6000:1000:20000:8.8",
 * "belt:6:1538000", "o-ring:18640:3530", "text:g12evo". LB_SPEC_NONE appends nothing: two needs without a
 * spec are not thereby the same. */
void lb_spec_key(struct lb_buf *out, const struct lb_spec *spec);

/* ISO 261 coarse pitch of a nominal diameter, both in micrometres; 0: none in the coarse series. */
int32_t lb_thread_coarse_pitch(int32_t diameter);
/* The greatest number read as a pitch: the coarse pitch, that of the next tabled diameter where ISO 261 has
 * none, and above 64 mm the 6 mm that end the coarse series. */
int32_t lb_thread_pitch_limit(int32_t diameter);
/* ISO 272 width across flats in mm of a hexagon; 0: not tabled, or (M3) no whole number. */
int lb_thread_across_flats(int32_t diameter);
/* ISO 898-1 proof load in N of a coarse thread and class; 0: not tabled. */
int32_t lb_thread_proof_load(int32_t diameter, const char *grade);
/* The torque, in millionths of a N·m, at which a bolt of that thread and class carries its whole proof load:
 * T = K·d·F with K = 0.20, zinc plated and not oiled (Shigley, table of K). Oil makes the same torque pull
 * harder, a plain dry thread less, so what lies above need not be wrong: it is worth a look. Without a class,
 * that of 12.9, the strongest of ISO 898-1. Fine pitches by the stress area of ISO 898-1. 0: not tabled. */
int64_t lb_thread_torque_limit(const struct lb_spec *spec);
/* AS568 dash number: fills inside and section in micrometres; false: not carried (only sizes two sources
 * agree on). */
bool lb_o_ring_as568(int dash, int32_t *inside, int32_t *section);

#endif
