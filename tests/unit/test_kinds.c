#include "importers/kinds.h"

#include "base/glycol.h"
#include "base/measure.h"

#include <criterion/criterion.h>
#include <string.h>

static const struct lb_column *column(const char *kind, const char *name)
{
    const struct lb_kind *k = lb_kind_find(kind);
    cr_assert_not_null(k, "%s", kind);
    int i = lb_kind_column(k, name);
    cr_assert_geq(i, 0, "%s.%s", kind, name);
    return &k->columns[i];
}

Test(kinds, all_of_the_contract_in_its_order)
{
    static const char *const names[] = {
        "suppliers",     "shipping", "parts",     "offers",      "applications", "crossrefs",
        "supersessions", "contents", "platforms", "components",  "fastenings",   "access",
        "sequence",      "circuits", "opens",     "consumables", "cautions",     "jobs",
        "rates",         "facts",    "pulleys",   "synonyms",    "rules",
    };
    cr_assert_eq(lb_kind_count, (int)(sizeof names / sizeof *names));
    for (int k = 0; k < lb_kind_count; k++) {
        cr_expect_str_eq(lb_kinds[k].name, names[k]);
        cr_expect_eq(lb_kind_find(names[k]), &lb_kinds[k]);
    }
    cr_expect_null(lb_kind_find("prices"));
}

Test(kinds, tables_are_sound)
{
    for (int k = 0; k < lb_kind_count; k++) {
        const struct lb_kind *kind = &lb_kinds[k];
        int keys = 0;
        cr_expect_leq(kind->column_count, LB_KIND_COLUMNS_MAX);
        for (int i = 0; i < kind->column_count; i++) {
            const struct lb_column *c = &kind->columns[i];
            cr_assert_not_null(c->name, "%s column %d", kind->name, i);
            cr_expect_eq(lb_kind_column(kind, c->name), i, "%s.%s twice", kind->name, c->name);
            cr_expect_eq(c->type == LB_CELL_CHOICE, c->choices != NULL, "%s.%s", kind->name, c->name);
            cr_expect(!(c->required && c->fallback), "%s.%s", kind->name, c->name);
            if (c->type == LB_CELL_MONEY)
                cr_expect_geq(lb_kind_column(kind, "currency"), 0, "%s.%s", kind->name, c->name);
            keys += c->key;
        }
        cr_expect_gt(keys, 0, "%s", kind->name);
        cr_expect_eq(lb_kind_column(kind, "no such"), -1);
    }
}

Test(kinds, what_an_empty_cell_means)
{
    static const char *const stated[][3] = {
        {"parts", "unit", "each"},          {"parts", "status", "current"},
        {"offers", "pack_quantity", "1"},   {"offers", "minimum_packs", "1"},
        {"components", "quantity", "1"},    {"components", "steps", "remove fit"},
        {"supersessions", "quantity", "1"}, {"contents", "quantity", "1"},
        {"opens", "at", "removed"},         {"jobs", "action", "renew"},
    };
    static const char *const open[][2] = {
        {"applications", "quantity"}, {"offers", "stock"}, {"fastenings", "at"},
        {"consumables", "at"},        {"access", "to"},
    };
    for (size_t i = 0; i < sizeof stated / sizeof *stated; i++)
        cr_expect_str_eq(column(stated[i][0], stated[i][1])->fallback, stated[i][2]);
    for (size_t i = 0; i < sizeof open / sizeof *open; i++)
        cr_expect_null(column(open[i][0], open[i][1])->fallback);
}

Test(kinds, dimensions)
{
    cr_expect_eq(column("components", "wear_km")->dimension, LB_DISTANCE);
    cr_expect_eq(column("fastenings", "torque")->dimension, LB_TORQUE);
    cr_expect_eq(column("fastenings", "angle")->dimension, LB_ANGLE);
    cr_expect_eq(column("circuits", "capacity")->dimension, LB_VOLUME);
    cr_expect_eq(column("circuits", "freeze_to")->dimension, LB_TEMPERATURE);
    cr_expect_eq(column("pulleys", "x")->dimension, LB_LENGTH);
}

Test(kinds, three_share_a_file)
{
    for (int k = 0; k < lb_kind_count; k++) {
        const char *name = lb_kinds[k].name;
        cr_expect_eq(lb_kinds[k].shares,
                     !strcmp(name, "parts") || !strcmp(name, "offers") || !strcmp(name, "applications"));
    }
}

static void set_text(const struct lb_kind *kind, struct lb_value *values, const char *name, const char *text)
{
    values[lb_kind_column(kind, name)] = (struct lb_value){.type = LB_VALUE_TEXT, .text = text};
}

Test(kinds, a_job_names_one_target)
{
    const struct lb_kind *jobs = lb_kind_find("jobs");
    struct lb_value values[LB_KIND_COLUMNS_MAX] = {0};
    int at = -1;
    cr_expect_not_null(jobs->check(values, &at));
    cr_expect_eq(at, lb_kind_column(jobs, "component"));
    set_text(jobs, values, "circuit", "coolant");
    cr_expect_null(jobs->check(values, &at));
    set_text(jobs, values, "component", "water-pump");
    cr_expect_not_null(jobs->check(values, &at));
    cr_expect_eq(at, lb_kind_column(jobs, "circuit"));
}

Test(kinds, mixtures_within_reason)
{
    const struct lb_kind *circuits = lb_kind_find("circuits");
    struct lb_value values[LB_KIND_COLUMNS_MAX] = {0};
    struct lb_value *mix = &values[lb_kind_column(circuits, "mix_percent")];
    struct lb_value *freeze = &values[lb_kind_column(circuits, "freeze_to")];
    int at = -1;
    *mix = (struct lb_value){.type = LB_VALUE_INTEGER, .integer = 100000000};
    cr_expect_null(circuits->check(values, &at));
    mix->integer++;
    cr_expect_not_null(circuits->check(values, &at));
    *mix = (struct lb_value){0};
    *freeze = (struct lb_value){.type = LB_VALUE_INTEGER, .integer = LB_GLYCOL_COLDEST};
    cr_expect_null(circuits->check(values, &at));
    freeze->integer--;
    cr_expect_not_null(circuits->check(values, &at));
    cr_expect_eq(at, lb_kind_column(circuits, "freeze_to"));
}

Test(kinds, built_runs_forward)
{
    static const char *const kinds[] = {"applications", "platforms"};
    for (int k = 0; k < 2; k++) {
        const struct lb_kind *kind = lb_kind_find(kinds[k]);
        struct lb_value values[LB_KIND_COLUMNS_MAX] = {0};
        int at = -1;
        set_text(kind, values, "built_from", "2004-03");
        cr_expect_null(kind->check(values, &at));
        set_text(kind, values, "built_to", "2004");
        cr_expect_null(kind->check(values, &at));
        set_text(kind, values, "built_to", "2003-12");
        cr_expect_not_null(kind->check(values, &at));
        cr_expect_eq(at, lb_kind_column(kind, "built_to"));
    }
}
