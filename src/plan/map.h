/* The service map as it applies to one vehicle: plain rows, false ones left out, names as small numbers.
 * What goes into a plan. Built by kit/ from the index, or by hand in a test; the plan never writes to it.
 *
 * Quantities are millionths, converted to the base unit of their dimension (L, g, mm, each). Shares are
 * millionths of a percent point, temperatures millionths of a °C, torques millionths of a N·m. */
#ifndef LB_PLAN_MAP_H
#define LB_PLAN_MAP_H

#include "base/measure.h"
#include "base/names.h" /* LB_NO_NAME */
#include "base/spec.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* How far a component is out of the way (formats.md §3.1), each including the ones before it. */
enum lb_level { LB_UNTOUCHED, LB_LOOSENED, LB_ASIDE, LB_REMOVED };

/* Strictest first. */
enum lb_reuse { LB_REUSE_NEVER, LB_REUSE_CHECK, LB_REUSE_ALWAYS };

/* What a fact would have to tell apart for a row: "before or after 2004-03". Equal texts are one pointer. */
struct lb_turn {
    uint32_t fact;
    const char *words;
};

/* What every row carries: where it stands, and the facts that are not known of this vehicle but decide
 * whether it applies. Without doubts the row is true; with them it applies provisionally. */
struct lb_row {
    uint32_t source, line; /* index into lb_map.sources; 1-based line */
    uint32_t doubt_count;
    uint32_t turn_count;
    uint32_t
        condition; /* with doubts: which condition it is; rows with the same words have the same number */
    const uint32_t *doubts; /* fact numbers */
    const struct lb_turn *turns;
};

/* A part of a condition, met by some outcomes of one fact (bits). `told_by`: another fact whose outcomes tell
 * as well (a build date tells the year), the same one in all of a map; LB_NO_NAME: none. */
struct lb_map_clause {
    uint32_t fact, told_by;
    uint64_t outcomes, told;
};

/* What a condition asks of facts that are not known: all its clauses. Without clauses it was not taken apart,
 * and everything it hangs on has to be known. */
struct lb_map_condition {
    const struct lb_map_clause *clauses;
    uint32_t clause_count;
};

/* How much of what: the part a row asks for. */
struct lb_article {
    const char *part_type;
    struct lb_spec spec;
    int64_t quantity;
    enum lb_dimension dimension;
    const char *unit; /* the base unit's symbol, or the word itself for LB_OTHER_UNIT */
};

/* May two rows of one joint ask for both: the same type, spec and unit (joints.c). */
bool lb_article_agrees(const struct lb_article *a, const struct lb_article *b);

struct lb_map_component {
    struct lb_row row;
    uint32_t component;
    struct lb_article article;
    const char *name, *position, *inspect; /* NULL: not stated */
    const char *off, *back;                /* verbs at LB_REMOVED */
    int64_t wear_km, wear_months;          /* 0: no wear interval; km in millionths, months whole */
};

struct lb_map_fastening {
    struct lb_row row;
    uint32_t component;
    struct lb_article article;
    const char *item, *kind, *tool, *note; /* tool, note: NULL when not stated */
    int sealing;                           /* gasket, seal, o-ring or sealant */
    enum lb_reuse reuse;
    enum lb_level at;
    uint32_t joint;        /* 1 and up; 0: its own */
    int64_t torque, angle; /* 0: not stated */
};

/* A component or a circuit, for rows that may name either. */
struct lb_thing {
    int is_circuit;
    uint32_t id; /* LB_NO_NAME: names nothing that the map knows */
};

struct lb_map_access {
    struct lb_row row;
    struct lb_thing thing;
    uint32_t needs;
    enum lb_level state, to; /* to: LB_UNTOUCHED means any state */
};

struct lb_step_name {
    const char *verb;
    struct lb_thing thing;
};

struct lb_map_sequence {
    struct lb_row row;
    struct lb_step_name first, then;
    const char *note;
};

struct lb_map_circuit {
    struct lb_row row;
    uint32_t circuit;
    struct lb_article fluid;   /* quantity: the capacity */
    struct lb_article diluent; /* part_type NULL: none stated */
    int64_t mix;               /* share of concentrate; -1: not stated */
    int has_freeze_to;
    int64_t freeze_to;
};

struct lb_map_opens {
    struct lb_row row;
    uint32_t component, circuit;
    int64_t share;
    enum lb_level at;
};

struct lb_map_consumable {
    struct lb_row row;
    uint32_t component;
    struct lb_article article;
    enum lb_level at;
    const char *note;
    bool missed;           /* a rule of the owner's: it had to be fetched in the middle of a job */
    bool own;              /* missed: kept in this index, row.line being its number; else it came as a file */
    const char *missed_on; /* missed: the day, ISO 8601 */
    const char *missed_in; /* missed: the kit; NULL: not stated */
};

struct lb_map_caution {
    struct lb_row row;
    struct lb_thing thing;
    const char *text;
};

/* One pulley of a belt's run. Lengths are millionths of a millimetre. */
struct lb_map_pulley {
    struct lb_row row;
    uint32_t belt;      /* component */
    uint32_t component; /* LB_NO_NAME: one that no other row of the map names */
    const char *name;   /* the component's, as the row has it */
    int64_t order;      /* among the belt's pulleys, from any number on */
    int64_t x, y, diameter;
    int64_t slack; /* belt length that moving it takes up; -1: not stated, it stays where it is */
    int back;      /* the belt's back lies on it, not its ribs */
};

struct lb_map {
    const char *const *sources; /* file names, for messages */
    const char *const *components, *const *circuits, *const *facts;
    size_t component_count, circuit_count, fact_count, joint_count,
        condition_count;                       /* joints: the highest number */
    const struct lb_map_condition *conditions; /* by number; NULL: none was taken apart */
    const uint32_t *outcome_counts;            /* by fact, up to 64; 0: cannot be told apart. Or NULL */
    struct lb_row platform;                    /* when the platform itself is provisional, all of it is */

    const struct lb_map_component *component_rows;
    const struct lb_map_fastening *fastenings;
    const struct lb_map_access *access;
    const struct lb_map_sequence *sequences;
    const struct lb_map_circuit *circuit_rows;
    const struct lb_map_opens *opens;
    const struct lb_map_consumable *consumables;
    const struct lb_map_caution *cautions;
    const struct lb_map_pulley *pulleys;
    size_t component_row_count, fastening_count, access_count, sequence_count, circuit_row_count, opens_count,
        consumable_count, caution_count, pulley_count;
};

/* What the job is about. */
struct lb_target {
    struct lb_row row; /* the jobs row; source LB_NO_NAME: asked for by the owner */
    struct lb_thing thing;
    int refit; /* off and on again: only what it disturbs is needed */
};

#endif
