#include "importers/kinds.h"

#include "base/date.h"
#include "importers/kinds_tables.h"

#include <string.h>

const struct lb_kind lb_kinds[] = {
    {.name = "suppliers", LB_COLUMNS(lb_suppliers_columns)},
    {.name = "shipping", LB_COLUMNS(lb_shipping_columns)},
    {.name = "parts", LB_COLUMNS(lb_parts_columns), .shares = true},
    {.name = "offers", LB_COLUMNS(lb_offers_columns), .shares = true},
    {.name = "applications",
     LB_COLUMNS(lb_applications_columns),
     .shares = true,
     .check = lb_applications_check},
    {.name = "crossrefs", LB_COLUMNS(lb_crossrefs_columns)},
    {.name = "supersessions", LB_COLUMNS(lb_supersessions_columns)},
    {.name = "contents", LB_COLUMNS(lb_contents_columns)},
    {.name = "platforms", LB_COLUMNS(lb_platforms_columns), .check = lb_platforms_check},
    {.name = "components", LB_COLUMNS(lb_components_columns)},
    {.name = "fastenings", LB_COLUMNS(lb_fastenings_columns)},
    {.name = "access", LB_COLUMNS(lb_access_columns)},
    {.name = "sequence", LB_COLUMNS(lb_sequence_columns)},
    {.name = "circuits", LB_COLUMNS(lb_circuits_columns), .check = lb_circuits_check},
    {.name = "opens", LB_COLUMNS(lb_opens_columns)},
    {.name = "consumables", LB_COLUMNS(lb_consumables_columns)},
    {.name = "cautions", LB_COLUMNS(lb_cautions_columns)},
    {.name = "jobs", LB_COLUMNS(lb_jobs_columns), .check = lb_jobs_check},
    {.name = "rates", LB_COLUMNS(lb_rates_columns)},
    {.name = "facts", LB_COLUMNS(lb_facts_columns)},
    {.name = "pulleys", LB_COLUMNS(lb_pulleys_columns)},
    {.name = "synonyms", LB_COLUMNS(lb_synonyms_columns), .check = lb_synonyms_check},
    {.name = "rules", LB_COLUMNS(lb_rules_columns), .ours = true},
};

const int lb_kind_count = (int)(sizeof lb_kinds / sizeof *lb_kinds);

const struct lb_kind *lb_kind_find(const char *name)
{
    for (int i = 0; i < lb_kind_count; i++)
        if (strcmp(lb_kinds[i].name, name) == 0)
            return &lb_kinds[i];
    return NULL;
}

int lb_kind_column(const struct lb_kind *kind, const char *name)
{
    for (int i = 0; i < kind->column_count; i++)
        if (strcmp(kind->columns[i].name, name) == 0)
            return i;
    return -1;
}

bool lb_column_is_number(const struct lb_column *column)
{
    switch (column->type) {
    case LB_CELL_QUANTITY:
    case LB_CELL_NUMBER:
    case LB_CELL_COUNT:
    case LB_CELL_MONEY:
    case LB_CELL_AMOUNT:
    case LB_CELL_RATE:
    case LB_CELL_MEASURE:
    case LB_CELL_SHARE:
        return true;
    default:
        return false;
    }
}

const char *lb_built_check(const struct lb_value *values, int from, int to, int *column)
{
    if (values[from].type != LB_VALUE_TEXT || values[to].type != LB_VALUE_TEXT)
        return NULL;
    struct lb_interval first, last;
    if (lb_date_parse(values[from].text, &first) || lb_date_parse(values[to].text, &last))
        return NULL; /* the cells' own fault, said where they are converted */
    if (first.first <= last.last)
        return NULL;
    *column = to;
    return "built_to lies before built_from";
}
