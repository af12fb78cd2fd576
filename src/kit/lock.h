/* A locked kit: what it was made of on one day, as a plain struct and as a text for version control. The text
 * has one fact a line, no padding, no line numbers of files, and an order that does not move: needs before
 * spares, by reason, then by what they are for; offers by supplier; fastenings by component. It begins with
 * `lastbolt kit lock, version 1` and ends with `end`, so that one that is cut off is known. The same index on
 * the same day gives the same bytes.
 *
 *     struct lb_kit_lock lock;
 *     status = lb_lock_make(&lock, kit, today, &err);
 *     lb_lock_write(&text, &lock);
 *     status = lb_lock_read(&lock, text, length, "saturday.lock", &err);
 *     lb_lock_free(&lock);
 */
#ifndef LB_KIT_LOCK_H
#define LB_KIT_LOCK_H

#include "base/vec.h"
#include "kit/kit.h"

#define LB_LOCK_UNSAID INT64_MIN /* a number that nobody stated */

/* A live offer of a part. */
struct lb_lock_offer {
    const char *supplier, *code, *currency; /* supplier: as rows refer to it; code NULL: none */
    int64_t price;                          /* a pack, minor units of `currency` */
    int64_t pack, minimum; /* pack: millionths of the part's unit; minimum: packs of the least order */
};

/* A part as the catalogues have it. */
struct lb_lock_part {
    const char *brand, *number; /* NULL: no part */
    const char *unit;           /* what it is counted in; NULL without a part */
    const char *replaced_by;    /* "Orlop 100-12", "A 1 and B 2", "A 1 or C 3"; NULL: by nothing */
    bool discontinued;
    LB_VEC(struct lb_lock_offer) offers; /* by supplier, code, currency, pack, minimum and price */
};

/* What a line is for: a component, and of a fastening its item; of a fluid the circuit. */
struct lb_lock_place {
    const char *component, *item; /* item NULL: the component (or circuit) itself */
};

struct lb_lock_line {
    const char *key; /* lb_need.key */
    const char *part_type, *spec, *unit;
    int64_t quantity; /* millionths of `unit` */
    enum lb_reason reason;
    enum lb_decision decision;
    bool spare, sure, decided;
    LB_VEC(struct lb_lock_place) places;
    struct lb_lock_part part; /* the one that was chosen */
    /* Not in the text; of a kit as it is now only. */
    int number;
    bool wanted; /* some of it is still to be bought */
};

/* A fastening that the job disturbs, whether it goes back or not. */
struct lb_lock_fastening {
    const char *component, *item, *part_type, *spec, *unit;
    int64_t quantity;
    enum lb_reuse reuse;
    int64_t torque, angle; /* millionths of a N·m and of a degree; LB_LOCK_UNSAID: not stated */
};

/* A circuit that the job opens. Volumes: millionths of a litre; mix: of a percent point. */
struct lb_lock_circuit {
    const char *circuit, *fluid, *spec, *diluent; /* spec, diluent NULL: not stated */
    int64_t capacity, mix, freeze_to;             /* the last two may be LB_LOCK_UNSAID */
};

struct lb_lock_source {
    const char *name, *fingerprint;
};

struct lb_lock_fact {
    const char *key, *value;
};

struct lb_kit_lock {
    struct lb_arena texts;
    const char *kit, *vehicle, *make, *model, *built, *vin, *platform; /* built, vin NULL: not stated */
    int32_t locked;                                                    /* day, since 1970-01-01 */
    LB_VEC(struct lb_lock_fact) facts;
    LB_VEC(const char *) wants;            /* "job pump", "replace belt" */
    LB_VEC(struct lb_lock_source) sources; /* whose rows it uses; by name */
    LB_VEC(struct lb_lock_line) lines;
    LB_VEC(struct lb_lock_fastening) fastenings;
    LB_VEC(struct lb_lock_circuit) circuits;
    LB_VEC(const char *) cautions, steps, questions; /* steps: "remove water-pump"; questions: facts */
};

/* The kit as it is now. LB_NOMEM, and what a damaged index gives. */
LB_CHECK lb_status lb_lock_make(struct lb_kit_lock *out, struct lb_store *store, const struct lb_kit *kit,
                                int32_t today, struct lb_error *err);
void lb_lock_free(struct lb_kit_lock *lock);

/* Appends the text. UTF-8 whatever the names were: what would break a line, and what is no UTF-8, is written
 * as `\n`, `\\` or `\x1f`. */
void lb_lock_write(struct lb_buf *out, const struct lb_kit_lock *lock);
/* `name` is what messages call the text. LB_DATA, with name and line: no lock, of a newer version, cut off,
 * or changed into what is none. An editor may have put a byte order mark before it, or made its line ends CR
 * LF. */
LB_CHECK lb_status lb_lock_read(struct lb_kit_lock *out, const char *text, size_t length, const char *name,
                                struct lb_error *err);

/* lock_parts.c. The offer of the same packs in the same currency from the same supplier: rather under the
 * same code, rather of the same least order, rather cheap. NULL: none is. */
const struct lb_lock_offer *lb_lock_offer_like(const struct lb_lock_offer *wanted,
                                               const struct lb_lock_part *part);

/* lock_store.c. A lock in a file ("-": standard input): LB_SYSTEM when it cannot be read, else as
 * lb_lock_read. */
LB_CHECK lb_status lb_lock_read_file(struct lb_kit_lock *out, const char *path, struct lb_error *err);
/* What the index remembers of the kit; *locked false: it was never locked, and there is nothing to free. */
LB_CHECK lb_status lb_lock_load(struct lb_kit_lock *out, bool *locked, struct lb_store *store,
                                const struct lb_kit *kit, struct lb_error *err);
/* Remembers a text in the place of the last; in the caller's transaction, if there is one. */
LB_CHECK lb_status lb_lock_keep(struct lb_store *store, const struct lb_kit *kit, int32_t today,
                                const char *text, struct lb_error *err);

/* lock_parts.c. What has become of the parts and sources of a lock. */
struct lb_lock_fate {
    struct lb_lock_part part; /* as the catalogues have it now */
    bool known;               /* some catalogue lists or offers it */
};
struct lb_lock_supplier {
    const char *name, *label; /* as rows refer to it; as people call it */
};
struct lb_lock_fates {
    struct lb_arena texts;
    struct lb_lock_fate *parts; /* by line of the lock */
    size_t part_count;
    const char **fingerprints; /* by source of the lock; NULL: not in the index any more */
    LB_VEC(struct lb_lock_supplier) suppliers;
};
LB_CHECK lb_status lb_lock_look_up(struct lb_lock_fates *out, struct lb_store *store,
                                   const struct lb_kit_lock *lock, int32_t today, struct lb_error *err);
void lb_lock_fates_free(struct lb_lock_fates *fates);

#endif
