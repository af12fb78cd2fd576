/* The parts that the catalogues hold, by type and spec. */
#include "kit/map_checker.h"

bool check_meets(const char *offered, const struct lb_spec *wanted)
{
    struct lb_spec spec = lb_spec_parse(offered);
    return lb_spec_meets(&spec, wanted);
}

lb_status check_parts_open(struct check_parts *parts, struct checker *c)
{
    *parts = (struct check_parts){.c = c};
    lb_status status = lb_lookup_open(&parts->lookup, c->store, c->err);
    return status
               ? status
               : lb_store_prepare(c->store, &parts->of_type,
                                  "SELECT r.spec" LB_PLACED_AMONG("parts") "WHERE r.part_type = ?2", c->err);
}

lb_status check_parts_each(struct check_parts *parts, const char *part_type, const struct lb_spec *wanted,
                           bool (*visit)(void *context, const struct lb_spec *spec), void *context)
{
    struct lb_error *err = parts->c->err;
    bool row, go_on = true;
    lb_status status = lb_lookup_type(parts->lookup, part_type, wanted, &parts->ids, err);
    if (status)
        return status;
    lb_bind_text(parts->of_type, 1, lb_buf_text(&parts->ids));
    lb_bind_text(parts->of_type, 2, part_type);
    while (go_on && !(status = lb_step(parts->of_type, &row, err)) && row) {
        struct lb_spec spec = lb_spec_parse(lb_text(parts->of_type, 0));
        if (!wanted || lb_spec_meets(&spec, wanted))
            go_on = visit(context, &spec);
    }
    lb_statement_reset(parts->of_type);
    return status;
}

void check_parts_close(struct check_parts *parts)
{
    lb_statement_free(parts->of_type);
    lb_lookup_close(parts->lookup);
    lb_buf_free(&parts->ids);
}
