/* What the checks of one map share. Private to kit/map_check*.c. */
#ifndef LB_KIT_MAP_CHECKER_H
#define LB_KIT_MAP_CHECKER_H

#include "catalog/lookup.h"
#include "garage/variants.h"
#include "kit/map_check.h"
#include "kit/surveyor.h"

/* Rows that a survey for one vehicle has no use for. */
struct job_row {
    struct lb_target target;
    uint32_t job; /* of checker.jobs */
};

struct pulley_row {
    struct lb_row row;
    uint32_t belt, component;
    int64_t order;
};

struct platform_row {
    struct lb_row row;
    struct lb_interval built;
};

struct step_row {
    const char *first, *then; /* as written */
};

/* Any row of the map, for what concerns all of them. */
struct any_row {
    const struct lb_row *row;
    const char *table;
};

/* How often something comes, and where first. */
struct tally {
    struct lb_names keys;
    LB_VEC(struct tallied {
        const struct lb_row *row;
        size_t count;
    })
    at; /* by key */
};

struct checker {
    struct lb_map_report report; /* first: what is handed out */
    struct lb_arena arena;
    LB_VEC(struct lb_finding) findings;
    bool failed; /* out of memory */

    struct lb_store *store;
    struct lb_error *err;
    struct surveyor *survey;
    const struct lb_map *map;
    struct lb_names jobs, explained; /* names of jobs; facts that a facts row explains */
    LB_VEC(struct job_row) job_rows;
    LB_VEC(struct pulley_row) pulleys;
    LB_VEC(struct platform_row) platforms;
    LB_VEC(struct step_row) steps; /* as map->sequences */
    LB_VEC(struct any_row) rows;

    struct lb_condition **conditions; /* by lb_row.condition */
    struct lb_variants variants;
    const struct lb_map_component **component_of; /* by component: its first row; NULL: none describes it */
    const struct lb_map_circuit **circuit_of;
    enum lb_level *levels; /* by component, then circuit: how far any job takes it */
    size_t tried;          /* rows and names that went into trials so far */
};

/* Out of memory sets c->failed, here and below. */
void check_find(struct checker *c, enum lb_severity severity, const char *code, const struct lb_row *row,
                const char *format, ...) LB_PRINTF(5, 6);
/* Lays memory from the checker's arena; NULL: c->failed. */
void *check_alloc(struct checker *c, size_t count, size_t size);
/* Counts one more row under `key`. */
void check_tally(struct checker *c, struct tally *tally, const char *key, const struct lb_row *row);
void check_tally_free(struct tally *tally);
/* The row's condition; NULL: none. */
const struct lb_condition *check_condition(const struct checker *c, const struct lb_row *row);
/* Its words; "": none. */
const char *check_when(const struct checker *c, const struct lb_row *row);
/* Is there a vehicle to which both rows apply? */
bool check_together(struct checker *c, const struct lb_row *a, const struct lb_row *b);
const char *check_file(const struct checker *c, const struct lb_row *row);

/* The parts that the catalogues hold. map_check_parts.c */
struct check_parts {
    struct checker *c;
    struct lb_lookup *lookup;
    struct lb_statement *of_type;
    struct lb_buf ids;
};

LB_CHECK lb_status check_parts_open(struct check_parts *parts, struct checker *c);
/* Visits the spec of each part of the type that meets `wanted` (NULL: any), until `visit` returns false. The
 * spec is borrowed until it returns. */
LB_CHECK lb_status check_parts_each(struct check_parts *parts, const char *part_type,
                                    const struct lb_spec *wanted,
                                    bool (*visit)(void *context, const struct lb_spec *spec), void *context);
void check_parts_close(struct check_parts *parts);
/* A spec as written (NULL: none) meets the need. */
bool check_meets(const char *offered, const struct lb_spec *wanted);

/* Each looks at one thing; LB_OK also with c->failed. map_check_read.c */
LB_CHECK lb_status check_read(struct checker *c);
/* map_check_names.c */
LB_CHECK lb_status check_names(struct checker *c);
LB_CHECK lb_status check_steps(struct checker *c);
LB_CHECK lb_status check_reach(struct checker *c);
/* map_check_when.c */
LB_CHECK lb_status check_conditions(struct checker *c);
LB_CHECK lb_status check_facts(struct checker *c);
/* map_check_twice.c */
LB_CHECK lb_status check_duplicates(struct checker *c);
LB_CHECK lb_status check_joints(struct checker *c);
/* map_check_fluids.c */
LB_CHECK lb_status check_fluids(struct checker *c);
/* map_check_bolts.c */
LB_CHECK lb_status check_torques(struct checker *c);
/* map_check_goods.c */
LB_CHECK lb_status check_goods(struct checker *c);
/* map_check_belts.c */
LB_CHECK lb_status check_belts(struct checker *c);
/* map_check_order.c */
LB_CHECK lb_status check_order(struct checker *c);

#endif
