/* Rules of the owner's own: what had to be fetched in the middle of a job, to be in every later kit that
 * disturbs the component. Kept in this index; no import touches them. Rules that came as a file are rows of a
 * catalogue and not among them (kit/survey_rules.c reads both).
 *
 *     struct lb_rules rules;
 *     status = lb_rules_load(&rules, store, &err);
 *     status = lb_rule_keep(store, &rules, &rule, &was, &err);
 *     status = lb_rule_drop(store, &rules, 3, &err);
 *     lb_rules_free(&rules);
 */
#ifndef LB_GARAGE_RULE_H
#define LB_GARAGE_RULE_H

#include "base/arena.h"
#include "base/vec.h"
#include "store/store.h"

#define LB_RULE_SOURCE "your own rules" /* where its lines say they come from; the line is the number */

enum { LB_RULE_TEXT_MAX = 200 }; /* bytes of a part type, unit or spec */

struct lb_rule {
    int64_t number; /* 1 and up; a number may be given again once the last rule was dropped */
    const char *platform, *component, *part_type; /* folded, as maps and catalogues are kept */
    int64_t quantity;                             /* millionths of `unit`, above 0 */
    const char *unit;                             /* "each", "L", "g" … or a word of the owner's own */
    const char *spec;                             /* "": none stated */
    const char *missed;                           /* the day, ISO 8601 */
    const char *kit;                              /* in which it was missing */
};

struct lb_rules {
    struct lb_arena texts;
    LB_VEC(struct lb_rule) items; /* by number */
};

LB_CHECK lb_status lb_rules_load(struct lb_rules *out, struct lb_store *store, struct lb_error *err);
void lb_rules_free(struct lb_rules *rules);
/* Appends what two rows have in common that state the same rule: all but quantity, day and kit. Specs are the
 * same when all their properties agree. `spec` may be NULL. */
void lb_rule_key(struct lb_buf *out, const char *platform, const char *component, const char *part_type,
                 const char *spec);
/* Writes; sets rule->number. The same rule again replaces quantity, unit, day and kit: *was is the one that
 * stood there, borrowed from `rules`, or NULL. `rules` are those of the store, and stay as they were loaded.
 */
LB_CHECK lb_status lb_rule_keep(struct lb_store *store, const struct lb_rules *rules, struct lb_rule *rule,
                                const struct lb_rule **was, struct lb_error *err);
/* Takes one back; *was is the rule, borrowed from `rules`. LB_DATA: there is none of that number. */
LB_CHECK lb_status lb_rule_drop(struct lb_store *store, const struct lb_rules *rules, int64_t number,
                                const struct lb_rule **was, struct lb_error *err);

#endif
