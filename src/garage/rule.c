#include "garage/rule.h"
#include "base/spec.h"

#include <stdlib.h>
#include <string.h>

static lb_status read_rule(struct lb_rules *out, struct lb_statement *st, struct lb_error *err)
{
    struct lb_rule rule = {.number = lb_integer(st, 0), .quantity = lb_integer(st, 1)};
    const char **const texts[] = {&rule.platform, &rule.component, &rule.part_type, &rule.unit,
                                  &rule.spec,     &rule.missed,    &rule.kit};
    const int count = sizeof texts / sizeof *texts;
    lb_status status = lb_need_texts(st, 2, count, err);
    for (int i = 0; !status && i < count; i++)
        status = lb_keep_text(st, i + 2, &out->texts, texts[i], err);
    if (!status && !LB_PUSH(&out->items, rule))
        status = lb_fail_nomem(err);
    return status;
}

lb_status lb_rules_load(struct lb_rules *out, struct lb_store *store, struct lb_error *err)
{
    struct lb_statement *st;
    bool row;
    *out = (struct lb_rules){0};
    lb_status status = lb_store_prepare(store, &st,
                                        "SELECT id, quantity, platform, component, part_type, unit, spec, "
                                        "missed, kit FROM rule ORDER BY id",
                                        err);
    if (status)
        return status;
    while (!(status = lb_step(st, &row, err)) && row)
        if ((status = read_rule(out, st, err)))
            break;
    lb_statement_free(st);
    if (status)
        lb_rules_free(out);
    return status;
}

void lb_rules_free(struct lb_rules *rules)
{
    free(rules->items.at);
    lb_arena_free(&rules->texts);
    *rules = (struct lb_rules){0};
}

void lb_rule_key(struct lb_buf *out, const char *platform, const char *component, const char *part_type,
                 const char *spec)
{
    struct lb_spec parsed = lb_spec_parse(spec);
    lb_buf_printf(out, "%s\x1f%s\x1f%s\x1f", platform, component, part_type);
    lb_spec_key(out, &parsed);
}

static lb_status find_same(const struct lb_rules *rules, const struct lb_rule *rule,
                           const struct lb_rule **found, struct lb_error *err)
{
    *found = NULL;
    struct lb_buf wanted = {0}, key = {0};
    lb_rule_key(&wanted, rule->platform, rule->component, rule->part_type, rule->spec);
    for (size_t i = 0; !*found && i < rules->items.count; i++) {
        const struct lb_rule *other = &rules->items.at[i];
        lb_buf_clear(&key);
        lb_rule_key(&key, other->platform, other->component, other->part_type, other->spec);
        if (strcmp(lb_buf_text(&key), lb_buf_text(&wanted)) == 0)
            *found = other;
    }
    lb_status status = wanted.failed || key.failed ? lb_fail_nomem(err) : LB_OK;
    lb_buf_free(&wanted);
    lb_buf_free(&key);
    return status;
}

static lb_status write_rule(struct lb_store *store, struct lb_rule *rule, struct lb_error *err)
{
    struct lb_statement *st;
    const char *const texts[] = {rule->platform, rule->component, rule->part_type, rule->unit,
                                 rule->spec,     rule->missed,    rule->kit};
    lb_status status = lb_store_prepare(
        store, &st,
        "INSERT INTO rule (id, quantity, platform, component, part_type, unit, spec, missed, kit) VALUES "
        "(?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9) ON CONFLICT (id) DO UPDATE SET quantity = ?2, unit = ?6, "
        "spec = ?7, missed = ?8, kit = ?9",
        err);
    if (status)
        return status;
    if (rule->number)
        lb_bind_integer(st, 1, rule->number);
    else
        lb_bind_null(st, 1);
    lb_bind_integer(st, 2, rule->quantity);
    for (int i = 0; i < (int)(sizeof texts / sizeof *texts); i++)
        lb_bind_text(st, i + 3, texts[i]);
    status = lb_run(st, err);
    lb_statement_free(st);
    if (!status && !rule->number)
        rule->number = lb_store_last_id(store);
    return status;
}

lb_status lb_rule_keep(struct lb_store *store, const struct lb_rules *rules, struct lb_rule *rule,
                       const struct lb_rule **was, struct lb_error *err)
{
    lb_status status = find_same(rules, rule, was, err);
    rule->number = *was ? (*was)->number : 0;
    return status ? status : write_rule(store, rule, err);
}

lb_status lb_rule_drop(struct lb_store *store, const struct lb_rules *rules, int64_t number,
                       const struct lb_rule **was, struct lb_error *err)
{
    *was = NULL;
    for (size_t i = 0; i < rules->items.count; i++)
        if (rules->items.at[i].number == number)
            *was = &rules->items.at[i];
    if (*was)
        return lb_store_run_for(store, "DELETE FROM rule WHERE id = ?1", number, err);
    return lb_fail(err, LB_DATA,
                   rules->items.count ? "there is no rule %lld of yours. See: lastbolt rules"
                                      : "there is no rule %lld; you have none of your own yet.",
                   (long long)number);
}
