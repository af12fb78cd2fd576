/* What is wrong with a service map, for whoever writes it: names that nothing describes, rows that contradict
 * each other, steps that never come, torques past what the bolt bears, parts that no catalogue has. Nothing
 * is corrected. Not a judge of single cells: those are refused at import.
 *
 *     struct lb_map_report *report;
 *     status = lb_map_check(&report, store, "velmora-t2", &err);     // LB_DATA: no such platform
 *     for (size_t i = 0; i < report->finding_count; i++) puts(report->findings[i].message);
 *     lb_map_report_free(report);
 *
 * How the order of work is checked: each job is planned alone, and the components that no job takes all the
 * way off together (each alone when that fails). Of at most 64 kinds of vehicle that a job's rows tell apart,
 * each is tried. Of more, all rows are first taken to hold; a contradiction is then followed into the facts
 * that its rows hang on, and told only when some vehicle has it. Rows that contradict each other only because
 * others are left out are then not found. Four contradictions of one job are told; the others show once those
 * are mended.
 *
 * How belts are checked: for every kind of vehicle that a belt's rows tell apart, its run is worked out as it
 * is drawn (plan/belt_map.h); one that cannot be is `belt-run`, where its pulleys stand. A run that can be is
 * held against what the belt's row asks for: the length in its spec, else those of all parts of its type that
 * meet it. None of them within what the tensioner takes up is `belt-length`. Where no tensioner is stated, or
 * neither row nor parts have a length, nothing can be said, nor where two pulleys have one place
 * (`repeated`). A vehicle to which no row of the belt's component applies has no such belt. */
#ifndef LB_KIT_MAP_CHECK_H
#define LB_KIT_MAP_CHECK_H

#include "store/store.h"

/* error: a kit cannot be right. warning: a kit has gaps or says less than it could. */
enum lb_severity { LB_ERROR, LB_WARNING, LB_NOTE };

/*  error    no-platform unknown-component unknown-circuit never-true never-filled no-diluent joint-differs
 *           access-loop contradiction needs-itself before-itself belt-run
 *  warning  unreached dead-step never-built unlisted-value duplicate share-zero mixed-twice no-torque
 *           torque-high no-part not-supplied no-where belt-length
 *  note     no-jobs repeated no-part (of what no kit buys) not-finished */
struct lb_finding {
    const char *code;
    enum lb_severity severity;
    const char *file;
    uint32_t line;
    const char *message; /* what is wrong, and what to do */
};

struct lb_map_report {
    const char *platform;
    const struct lb_finding *findings; /* by severity, file, line, code, message */
    size_t finding_count;
    size_t counts[LB_NOTE + 1]; /* by severity */
    size_t row_count;           /* rows that were looked at */
};

LB_CHECK lb_status lb_map_check(struct lb_map_report **out, struct lb_store *store, const char *platform,
                                struct lb_error *err);
void lb_map_report_free(struct lb_map_report *report);
/* "error", "warning", "note". */
const char *lb_severity_name(enum lb_severity severity);

#endif
