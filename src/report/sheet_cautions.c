/* The catalogue's own cautions and the usual ones that the teardown calls for. The catalogue's come first:
 * they are about this vehicle. */
#include "report/sheet_page.h"

#include "base/text.h"
#include "plan/hazards.h"

/* A catalogue may say word for word what we say. */
static bool is_said(const struct lb_plan *plan, const char *text)
{
    for (size_t i = 0; i < plan->caution_count; i++)
        if (lb_text_same_words(plan->cautions[i], text))
            return true;
    return false;
}

static void put_usual(struct sheet *sheet)
{
    struct lb_html *html = &sheet->html;
    uint32_t hazards = lb_hazards(sheet->plan);
    if (!hazards)
        return;
    lb_html_element(html, "h3", NULL, "Usual in this kind of work");
    lb_html_open_class(html, "ul", "cautions");
    for (int h = 0; h < LB_HAZARD_COUNT; h++) {
        if (!(hazards & 1U << h) || is_said(sheet->plan, lb_hazard_text((enum lb_hazard)h)))
            continue;
        lb_html_open(html, "li");
        lb_html_open(html, "strong");
        lb_html_textf(html, "%s.", lb_hazard_title((enum lb_hazard)h));
        lb_html_close(html);
        lb_html_textf(html, " %s", lb_hazard_text((enum lb_hazard)h));
        lb_html_close(html);
    }
    lb_html_close(html);
}

void sheet_cautions(struct sheet *sheet)
{
    struct lb_html *html = &sheet->html;
    sheet_section(sheet, "cautions", "Cautions");
    lb_html_element(html, "p", "decide",
                    "Catalogue values: the maker's manual, local codes and licensed practice decide.");
    if (sheet->plan->caution_count) {
        lb_html_element(html, "h3", NULL, "For this vehicle, by its service map");
        lb_html_open_class(html, "ul", "cautions");
        for (size_t i = 0; i < sheet->plan->caution_count; i++)
            lb_html_element(html, "li", NULL, sheet->plan->cautions[i]);
        lb_html_close(html);
    }
    put_usual(sheet);
    lb_html_close(html);
}
