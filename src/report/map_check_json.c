#include "report/json.h"
#include "report/map_check_report.h"

static json_t *finding_json(struct lb_maker *maker, const struct lb_finding *finding)
{
    json_t *object = lb_maker_object(maker);
    lb_maker_set(maker, object, "code", lb_report_json_text(finding->code));
    lb_maker_set(maker, object, "severity", lb_report_json_text(lb_severity_name(finding->severity)));
    lb_maker_set(maker, object, "file", lb_report_json_text(finding->file));
    lb_maker_set(maker, object, "line", json_integer(finding->line));
    lb_maker_set(maker, object, "message", lb_report_json_text(finding->message));
    return object;
}

json_t *lb_report_map_check_json(const struct lb_map_report *report)
{
    struct lb_maker maker = {0};
    json_t *object = lb_maker_object(&maker), *findings = lb_maker_array(&maker);
    lb_maker_set(&maker, object, "version", json_integer(1));
    lb_maker_set(&maker, object, "platform", lb_report_json_text(report->platform));
    lb_maker_set(&maker, object, "rows", json_integer((json_int_t)report->row_count));
    lb_maker_set(&maker, object, "errors", json_integer((json_int_t)report->counts[LB_ERROR]));
    lb_maker_set(&maker, object, "warnings", json_integer((json_int_t)report->counts[LB_WARNING]));
    lb_maker_set(&maker, object, "notes", json_integer((json_int_t)report->counts[LB_NOTE]));
    for (size_t i = 0; i < report->finding_count; i++)
        lb_maker_add(&maker, findings, finding_json(&maker, &report->findings[i]));
    lb_maker_set(&maker, object, "findings", findings);
    return lb_maker_end(&maker, object);
}
