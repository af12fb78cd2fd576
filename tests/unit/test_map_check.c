/* The lint of a service map: an invented map that is right, then one fault after the other, each with a twin
 * that is nearly the same and no fault. */
#include "fitting_help.h"
#include "scratch.h"

#include "base/buf.h"
#include "catalog/lookup.h"
#include "kit/map_check.h"
#include "report/map_check_report.h"

static struct lb_error err;

struct file {
    const char *name, *heading, *rows;
};

/* Nothing to find fault with. */
static const struct file right[] = {
    {"platforms.csv", "platform,make,model,built_from,built_to,when", "m1,Orrin,Wren,2000,2005,\n"},
    {"facts.csv", "key,where_to_look,values,platform",
     "built,the plate,,\nengine,the block,a|b,m1\nac,the button,,m1\n"},
    {"components.csv", "platform,component,part_type,spec,position,when,wear_km,steps",
     "m1,pump,water-pump,,,,,\nm1,belt,drive-belt,6PK1200,,,,\nm1,cover,belt-cover,,,,,open close\n"
     "m1,filter,oil-filter,,,,10000,\n"},
    {"fastenings.csv", "platform,component,item,kind,part_type,quantity,reuse,spec,joint,torque,angle,when",
     "m1,pump,pump bolts,bolt,flange-bolt,4,never,M6x1.0x20 8.8,,10,,\n"
     "m1,cover,cover clips,clip,push-pin,2,always,,,,,\n"
     "m1,pump,pump gasket,gasket,pump-gasket,1,never,,,,,\n"},
    {"access.csv", "platform,component,needs,state,to,when",
     "m1,pump,belt,removed,,\nm1,belt,cover,removed,,\n"},
    {"sequence.csv", "platform,first,then,when",
     "m1,loosen pump,remove belt,\nm1,open cover,drain coolant,\n"},
    {"circuits.csv", "platform,circuit,capacity,fluid_type,mix_percent,freeze_to,diluent_type,when",
     "m1,coolant,6,coolant-concentrate,50,,distilled-water,engine = a\n"
     "m1,coolant,7,coolant-concentrate,,-30,distilled-water,engine = b\n"},
    {"opens.csv", "platform,component,circuit,share_percent,at,when", "m1,pump,coolant,80,,\n"},
    {"consumables.csv", "platform,component,part_type,quantity,unit,when", "m1,pump,grease,10,g,\n"},
    {"cautions.csv", "platform,component,text,when", "m1,pump,Hot.,\nm1,coolant,Poison.,\n"},
    {"jobs.csv", "platform,job,component,circuit,action,when",
     "m1,pump,pump,,renew,\nm1,flush,,coolant,renew,\n"},
    {"pulleys.csv", "platform,belt,order,component,x,y,diameter,side,slack_mm,when",
     "m1,belt,1,pump,0,0,100,ribs,,\nm1,belt,2,filter,440,0,100,ribs,8,\n"},
    {"parts.csv", "brand,part_number,part_type,spec",
     "Orrin,1,water-pump,\nOrrin,2,drive-belt,6PK1200\nOrrin,3,belt-cover,\nOrrin,4,oil-filter,\n"
     "Orrin,5,flange-bolt,M6x1.0x20 8.8\nOrrin,6,push-pin,\nOrrin,7,coolant-concentrate,\n"
     "Orrin,8,distilled-water,\nOrrin,9,grease,\n"},
    {"contents.csv", "brand,part_number,item_type,item_spec,item_number", "Orrin,1,pump-gasket,,\n"},
};

enum { FILES = sizeof right / sizeof *right, CHANGES = 3 };

/* Rows that are added to a file; with `instead`, that take the place of its own. */
struct change {
    const char *file, *rows;
    bool instead;
};

static void write_file(struct scratch *s, const struct file *file, const struct change *changes)
{
    struct lb_buf text = {0};
    const char *own = file->rows;
    for (int i = 0; i < CHANGES; i++)
        if (changes[i].file && changes[i].instead && strcmp(changes[i].file, file->name) == 0)
            own = "";
    lb_buf_printf(&text, "%s\n%s", file->heading, own);
    for (int i = 0; i < CHANGES; i++)
        if (changes[i].file && strcmp(changes[i].file, file->name) == 0)
            lb_buf_puts(&text, changes[i].rows);
    cr_assert(!text.failed);
    if (strchr(text.text, '\n')[1])
        scratch_write(s, file->name, text.text, text.length);
    lb_buf_free(&text);
}

struct checked {
    struct scratch s;
    struct lb_store *store;
    struct lb_map_report *report;
};

static struct checked check_with(const struct change *changes)
{
    struct checked x = {.s = scratch_make()};
    cr_assert_eq(lb_store_open(&x.store, scratch_path(&x.s, "i.db"), LB_STORE_WRITE, &err), LB_OK);
    cr_assert_eq(lb_lookup_ready(x.store, &err), LB_OK);
    for (size_t i = 0; i < FILES; i++)
        write_file(&x.s, &right[i], changes);
    fitting_import(x.store, x.s.folder);
    cr_assert_eq(lb_map_check(&x.report, x.store, "M1", &err), LB_OK, "%s", lb_error_text(&err));
    return x;
}

static void done(struct checked *x)
{
    lb_map_report_free(x->report);
    lb_store_close(x->store);
    scratch_remove(&x->s);
    lb_error_free(&err);
}

static const struct lb_finding *find(const struct checked *x, const char *code)
{
    for (size_t i = 0; i < x->report->finding_count; i++)
        if (strcmp(x->report->findings[i].code, code) == 0)
            return &x->report->findings[i];
    return NULL;
}

static void show(const struct checked *x, const char *what)
{
    for (size_t i = 0; i < x->report->finding_count; i++) {
        const struct lb_finding *f = &x->report->findings[i];
        fprintf(stderr, "%s: %s:%u %s: %s\n", what, f->file, f->line, f->code, f->message);
    }
}

static const struct change none[CHANGES] = {0};

Test(map_check, a_map_that_is_right)
{
    struct checked x = check_with(none);
    show(&x, "right");
    cr_expect_eq(x.report->finding_count, 0);
    cr_expect_eq(x.report->row_count, 22);
    cr_expect_str_eq(x.report->platform, "m1");
    struct lb_buf out = {0};
    const struct lb_style style = {.width = 80};
    lb_report_map_check(&out, x.report, &style);
    cr_expect_str_eq(lb_buf_text(&out), "m1: 22 rows, nothing to find fault with\n");
    lb_buf_free(&out);
    done(&x);
}

struct fault {
    const char *code;
    enum lb_severity severity;
    struct change faulty[CHANGES], twin[CHANGES];
    const char *file; /* where it stands */
    uint32_t line;
    const char *says; /* a piece of the message */
};

static const struct fault faults[] = {
    {"no-platform", LB_ERROR, {{"platforms.csv", "", true}}, {{0}}, "components.csv", 2, "no platforms row"},
    {"unknown-component",
     LB_ERROR,
     {{"fastenings.csv", "m1,pumpp,x,clip,push-pin,1,always,,,,,\n", false}},
     {{"fastenings.csv", "m1,pump,x,clip,push-pin,1,always,,,,,\n", false}},
     "fastenings.csv",
     5,
     "no components row describes \"pumpp\". Did you mean \"pump\"?"},
    {"unknown-component",
     LB_ERROR,
     {{"access.csv", "m1,pump,hood,removed,,\nm1,belt,hood,aside,,\n", false}},
     {{"access.csv", "m1,pump,filter,removed,,\nm1,belt,filter,aside,,\n", false}},
     "access.csv",
     4,
     "\"hood\", which 2 rows of access name"},
    {"unknown-component",
     LB_ERROR,
     {{"access.csv", "m1,colant,belt,removed,,\n", false}},
     {{"access.csv", "m1,coolant,belt,removed,,\n", false}},
     "access.csv",
     4,
     "no components or circuits row describes \"colant\". Did you mean \"coolant\"?"},
    {"unknown-component",
     LB_ERROR,
     {{"opens.csv", "m1,hose,coolant,5,,\n", false}},
     {{"opens.csv", "m1,belt,coolant,5,,\n", false}},
     "opens.csv",
     3,
     "\"hose\""},
    {"unknown-component",
     LB_ERROR,
     {{"consumables.csv", "m1,hose,grease,1,g,\n", false}},
     {{"consumables.csv", "m1,belt,grease,1,g,\n", false}},
     "consumables.csv",
     3,
     "\"hose\""},
    {"unknown-component",
     LB_ERROR,
     {{"cautions.csv", "m1,hose,Hot.,\n", false}},
     {{"cautions.csv", "m1,belt,Hot.,\n", false}},
     "cautions.csv",
     4,
     "\"hose\""},
    {"unknown-component",
     LB_ERROR,
     {{"sequence.csv", "m1,remove hose,remove belt,\n", false}},
     {{"sequence.csv", "m1,remove filter,remove belt,\n", false}},
     "sequence.csv",
     4,
     "\"hose\""},
    {"unknown-component",
     LB_ERROR,
     {{"jobs.csv", "m1,hoses,hose,,,\n", false}},
     {{"jobs.csv", "m1,hoses,belt,,,\n", false}},
     "jobs.csv",
     4,
     "\"hose\""},
    {"unknown-component",
     LB_ERROR,
     {{"pulleys.csv", "m1,belt,3,crank,200,300,100,ribs,,\n", false}},
     {{"pulleys.csv", "m1,belt,3,cover,200,300,100,ribs,,\n", false}},
     "pulleys.csv",
     4,
     "\"crank\""},
    {"unknown-component",
     LB_ERROR,
     {{"pulleys.csv", "m1,other-belt,1,pump,0,0,100,ribs,,\n", false}},
     {{"pulleys.csv", "m1,belt,3,pump,200,300,100,ribs,,\n", false}},
     "pulleys.csv",
     4,
     "\"other-belt\""},
    {"unknown-circuit",
     LB_ERROR,
     {{"opens.csv", "m1,belt,colant,5,,\n", false}},
     {{"opens.csv", "m1,belt,coolant,5,,\n", false}},
     "opens.csv",
     3,
     "no circuits row describes \"colant\". Did you mean \"coolant\"?"},
    {"unknown-circuit",
     LB_ERROR,
     {{"jobs.csv", "m1,brakes,,brake-fluid,,\n", false}},
     {{"jobs.csv", "m1,brakes,,coolant,,\n", false}},
     "jobs.csv",
     4,
     "\"brake-fluid\""},
    {"unreached",
     LB_WARNING,
     {{"components.csv", "m1,horn,water-pump,,,,,\n", false}},
     {{"components.csv", "m1,horn,water-pump,,,,20000,\n", false}},
     "components.csv",
     6,
     "no job gets to horn"},
    {"unreached",
     LB_WARNING,
     {{"components.csv", "m1,horn,water-pump,,,,,\n", false}},
     {{"components.csv", "m1,horn,water-pump,,,,,\n", false},
      {"access.csv", "m1,cover,horn,aside,,\n", false}},
     "components.csv",
     6,
     "no job gets to horn"},
    {"unreached",
     LB_WARNING,
     {{"circuits.csv", "m1,oil,4,grease,,,,\n", false}},
     {{"circuits.csv", "m1,oil,4,grease,,,,\n", false}, {"jobs.csv", "m1,oil,,oil,,\n", false}},
     "circuits.csv",
     4,
     "no job drains oil"},
    {"no-jobs", LB_NOTE, {{"jobs.csv", "", true}}, {{0}}, "components.csv", 2, "m1 has no jobs"},
    {"dead-step",
     LB_WARNING,
     {{"sequence.csv", "m1,remove cover,remove belt,\n", false}},
     {{"sequence.csv", "m1,loosen cover,remove belt,\nm1,close cover,tighten pump,\n", false}},
     "sequence.csv",
     4,
     "the steps of cover are open, close, loosen and tighten."},
    {"dead-step",
     LB_WARNING,
     {{"sequence.csv", "m1,set-aside belt,open cover,\n", false}},
     {{"sequence.csv", "m1,set-aside belt,open cover,\n", false},
      {"access.csv", "m1,filter,belt,aside,,\n", false}},
     "sequence.csv",
     4,
     "and no access row sets it aside."},
    {"dead-step",
     LB_WARNING,
     {{"sequence.csv", "m1,fit pump,top-up coolant,\n", false}},
     {{"sequence.csv", "m1,fit pump,bleed coolant,\n", false}},
     "sequence.csv",
     4,
     "`top-up coolant`, so the row says nothing: a circuit has drain, fill and bleed"},
    {"before-itself",
     LB_ERROR,
     {{"sequence.csv", "m1,fit pump,fit pump,\n", false}},
     {{"sequence.csv", "m1,fit pump,fit belt,\n", false}},
     "sequence.csv",
     4,
     "`fit pump` cannot come before"},
    {"needs-itself",
     LB_ERROR,
     {{"access.csv", "m1,cover,cover,removed,,\n", false}},
     {{"access.csv", "m1,cover,filter,removed,,\n", false}},
     "access.csv",
     4,
     "cover needs itself"},
    {"access-loop",
     LB_ERROR,
     {{"access.csv", "m1,cover,pump,aside,,\n", false}},
     {{"access.csv", "m1,filter,pump,aside,,\n", false}},
     "access.csv",
     2,
     "(access.csv:3), cover needs pump (access.csv:4). Remove or change one of these rows. Met in the job "
     "pump."},
    /* the loop is closed only where the belt is removed, as the filter's job has it */
    {"access-loop",
     LB_ERROR,
     {{"access.csv", "m1,filter,belt,removed,,\nm1,belt,filter,removed,removed,\n", false}},
     {{"access.csv", "m1,filter,belt,removed,,\nm1,belt,cover,removed,removed,\n", false}},
     "access.csv",
     4,
     "belt needs filter"},
    /* a loop that no job meets, but --replace would */
    {"access-loop",
     LB_ERROR,
     {{"components.csv", "m1,seat,water-pump,,,,1,\nm1,rail,water-pump,,,,1,\n", false},
      {"access.csv", "m1,seat,rail,removed,,\nm1,rail,seat,removed,,\n", false}},
     {{"components.csv", "m1,seat,water-pump,,,,1,\nm1,rail,water-pump,,,,1,\n", false},
      {"access.csv", "m1,seat,rail,removed,,\n", false}},
     "access.csv",
     4,
     "Met in replacing seat and 1 more."},
    /* rows that exclude each other do not contradict each other */
    {"access-loop",
     LB_ERROR,
     {{"access.csv", "m1,cover,filter,removed,,engine = a\nm1,filter,pump,removed,,ac = no\n", false}},
     {{"access.csv", "m1,cover,filter,removed,,engine = a\nm1,filter,pump,removed,,engine = b\n", false}},
     "access.csv",
     2,
     "Met in the job pump, for a vehicle with engine = a ; ac = no."},
    {"contradiction",
     LB_ERROR,
     {{"sequence.csv", "m1,remove pump,remove belt,\n", false}},
     {{"sequence.csv", "m1,remove belt,remove pump,\n", false}},
     "access.csv",
     2,
     "`remove pump` before `remove belt` (sequence.csv:4)"},
    {"contradiction",
     LB_ERROR,
     {{"sequence.csv", "m1,fit pump,fit filter,ac = yes\nm1,fit filter,fit pump,built < 2003\n", false},
      {"jobs.csv", "m1,pump,filter,,,\n", false}},
     {{"sequence.csv", "m1,fit pump,fit filter,built >= 2003\nm1,fit filter,fit pump,built < 2003\n", false},
      {"jobs.csv", "m1,pump,filter,,,\n", false}},
     "sequence.csv",
     4,
     "for a vehicle with ac = yes ; built = 2000-01-01."},
    {"never-true",
     LB_ERROR,
     {{"cautions.csv", "m1,belt,Sharp.,engine = a ; engine = b\n", false}},
     {{"cautions.csv", "m1,belt,Sharp.,engine = a ; engine != b\n", false}},
     "cautions.csv",
     4,
     "`engine = a ; engine = b`: its clauses contradict each other."},
    {"never-true",
     LB_ERROR,
     {{"cautions.csv", "m1,belt,Sharp.,built >= 2003 ; built < 2002-05\n", false}},
     {{"cautions.csv", "m1,belt,Sharp.,built >= 2003 ; built < 2003-05\n", false}},
     "cautions.csv",
     4,
     "no vehicle can meet"},
    {"unlisted-value",
     LB_WARNING,
     {{"cautions.csv", "m1,belt,Sharp.,engine = c\n", false}},
     {{"cautions.csv", "m1,belt,Sharp.,engine = c|b\n", false}},
     "cautions.csv",
     4,
     "`engine = c` asks for values"},
    {"never-built",
     LB_WARNING,
     {{"cautions.csv", "m1,belt,Sharp.,built >= 2006\nm1,pump,Sharp.,built >= 2006\n", false}},
     {{"cautions.csv", "m1,belt,Sharp.,built >= 2005-12-31\n", false}},
     "cautions.csv",
     4,
     "lies outside the build dates of the platforms rows. 2 rows state it."},
    {"never-filled",
     LB_ERROR,
     {{"circuits.csv", "m1,oil,4,grease,,,,engine = a\n", false},
      {"opens.csv", "m1,filter,oil,90,,\n", false}},
     {{"circuits.csv", "m1,oil,4,grease,,,,engine = a\n", false},
      {"opens.csv", "m1,filter,oil,90,,engine = a ; ac = no\n", false}},
     "opens.csv",
     3,
     "filter opens oil, but no circuits row of it applies to a vehicle with engine = b."},
    {"never-filled",
     LB_ERROR,
     {{"circuits.csv", "m1,oil,4,grease,,,,built < 2003\n", false}, {"jobs.csv", "m1,oil,,oil,,\n", false}},
     {{"circuits.csv", "m1,oil,4,grease,,,,built < 2003\nm1,oil,4,grease,,,,built >= 2003\n", false},
      {"jobs.csv", "m1,oil,,oil,,\n", false}},
     "jobs.csv",
     4,
     "the job drains oil, but no circuits row of it applies to a vehicle with built = 2005-12-31."},
    {"no-diluent",
     LB_ERROR,
     {{"circuits.csv", "m1,oil,4,grease,50,,,\n", false}},
     {{"circuits.csv", "m1,oil,4,grease,100,,,\n", false}},
     "circuits.csv",
     4,
     "oil is mixed"},
    {"mixed-twice",
     LB_WARNING,
     {{"circuits.csv", "m1,oil,4,grease,50,-30,distilled-water,\n", false}},
     {{"circuits.csv", "m1,oil,4,grease,50,,distilled-water,\n", false}},
     "circuits.csv",
     4,
     "oil states both mix_percent and freeze_to: mix_percent counts"},
    {"mixed-twice",
     LB_WARNING,
     {{"circuits.csv", "m1,oil,4,grease,0,0,distilled-water,\n", false}},
     {{"circuits.csv", "m1,oil,4,grease,,0,distilled-water,\n", false}},
     "circuits.csv",
     4,
     "Remove one of them"},
    {"share-zero",
     LB_WARNING,
     {{"opens.csv", "m1,belt,coolant,0,,\n", false}},
     {{"opens.csv", "m1,belt,coolant,0.5,,\n", false}},
     "opens.csv",
     3,
     "belt opens coolant and loses nothing"},
    {"joint-differs",
     LB_ERROR,
     {{"fastenings.csv",
       "m1,pump,j1,clip,push-pin,1,always,x1,7,,,\nm1,belt,j2,clip,push-pin,1,always,x2,7,,,\n", false}},
     {{"fastenings.csv",
       "m1,pump,j1,clip,push-pin,1,always,x1,7,,,ac = yes\nm1,belt,j2,clip,push-pin,1,always,x2,7,,,ac = "
       "no\n",
       false}},
     "fastenings.csv",
     6,
     "j2 of belt and j1 of pump (fastenings.csv:5) are one joint"},
    {"duplicate",
     LB_WARNING,
     {{"fastenings.csv", "m1,pump,pump bolts,bolt,flange-bolt,2,never,M6x1.0x20 8.8,,10,,ac = no\n", false}},
     {{"fastenings.csv", "m1,pump,long bolts,bolt,flange-bolt,2,never,M6x1.0x20 8.8,,10,,ac = no\n", false}},
     "fastenings.csv",
     5,
     "pump bolts of pump: the same stands at fastenings.csv:2; where both rows apply they add up (4 + 2)"},
    {"duplicate",
     LB_WARNING,
     {{"components.csv", "m1,pump,water-pump,,left,ac = yes,,\nm1,pump,water-pump,,left,engine = b,,\n",
       false}},
     {{"components.csv", "m1,pump,water-pump,,left,ac = yes,,\nm1,pump,water-pump,,left,ac = no,,\n", false}},
     "components.csv",
     7,
     "pump: the same stands at components.csv:6"},
    {"duplicate",
     LB_WARNING,
     {{"circuits.csv", "m1,coolant,6.5,coolant-concentrate,50,,distilled-water,ac = yes\n", false}},
     {{0}},
     "circuits.csv",
     4,
     "(7 + 6.5)"},
    {"duplicate",
     LB_WARNING,
     {{"consumables.csv", "m1,pump,grease,0.005,kg,\n", false}},
     {{"consumables.csv", "m1,belt,grease,0.005,kg,\n", false}},
     "consumables.csv",
     3,
     "grease for pump"},
    {"repeated",
     LB_NOTE,
     {{"access.csv", "m1,pump,belt,aside,,ac = yes\n", false}},
     {{"access.csv", "m1,pump,belt,aside,removed,ac = yes\n", false}},
     "access.csv",
     4,
     "pump needs belt: the same stands at access.csv:2"},
    {"repeated",
     LB_NOTE,
     {{"jobs.csv", "m1,pump,pump,,refit,ac = no\n", false}},
     {{"jobs.csv", "m1,pump,belt,,refit,ac = no\n", false}},
     "jobs.csv",
     4,
     "pump in the job pump: the same stands at jobs.csv:2"},
    {"repeated",
     LB_WARNING, /* draw and the sheet refuse such a run */
     {{"pulleys.csv", "m1,belt,1,cover,200,0,100,ribs,,\n", false}},
     {{"pulleys.csv", "m1,belt,3,cover,200,0,100,ribs,,\n", false}},
     "pulleys.csv",
     4,
     "As it stands such a kit's drawing is without this belt."},
    {"no-torque",
     LB_WARNING,
     {{"fastenings.csv",
       "m1,belt,guard bolt,bolt,flange-bolt,1,always,,,,,\nm1,belt,stud "
       "nut,nut,flange-bolt,1,always,,,,,\nm1,belt,guard bolt,bolt,flange-bolt,1,always,M6,,,,ac = no\n",
       false}},
     {{"fastenings.csv",
       "m1,belt,guard bolt,bolt,flange-bolt,1,always,,,5,,\nm1,belt,stud "
       "nut,nut,flange-bolt,1,always,,,,90,\n",
       false}},
     "fastenings.csv",
     5,
     "belt: neither torque nor angle is stated for guard bolt, stud nut."},
    {"torque-high",
     LB_WARNING,
     {{"fastenings.csv", "m1,belt,guard bolt,bolt,flange-bolt,1,always,M6x1.0x16 8.8,,14,90,\n", false}},
     {{"fastenings.csv", "m1,belt,guard bolt,bolt,flange-bolt,1,always,M6x1.0x16 8.8,,13.9,90,\n", false}},
     "fastenings.csv",
     5,
     "guard bolt of belt: 14.0 N·m is 0.1 N·m above the 13.9 N·m at which M6x1.0x16 8.8 carries"},
    {"torque-high",
     LB_WARNING,
     {{"fastenings.csv", "m1,belt,guard bolt,bolt,flange-bolt,1,always,M6x16,,25,,\n", false}},
     {{"fastenings.csv", "m1,belt,guard bolt,bolt,flange-bolt,1,always,M6x16,,22,,\n", false}},
     "fastenings.csv",
     5,
     "were it of class 12.9"},
    {"no-part",
     LB_WARNING,
     {{"consumables.csv", "m1,belt,talc,1,g,\nm1,pump,talc,1,g,\n", false}},
     {{"consumables.csv", "m1,belt,pump-gasket,1,g,\n", false}},
     "consumables.csv",
     3,
     "no catalogue has a part of type talc, which 2 rows ask for. Import"},
    {"no-part",
     LB_NOTE,
     {{"components.csv", "m1,cover,lid,,,,,\n", false}},
     {{"components.csv", "m1,cover,belt-cover,x,,,,\n", false}},
     "components.csv",
     6,
     "no kit buys it"},
    {"not-supplied",
     LB_WARNING,
     {{"fastenings.csv", "m1,belt,guard bolt,bolt,flange-bolt,1,never,M6x1.0x25 8.8,,10,,\n", false}},
     {{"fastenings.csv", "m1,belt,guard bolt,bolt,flange-bolt,1,never,M6x20,,10,,\n", false}},
     "fastenings.csv",
     5,
     "flange-bolt M6x1.0x25 8.8 must not be used again (1 row)"},
    {"not-supplied",
     LB_WARNING,
     {{"fastenings.csv", "m1,belt,ring,o-ring,push-pin,1,never,AS568-214,,,,\n", false},
      {"contents.csv", "Orrin,1,push-pin,18.64x3.53,\n", false}},
     {{"fastenings.csv", "m1,belt,ring,o-ring,push-pin,1,never,AS568-214,,,,\n", false},
      {"contents.csv", "Orrin,1,push-pin,24.99x3.53,\n", false}},
     "fastenings.csv",
     5,
     "push-pin AS568-214"},
    {"belt-run", /* touching is no overlap */
     LB_ERROR,
     {{"pulleys.csv", "m1,belt,1,pump,0,0,100,ribs,,\nm1,belt,2,filter,99,0,100,ribs,900,\n", true}},
     {{"pulleys.csv", "m1,belt,1,pump,0,0,100,ribs,,\nm1,belt,2,filter,100,0,100,ribs,900,\n", true}},
     "pulleys.csv",
     2,
     "belt: pump and filter overlap as the map places them. Check their x, y and diameter. The other row is "
     "pulleys.csv:3."},
    {"belt-run", /* an idler that the belt must be bent by */
     LB_ERROR,
     {{"pulleys.csv", "m1,belt,3,cover,220,-90,60,back,,\n", false}},
     {{"pulleys.csv", "m1,belt,3,cover,220,-75,60,back,,\n", false}},
     "pulleys.csv",
     3,
     "belt: it would cross itself where it leaves filter and cover"},
    {"belt-run", /* a single one for some vehicles, which the belt is on, or not */
     LB_ERROR,
     {{"pulleys.csv", "m1,belt,1,pump,0,0,100,ribs,,\nm1,belt,2,filter,440,0,100,ribs,8,ac = yes\n", true}},
     {{"pulleys.csv", "m1,belt,1,pump,0,0,100,ribs,,\nm1,belt,2,filter,440,0,100,ribs,8,ac = yes\n", true},
      {"components.csv",
       "m1,pump,water-pump,,,,,\nm1,belt,drive-belt,6PK1200,,ac = yes,,\nm1,cover,belt-cover,,,,,open close\n"
       "m1,filter,oil-filter,,,,10000,\n",
       true}},
     "pulleys.csv",
     2,
     "the map has 1: pump. Add the others. This is so for a vehicle with ac ="},
    {"belt-run", /* one of two runs */
     LB_ERROR,
     {{"pulleys.csv",
       "m1,belt,1,pump,0,0,100,ribs,,\nm1,belt,2,filter,440,0,100,ribs,8,engine = "
       "a\nm1,belt,2,filter,40,0,100,ribs,8,engine = b\n",
       true}},
     {{"pulleys.csv",
       "m1,belt,1,pump,0,0,100,ribs,,\nm1,belt,2,filter,440,0,100,ribs,8,engine = "
       "a\nm1,belt,2,filter,440,0,100,ribs,8,engine = b\n",
       true}},
     "pulleys.csv",
     2,
     "The other row is pulleys.csv:4. This is so for a vehicle with engine = b."},
    {"belt-length", /* 2 * 440 + 100 * pi is 1194.159 */
     LB_WARNING,
     {{"pulleys.csv", "m1,belt,1,pump,0,0,100,ribs,,\nm1,belt,2,filter,440,0,100,ribs,5.8,\n", true}},
     {{"pulleys.csv", "m1,belt,1,pump,0,0,100,ribs,,\nm1,belt,2,filter,440,0,100,ribs,5.9,\n", true}},
     "pulleys.csv",
     3,
     "belt: its run is 1194.2 mm long and the tensioner takes up 5.8 mm, but the belt that is asked for, "
     "6PK1200, is 5.8 mm longer than the run. Check the pulleys' x, y, diameter and side, and the belt's "
     "spec (components.csv:3)."},
    {"belt-length", /* without a tensioner nothing can be said */
     LB_WARNING,
     {{"pulleys.csv", "m1,belt,1,pump,0,0,100,ribs,,\nm1,belt,2,filter,460,0,100,ribs,9,\n", true}},
     {{"pulleys.csv", "m1,belt,1,pump,0,0,100,ribs,,\nm1,belt,2,filter,460,0,100,ribs,,\n", true}},
     "pulleys.csv",
     3,
     "6PK1200, is 34.2 mm shorter than the run"},
    {"belt-length", /* without a spec: all parts of the type */
     LB_WARNING,
     {{"components.csv",
       "m1,pump,water-pump,,,,,\nm1,belt,drive-belt,,,,,\nm1,cover,belt-cover,,,,,open close\n"
       "m1,filter,oil-filter,,,,10000,\n",
       true},
      {"parts.csv", "Orrin,20,drive-belt,6PK1220\nOrrin,21,drive-belt,\nOrrin,22,oil-filter,6PK1210\n",
       false},
      {"pulleys.csv", "m1,belt,1,pump,0,0,100,ribs,,\nm1,belt,2,filter,446.5,0,100,ribs,7,\n", true}},
     {{"components.csv",
       "m1,pump,water-pump,,,,,\nm1,belt,drive-belt,,,,,\nm1,cover,belt-cover,,,,,open close\n"
       "m1,filter,oil-filter,,,,10000,\n",
       true},
      {"parts.csv", "Orrin,20,drive-belt,6PK1220\nOrrin,21,drive-belt,6PK1210\nOrrin,22,oil-filter,6PK1210\n",
       false},
      {"pulleys.csv", "m1,belt,1,pump,0,0,100,ribs,,\nm1,belt,2,filter,446.5,0,100,ribs,7,\n", true}},
     "pulleys.csv",
     3,
     "no part of type drive-belt is within that: the nearest is 7.2 mm shorter than the run"},
    {"no-where",
     LB_WARNING,
     {{"cautions.csv", "m1,belt,Sharp.,drive = 4wd\nm1,pump,Sharp.,drive = 4wd ; ac = no\n", false}},
     {{"cautions.csv", "m1,belt,Sharp.,drive = 4wd ; year = 2003\n", false},
      {"facts.csv", "drive,a lever,,\n", false}},
     "cautions.csv",
     4,
     "where the owner reads `drive`, which 2 rows ask for"},
};

/* Every fourth: imports take their time, and the tests of a suite run side by side. */
static void check_faults(size_t from)
{
    for (size_t i = from; i < sizeof faults / sizeof *faults; i += 4) {
        const struct fault *fault = &faults[i];
        struct checked x = check_with(fault->faulty);
        const struct lb_finding *found = find(&x, fault->code);
        if (!found)
            show(&x, fault->code);
        cr_expect(found, "%zu %s: not found", i, fault->code);
        if (found) {
            cr_expect_eq(found->severity, fault->severity, "%zu %s", i, fault->code);
            cr_expect_str_eq(found->file, fault->file, "%zu %s", i, fault->code);
            cr_expect_eq(found->line, fault->line, "%zu %s: line %u", i, fault->code, found->line);
            cr_expect(strstr(found->message, fault->says), "%zu %s: %s", i, fault->code, found->message);
        }
        done(&x);
        x = check_with(fault->twin);
        found = find(&x, fault->code);
        cr_expect_null(found, "%zu %s: the twin has %s", i, fault->code, found ? found->message : "");
        done(&x);
    }
}

Test(map_check, each_fault_and_its_twin)
{
    check_faults(0);
}

Test(map_check, each_fault_and_its_twin_2)
{
    check_faults(1);
}

Test(map_check, each_fault_and_its_twin_3)
{
    check_faults(2);
}

Test(map_check, each_fault_and_its_twin_4)
{
    check_faults(3);
}

Test(map_check, every_fault_once)
{
    /* what stands in several jobs and rows is told once */
    const struct change changes[CHANGES] = {
        {"access.csv", "m1,cover,pump,aside,,\n", false},
        {"jobs.csv", "m1,belt,belt,,,\nm1,both,belt,,,\nm1,both,pump,,,\n", false},
    };
    struct checked x = check_with(changes);
    size_t loops = 0;
    for (size_t i = 0; i < x.report->finding_count; i++)
        loops += strcmp(x.report->findings[i].code, "access-loop") == 0;
    cr_expect_eq(loops, 1);
    cr_expect_eq(x.report->counts[LB_ERROR], 1);
    cr_expect(strstr(find(&x, "access-loop")->message, "Met in the job pump and 2 more."));
    done(&x);
}

Test(map_check, no_such_platform)
{
    struct checked x = check_with(none);
    struct lb_map_report *report;
    cr_expect_eq(lb_map_check(&report, x.store, "m2", &err), LB_DATA);
    cr_expect_null(report);
    cr_expect_str_eq(lb_error_text(&err), "no service map has the platform \"m2\". Did you mean \"m1\"?");
    cr_expect_eq(lb_map_check(&report, x.store, "", &err), LB_DATA);
    done(&x);
}

Test(map_check, more_kinds_of_vehicle_than_are_all_tried)
{
    /* seven facts of three values: a contradiction is followed into the two that it hangs on */
    struct lb_buf rows = {0};
    for (int i = 0; i < 7; i++)
        lb_buf_printf(&rows, "m1,cover,filter,removed,,f%d = a\nm1,cover,filter,removed,,f%d = b|c\n", i, i);
    lb_buf_puts(&rows, "m1,filter,pump,removed,,f3 = c ; f5 = a\n");
    const struct change wrong[CHANGES] = {{"access.csv", rows.text, false}};
    struct checked x = check_with(wrong);
    const struct lb_finding *found = find(&x, "access-loop");
    cr_expect(found && strstr(found->message, "f3 = c ; f5 = a"), "%s", found ? found->message : "none");
    done(&x);
    lb_buf_puts(&rows, "");
    struct lb_buf fine = {0};
    for (int i = 0; i < 7; i++)
        lb_buf_printf(
            &fine,
            "m1,cover,filter,removed,,f%d = a ; f6 = b\nm1,cover,belt,removed,removed,f%d = c ; f%d = a\n", i,
            i, i);
    lb_buf_puts(&fine, "m1,filter,pump,removed,,f6 = c\n");
    const struct change well[CHANGES] = {{"access.csv", fine.text, false}};
    x = check_with(well);
    found = find(&x, "access-loop");
    cr_expect_null(found, "%s", found ? found->message : "");
    done(&x);
    lb_buf_free(&rows);
    lb_buf_free(&fine);
}
