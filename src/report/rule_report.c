#include "report/rule_report.h"
#include "base/cell.h"
#include "base/decimal.h"
#include "base/shell.h"
#include "report/json.h"
#include "report/page.h"

#include <string.h>

static void put_row(struct lb_buf *out, const struct lb_rule *rule)
{
    struct lb_buf quantity = {0};
    lb_decimal_print(&quantity, rule->quantity);
    const char *const cells[] = {rule->platform, rule->component, rule->part_type, lb_buf_text(&quantity),
                                 rule->unit,     rule->spec,      rule->missed,    rule->kit};
    lb_buf_printf(out, "%lld", (long long)rule->number);
    for (size_t i = 0; i < sizeof cells / sizeof *cells; i++) {
        lb_buf_putc(out, ',');
        lb_cell_write_text(out, cells[i], ',');
    }
    lb_buf_puts(out, "\r\n");
    out->failed |= quantity.failed;
    lb_buf_free(&quantity);
}

void lb_report_rules_csv(struct lb_buf *out, const struct lb_rules *rules)
{
    lb_buf_puts(out, "rule,platform,component,part_type,quantity,unit,spec,missed,kit\r\n");
    for (size_t i = 0; i < rules->items.count; i++)
        put_row(out, &rules->items.at[i]);
}

static json_t *rule_json(struct lb_maker *m, const struct lb_rule *rule)
{
    json_t *object = lb_maker_object(m);
    lb_maker_set(m, object, "rule", json_integer(rule->number));
    lb_maker_set(m, object, "platform", lb_report_json_text(rule->platform));
    lb_maker_set(m, object, "component", lb_report_json_text(rule->component));
    lb_maker_set(m, object, "part_type", lb_report_json_text(rule->part_type));
    lb_maker_set(m, object, "quantity", lb_report_json_quantity(rule->quantity));
    lb_maker_set(m, object, "unit", lb_report_json_text(rule->unit));
    lb_maker_set(m, object, "spec", lb_report_json_text(rule->spec));
    lb_maker_set(m, object, "missed", lb_report_json_text(rule->missed));
    lb_maker_set(m, object, "kit", lb_report_json_text(rule->kit));
    return object;
}

static json_t *answer(struct lb_maker *m)
{
    json_t *object = lb_maker_object(m);
    lb_maker_set(m, object, "version", json_integer(1));
    return object;
}

json_t *lb_report_rules_json(const struct lb_rules *rules)
{
    struct lb_maker m = {0};
    json_t *object = answer(&m), *items = lb_maker_array(&m);
    for (size_t i = 0; i < rules->items.count; i++)
        lb_maker_add(&m, items, rule_json(&m, &rules->items.at[i]));
    lb_maker_set(&m, object, "rules", items);
    return lb_maker_end(&m, object);
}

json_t *lb_report_rule_dropped_json(const struct lb_rule *rule)
{
    struct lb_maker m = {0};
    json_t *object = answer(&m);
    lb_maker_set(&m, object, "dropped", rule_json(&m, rule));
    return lb_maker_end(&m, object);
}

static json_t *was_json(struct lb_maker *m, const struct lb_rule *was)
{
    if (!was)
        return json_null();
    json_t *object = lb_maker_object(m);
    lb_maker_set(m, object, "quantity", lb_report_json_quantity(was->quantity));
    lb_maker_set(m, object, "unit", lb_report_json_text(was->unit));
    return object;
}

json_t *lb_report_missed_json(const struct lb_missed *missed)
{
    struct lb_maker m = {0};
    json_t *object = answer(&m);
    lb_maker_set(&m, object, "rule", rule_json(&m, &missed->rule));
    lb_maker_set(&m, object, "replaced", was_json(&m, missed->was));
    lb_maker_set(&m, object, "line", missed->line ? json_integer(missed->line) : json_null());
    lb_maker_set(&m, object, "type_known", json_boolean(missed->type_known));
    return lb_maker_end(&m, object);
}

void lb_report_rule_what(struct lb_buf *out, const struct lb_rule *rule)
{
    lb_page_amount(out, rule->quantity, rule->unit);
    lb_buf_printf(out, " %s %s%s%s", strcmp(rule->unit, "each") == 0 ? "×" : "of", rule->part_type,
                  *rule->spec ? " " : "", rule->spec);
}

void lb_report_missed(struct lb_buf *out, const struct lb_missed *missed, const struct lb_style *style)
{
    const struct lb_rule *rule = &missed->rule;
    struct lb_buf words = {0};
    bool other = missed->was &&
                 (missed->was->quantity != rule->quantity || strcmp(missed->was->unit, rule->unit) != 0);
    lb_buf_printf(&words, "Rule %lld of your own%s: ", (long long)rule->number,
                  other         ? ", changed"
                  : missed->was ? ", as before"
                                : "");
    lb_report_rule_what(&words, rule);
    if (other) {
        lb_buf_puts(&words, ", no longer ");
        lb_page_amount(&words, missed->was->quantity, missed->was->unit);
    }
    lb_buf_printf(&words, ". It counts in every kit of %s that loosens or removes %s.", rule->platform,
                  rule->component);
    lb_style_wrap(out, style, LB_PLAIN, 0, LB_PAGE_INDENT, lb_buf_text(&words));
    lb_buf_clear(&words);
    if (missed->line) {
        lb_buf_printf(&words, "In %s it is in line %d. See: lastbolt kit why ", rule->kit, missed->line);
        lb_shell_word(&words, rule->kit);
        lb_buf_printf(&words, " %d", missed->line);
    } else
        lb_buf_printf(&words, "%s does not touch %s, so there it adds nothing.", rule->kit, rule->component);
    lb_style_wrap(out, style, LB_PLAIN, 0, LB_PAGE_INDENT, lb_buf_text(&words));
    lb_buf_clear(&words);
    lb_buf_printf(&words, "To take it back: lastbolt rules drop %lld", (long long)rule->number);
    lb_style_wrap(out, style, LB_DIM, 0, LB_PAGE_INDENT, lb_buf_text(&words));
    out->failed |= words.failed;
    lb_buf_free(&words);
}
