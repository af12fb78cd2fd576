/* What the steps of one survey share. Private to kit/survey*.c. */
#ifndef LB_KIT_SURVEYOR_H
#define LB_KIT_SURVEYOR_H

#include "base/arena.h"
#include "base/names.h"
#include "catalog/spans.h"
#include "garage/outcomes.h"
#include "kit/survey.h"

struct surveyor {
    struct lb_survey survey; /* first: what is handed out */
    struct lb_arena arena;
    struct lb_store *store;
    const struct lb_vehicle *vehicle;
    struct lb_facts facts;
    struct lb_error *err;
    struct lb_names components, circuits, fact_names, joints, sources, texts, conditions;
    struct lb_names rules; /* the owner's rules that were met, by lb_rule_key and condition */
    LB_VEC(struct lb_cells) condition_cells; /* by number of the condition */
    LB_VEC(uint32_t) doubts;                 /* of the row being read */
    LB_VEC(struct lb_turn) turns;            /* and what they turn on */
    bool doubts_failed;
    LB_VEC(struct lb_map_component) component_rows;
    LB_VEC(struct lb_map_fastening) fastenings;
    LB_VEC(struct lb_map_access) access;
    LB_VEC(struct lb_map_sequence) sequences;
    LB_VEC(struct lb_map_circuit) circuit_rows;
    LB_VEC(struct lb_map_opens) opens;
    LB_VEC(struct lb_map_consumable) consumables;
    LB_VEC(struct lb_map_caution) cautions;
    LB_VEC(struct lb_map_pulley) pulleys;
    LB_VEC(struct lb_target) targets;
    void *reader; /* of survey_all: whose rows are read besides */
};

/* Every query begins with these columns; a row's own begin at ROW_OWN. */
#define ROW_COLUMNS "s.name, " LB_PLACE_LINE ", r.\"when\""
enum { ROW_SOURCE, ROW_LINE, ROW_WHEN, ROW_OWN };

/* Reads every row of `sql` whose only parameter is `parameter`. */
LB_CHECK lb_status survey_rows(struct surveyor *s, const char *sql, const char *parameter,
                               lb_status (*row)(struct surveyor *, struct lb_statement *));
/* Asks the row's condition (and build dates in two columns, -1: none): *applies false when it plays no part.
 */
LB_CHECK lb_status survey_row(struct surveyor *s, struct lb_statement *st, int built_from, bool *applies,
                              struct lb_row *row);
/* A text that lives as long as the survey; equal texts are one. NULL stays NULL with LB_OK. */
LB_CHECK lb_status survey_text(struct surveyor *s, const char *text, const char **out);
LB_CHECK lb_status survey_name(struct surveyor *s, struct lb_names *names, const char *name, uint32_t *id);
/* `quantity` of `unit` as an article of that type and spec, in base units. */
LB_CHECK lb_status survey_article(struct surveyor *s, const char *part_type, const char *spec,
                                  int64_t quantity, const char *unit, struct lb_article *out);
enum lb_level survey_level(const char *text, enum lb_level otherwise);

/* survey_outcomes.c: takes the conditions apart, once all rows are read. */
LB_CHECK lb_status survey_outcomes(struct surveyor *s);
/* All rows of a platform, as of a vehicle of which nothing is known: those with a condition are in doubt.
 * `reader` is for the functions that read further rows; survey_hand_out then fills s->survey. */
LB_CHECK lb_status survey_all(struct surveyor **out, struct lb_store *store, const char *platform,
                              void *reader, struct lb_error *err);
void survey_hand_out(struct surveyor *s);

/* survey_map.c: all rows of the platform; survey_rules.c: what owners missed on it. survey_target.c: the
 * platform, and what is asked for. */
LB_CHECK lb_status survey_map(struct surveyor *s);
LB_CHECK lb_status survey_rules(struct surveyor *s);
LB_CHECK lb_status survey_platform(struct surveyor *s);
LB_CHECK lb_status survey_targets(struct surveyor *s, const struct lb_want *wants, size_t count);

#endif
