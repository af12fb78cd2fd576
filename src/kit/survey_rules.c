/* What had to be fetched in the middle of a job on this platform: the owner's own rules, then those that came
 * as files, each rule once. They are rows like consumables, of every state of their component. Names are not
 * learnt from them: a rule for a component that the map does not know does nothing. */
#include "garage/rule.h"
#include "kit/surveyor.h"

enum { COMPONENT = ROW_OWN, PART_TYPE, QUANTITY, UNIT, SPEC, MISSED, KIT, OWN };

/* The rule is not met yet; an own one counts whatever the condition of a copy is, since it has none itself.
 */
static lb_status note_rule(struct surveyor *s, struct lb_statement *st, bool *first)
{
    struct lb_buf key = {0};
    uint32_t id;
    lb_rule_key(&key, s->survey.platform, lb_text(st, COMPONENT), lb_text(st, PART_TYPE), lb_text(st, SPEC));
    *first = lb_names_find(&s->rules, lb_buf_text(&key)) == LB_NO_NAME;
    if (*first && lb_text(st, ROW_WHEN)) {
        lb_buf_printf(&key, "\x1f%s", lb_text(st, ROW_WHEN));
        *first = lb_names_find(&s->rules, lb_buf_text(&key)) == LB_NO_NAME;
    }
    lb_status status = key.failed || (*first && !lb_names_add(&s->rules, lb_buf_text(&key), &id))
                           ? lb_fail_nomem(s->err)
                           : LB_OK;
    lb_buf_free(&key);
    return status;
}

static lb_status read_rule(struct surveyor *s, struct lb_statement *st)
{
    struct lb_map_consumable row = {.at = LB_LOOSENED, .missed = true, .own = lb_integer(st, OWN) != 0};
    bool applies, first = false;
    lb_status status = lb_need_texts(st, COMPONENT, 2, s->err);
    if (!status)
        row.component = lb_names_find(&s->components, lb_text(st, COMPONENT));
    if (status || row.component == LB_NO_NAME || (status = note_rule(s, st, &first)) || !first)
        return status;
    status = survey_row(s, st, -1, &applies, &row.row);
    if (status || !applies)
        return status;
    status = survey_article(s, lb_text(st, PART_TYPE), lb_text(st, SPEC), lb_integer(st, QUANTITY),
                            lb_text(st, UNIT), &row.article);
    if (!status)
        status = survey_text(s, lb_text(st, MISSED), &row.missed_on);
    if (!status)
        status = survey_text(s, lb_text(st, KIT), &row.missed_in);
    if (!status && !row.missed_on)
        status = survey_text(s, "", &row.missed_on);
    if (!status && !LB_PUSH(&s->consumables, row))
        status = lb_fail_nomem(s->err);
    return status;
}

lb_status survey_rules(struct surveyor *s)
{
#define RULE "r.component, r.part_type, r.quantity, r.unit, r.spec, r.missed, r.kit, "
    lb_status status = survey_rows(s,
                                   "SELECT '" LB_RULE_SOURCE "', r.id, NULL, " RULE
                                   "1 FROM rule r WHERE r.platform = ?1 ORDER BY r.id",
                                   s->survey.platform, read_rule);
    return status ? status
                  : survey_rows(s,
                                "SELECT " ROW_COLUMNS ", " RULE
                                "0" LB_PLACED("rules") "WHERE r.platform = ?1" LB_IN_ORDER,
                                s->survey.platform, read_rule);
#undef RULE
}
