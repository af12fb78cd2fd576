/* The order of work of some targets, tried for one kind of vehicle after another. Private to
 * kit/map_check_order.c and map_trial*.c. */
#ifndef LB_KIT_MAP_TRIAL_H
#define LB_KIT_MAP_TRIAL_H

#include "kit/map_checker.h"
#include "plan/trial.h"

/* The rows that a job's teardown may meet, or those of them that one vehicle has. */
struct part_map {
    struct lb_map map;
    LB_VEC(struct lb_map_component) components;
    LB_VEC(struct lb_map_access) access;
    LB_VEC(struct lb_map_sequence) sequences;
    LB_VEC(struct lb_map_opens) opens;
    LB_VEC(struct lb_target) targets;
};

struct found {
    const struct lb_row *row; /* a copy, in the checker's memory */
    const char *code, *words, *who, *where;
    size_t count; /* jobs that have it */
    uint32_t last_job;
};

struct trial {
    struct checker *c;
    const char *name; /* "the job timing-drive"; NULL: what is found is not kept */
    uint32_t number;  /* of the trial's name: one contradiction counts once for it */
    struct part_map all, some;
    struct lb_guess guess;
    const struct lb_condition **asked; /* that the rows hang on */
    uint32_t *asked_ids;
    size_t asked_count;
    bool *is_asked;       /* by condition */
    enum lb_truth *truth; /* by condition, for the guess as it stands */
    bool every;           /* all vehicles are tried */
    struct lb_clash clash;
    struct lb_names clashes;    /* by their rows */
    LB_VEC(struct found) found; /* by them */
    size_t found_here;          /* in this trial */
    bool stopped;               /* too many rows went into trials */
};

#define TRIAL_TAKE(t, vec, row) ((t)->c->failed |= !LB_PUSH(vec, row))

LB_CHECK lb_status trial_begin(struct trial *trial, struct checker *c);
/* Tries t->all.targets and empties them; what contradicts itself is added to t->found. */
LB_CHECK lb_status trial_run(struct trial *t, const char *name);
/* The same with all rows at once, as no vehicle may have them. *clash: something contradicts itself. */
LB_CHECK lb_status trial_run_all(struct trial *t, bool *clash);
void trial_end(struct trial *trial);

/* map_trial_rows.c: fills t->all with what t->all.targets may meet on any vehicle. */
LB_CHECK lb_status trial_gather(struct trial *t);
/* Fills t->asked with the conditions of t->all. */
void trial_note_conditions(struct trial *t);
/* Fills t->truth and t->some: what of t->all applies to the guess as it stands. Counts in t->c->tried. */
void trial_filter(struct trial *t);
/* Empties t->all. */
void trial_clear_rows(struct trial *t);
void trial_free_rows(struct trial *t);

#endif
