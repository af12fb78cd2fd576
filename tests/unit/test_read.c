#include "importers/read.h"

#include <criterion/criterion.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* What a reading told its sink, as text. */
struct ear {
    FILE *out;
    char *text;
    size_t size;
    long fail_at; /* the row call that fails, 0: none */
    long rows;
};

static lb_status hear_begin(void *context, const struct lb_kind *const *kinds, int count,
                            struct lb_error *err)
{
    struct ear *ear = context;
    (void)err;
    for (int i = 0; i < count; i++)
        fprintf(ear->out, "%s%s", i ? "+" : "", kinds[i]->name);
    fputc('\n', ear->out);
    return LB_OK;
}

static lb_status hear_row(void *context, const struct lb_row *row, struct lb_error *err)
{
    struct ear *ear = context;
    for (int k = 0; k < row->kind_count; k++) {
        const struct lb_kind *kind = row->kinds[k];
        const struct lb_value *values = row->values[k];
        if (++ear->rows == ear->fail_at)
            return lb_fail(err, LB_SYSTEM, "the disk is full");
        fprintf(ear->out, "%ld %s", row->line, kind->name);
        for (int i = 0; i < kind->column_count; i++)
            if (values[i].type == LB_VALUE_INTEGER)
                fprintf(ear->out, " %s=%lld", kind->columns[i].name, (long long)values[i].integer);
            else if (values[i].type == LB_VALUE_TEXT)
                fprintf(ear->out, " %s=%s", kind->columns[i].name, values[i].text);
        fputc('\n', ear->out);
    }
    return LB_OK;
}

static lb_status hear_reject(void *context, long line, int column, const char *heading, const char *reason,
                             const char *raw, struct lb_error *err)
{
    struct ear *ear = context;
    (void)err;
    cr_expect_not_null(raw);
    fprintf(ear->out, "%ld:%d:%s: %s\n", line, column, heading, reason);
    return LB_OK;
}

static void hear_warning(void *context, long line, const char *words)
{
    fprintf(((struct ear *)context)->out, "%ld? %s\n", line, words);
}

struct result {
    lb_status status;
    struct lb_read_report report;
    struct lb_error err;
    char *told;
};

static struct result read_as(const char *csv, const char *name, const char *supplier, long fail_at)
{
    struct result r = {0};
    struct ear ear = {.fail_at = fail_at};
    ear.out = open_memstream(&ear.text, &ear.size);
    struct lb_read_options options = {.supplier = supplier};
    struct lb_row_sink sink = {&ear, hear_begin, hear_row, hear_reject, hear_warning, NULL};
    struct lb_bytes *in;
    cr_assert_eq(lb_bytes_open_memory(&in, csv, strlen(csv), &r.err), LB_OK);
    r.status = lb_read_bytes(in, name, &options, &sink, &r.report, &r.err);
    lb_bytes_close(in);
    fclose(ear.out);
    r.told = ear.text;
    if (r.status == LB_OK)
        cr_expect_eq(r.report.read, r.report.accepted + r.report.rejected);
    return r;
}

static void forget(struct result *r)
{
    lb_error_free(&r->err);
    free(r->told);
}

static void expect_told(const char *csv, const char *name, const char *supplier, const char *want)
{
    struct result r = read_as(csv, name, supplier, 0);
    cr_expect_eq(r.status, LB_OK, "%s", lb_error_text(&r.err));
    cr_expect_str_eq(r.told, want);
    forget(&r);
}

static void expect_error(const char *csv, const char *name, lb_status status, const char *want)
{
    struct result r = read_as(csv, name, NULL, 0);
    cr_expect_eq(r.status, status);
    cr_expect_str_eq(lb_error_text(&r.err), want);
    forget(&r);
}

/* One row of a kind whose required cells are good, with some columns as given: "heading", "cell", …, NULL. */
static void expect_row(const char *want, const char *headings, const char *cells)
{
    char csv[1000];
    snprintf(csv, sizeof csv, "%s\n%s\n", headings, cells);
    struct result r = read_as(csv, "x.csv", NULL, 0);
    cr_expect_eq(r.status, LB_OK, "%s", lb_error_text(&r.err));
    char *second = strchr(r.told, '\n');
    cr_assert_not_null(second);
    cr_expect_str_eq(second + 1, want);
    cr_expect_eq(r.report.read, 1);
    forget(&r);
}

static const char *headings(const struct lb_kind *kind, bool all, char *out)
{
    out[0] = '\0';
    for (int i = 0; i < kind->column_count; i++)
        if (all || kind->columns[i].required)
            strcat(strcat(out, out[0] ? "," : ""), kind->columns[i].name);
    return out;
}

Test(read, every_kind_by_its_headings)
{
    char csv[1000], want[100];
    for (int k = 0; k < lb_kind_count; k++)
        for (int all = 0; all < 2; all++) {
            snprintf(want, sizeof want, "%s\n", lb_kinds[k].name);
            expect_told(headings(&lb_kinds[k], all, csv), "x.csv", NULL, want);
        }
}

Test(read, headings_in_any_order_and_case)
{
    expect_told("Goods_From; CHARGE ;Supplier\n0;4.90;Nord\n", "x.csv", NULL,
                "shipping\n2 shipping supplier=Nord goods_from=0 charge=4900000\n");
}

Test(read, a_tie_is_settled_by_the_name)
{
    const char *tie = "key,where_to_look,currency,in,rate,supplier,goods_from,charge\n";
    expect_told("currency,in,rate,supplier,goods_from,charge,zzz\n", "in/shipping-2024.csv", NULL,
                "shipping\n0? column 1, \"currency\", is not known to a file of shipping and is ignored\n"
                "0? column 2, \"in\", is not known to a file of shipping and is ignored\n"
                "0? column 3, \"rate\", is not known to a file of shipping and is ignored\n"
                "0? column 7, \"zzz\", is not known to a file of shipping and is ignored\n");
    expect_error(
        tie, "rates/x.csv", LB_DATA,
        "these columns make a file of shipping as well as one of rates; put the kind into the file's name");
    expect_told("platform,component,part_type,quantity,unit\n", "components.csv", NULL, "components\n");
    expect_told("platform,component,part_type,quantity,unit\n", "x.csv", NULL, "consumables\n");
}

/* A required column left out must never turn a file into one of another kind, whatever that kind would take.
 */
Test(read, one_column_short_is_refused)
{
    for (int k = 0; k < lb_kind_count; k++) {
        for (int left_out = 0; left_out < lb_kinds[k].column_count; left_out++) {
            char csv[1024] = "";
            if (!lb_kinds[k].columns[left_out].required)
                continue;
            for (int i = 0; i < lb_kinds[k].column_count; i++)
                if (i != left_out)
                    strcat(strcat(csv, *csv ? "," : ""), lb_kinds[k].columns[i].name);
            struct result r = read_as(strcat(csv, "\n"), "x.csv", NULL, 0);
            cr_expect_eq(r.status, LB_DATA, "%s without %s became %s", lb_kinds[k].name,
                         lb_kinds[k].columns[left_out].name, r.told);
            forget(&r);
        }
    }
}

Test(read, no_kind)
{
    expect_error("supplier,brand,part_number,price\n", "x.csv", LB_DATA,
                 "these columns make no kind of file; the nearest is offers, which also needs currency");
    expect_error("brand,part_number,make\n", "parts.csv", LB_DATA,
                 "these columns make no kind of file; the nearest is parts, which also needs part_type");
    expect_error("brand,name\n", "offers.csv", LB_DATA,
                 "these columns make no kind of file; the nearest is offers, which also needs supplier, "
                 "part_number, price and currency");
    expect_error("1,2,3\n4,5,6\n", "x.csv", LB_DATA,
                 "the first row names no column of any kind of file; is the row of headings missing?");
    expect_error("\n\n", "x.csv", LB_DATA, "the file is empty: there is no row of headings");
    expect_error("gr\xFC"
                 "n,b\n",
                 "x.csv", LB_DATA, "the row of headings cannot be read: the bytes are not UTF-8");
    expect_error("supplier,charge,goods_from,Charge\n", "x.csv", LB_DATA,
                 "the heading \"charge\" is there twice, in column 2 and column 4");
}

Test(read, where_a_file_error_is)
{
    struct result r = read_as("\nsupplier,charge,goods_from,Charge\n", "x.csv", NULL, 0);
    cr_expect_eq(r.err.row, 2);
    cr_expect_eq(r.err.column, 4);
    cr_expect_str_eq(r.err.file, "x.csv");
    forget(&r);
}

Test(read, unknown_columns_are_told_once)
{
    expect_told(
        "platform,component,part_type,qantity,colour\na,b,c,4,red\na,b,d,4,red\n", "x.csv", NULL,
        "components\n"
        "0? column 4, \"qantity\", is not known to a file of components and is ignored; did you mean "
        "\"quantity\"?\n"
        "0? column 5, \"colour\", is not known to a file of components and is ignored\n"
        "2 components platform=a component=b part_type=c quantity=1000000 unit=each steps=remove fit\n"
        "3 components platform=a component=b part_type=d quantity=1000000 unit=each steps=remove fit\n");
}

Test(read, three_kinds_from_one_row)
{
    expect_told(
        "supplier,brand,part_number,part_type,unit,pack_quantity,price,currency,make,model\n"
        "Nord,ACME,1,coolant,mL,1.5 L,9.5,eur,Sample,One\n"
        "Nord,ACME,2,,mL,1,9.50,EUR,Sample,One\n"
        "Nord,ACME,3,coolant,mL,1,9.505,EUR,Sample,One\n",
        "x.csv", NULL,
        "offers+applications+parts\n"
        "2 offers supplier=Nord brand=ACME part_number=1 price=950 currency=EUR pack_quantity=1500000000 "
        "minimum_packs=1\n"
        "2 applications brand=ACME part_number=1 make=Sample model=One\n"
        "2 parts brand=ACME part_number=1 part_type=coolant unit=mL status=current\n"
        "3:4:part_type: part_type must be stated\n"
        "4:7:price: \"9.505\" has more decimal places than its currency\n");
}

Test(read, a_fixed_supplier)
{
    expect_told("brand,part_number,price,currency,part_type\nA,1,2,JPY,bolt\n", "x.csv", "Nord",
                "offers+parts\n"
                "2 offers supplier=Nord brand=A part_number=1 price=2 currency=JPY pack_quantity=1000000 "
                "minimum_packs=1\n"
                "2 parts brand=A part_number=1 part_type=bolt unit=each status=current\n");
    expect_told("supplier,goods_from,charge\n,0,5\nOst,0,5\n", "x.csv", "Nord",
                "shipping\n2 shipping supplier=Nord goods_from=0 charge=5000000\n"
                "3 shipping supplier=Ost goods_from=0 charge=5000000\n");
}

#define OFFER "supplier,brand,part_number,price,currency"

Test(read, offers_refused_in_words)
{
    expect_row("2:4:price: price must not be negative\n", OFFER, "N,A,1,-1,EUR");
    expect_row("2:4:price: \"dear\" is not an amount of money\n", OFFER, "N,A,1,dear,EUR");
    expect_row("2:4:price: price must be stated\n", OFFER, "N,A,1,,EUR");
    expect_row("2:5:currency: \"EURO\" is not a currency code of ISO 4217, such as EUR\n", OFFER,
               "N,A,1,1,EURO");
    expect_row("2:6:pack_quantity: pack_quantity must be above 0\n", OFFER ",pack_quantity", "N,A,1,1,EUR,0");
    expect_row("2:6:pack_quantity: \"1,5\" is not a number\n", OFFER ",pack_quantity", "N,A,1,1,EUR,\"1,5\"");
    expect_row("2:6:pack_quantity: \"2 tubes\" has a unit that is not known\n", OFFER ",pack_quantity",
               "N,A,1,1,EUR,2 tubes");
    expect_row("2:6:minimum_packs: minimum_packs must be above 0\n", OFFER ",minimum_packs", "N,A,1,1,EUR,0");
    expect_row("2:6:stock: \"2.5\" is not a whole number\n", OFFER ",stock", "N,A,1,1,EUR,2.5");
    expect_row("2:6:lead_days: lead_days must not be negative\n", OFFER ",lead_days", "N,A,1,1,EUR,-1");
    expect_row("2:6:valid_to: 2004-13: month 13 does not exist\n", OFFER ",valid_to", "N,A,1,1,EUR,2004-13");
}

#define FASTENING "platform,component,item,kind,part_type,quantity,reuse"

Test(read, fastenings_refused_in_words)
{
    expect_row("2:8:torque: \"tight\" is not a number\n", FASTENING ",torque",
               "p,c,i,bolt,bolt,4,never,tight");
    expect_row("2:8:torque: torque must be above 0\n", FASTENING ",torque", "p,c,i,bolt,bolt,4,never,0");
    expect_row("2:6:quantity: quantity must be above 0\n", FASTENING, "p,c,i,bolt,bolt,0,never");
    expect_row("2:7:reuse: \"maybe\" is not one of never, check, always\n", FASTENING,
               "p,c,i,bolt,bolt,1,maybe");
    expect_row(
        "2:4:kind: \"rivet\" is not one of bolt, nut, screw, stud, clip, pin, clamp, gasket, seal, o-ring, "
        "sealant\n",
        FASTENING, "p,c,i,rivet,bolt,1,never");
    expect_row("2:8:at: \"gone\" is not one of loosened, aside, removed\n", FASTENING ",at",
               "p,c,i,bolt,bolt,1,never,gone");
}

Test(read, a_condition_refused_in_words)
{
    struct result r = read_as(FASTENING ",when\np,c,i,bolt,bolt,4,never,engine=\n", "x.csv", NULL, 0);
    cr_expect_eq(r.report.rejected, 1);
    cr_expect_eq(strncmp(r.told, "fastenings\n2:8:when: ", 21), 0, "%s", r.told);
    forget(&r);
}

Test(read, other_rows_refused_in_words)
{
    expect_row("2:0:: a row of a job names a component or a circuit; both are empty\n", "platform,job",
               "p,j");
    expect_row("2:3:component: a row of a job names a component or a circuit; both are empty\n",
               "platform,job,component", "p,j,");
    expect_row("2:4:circuit: a row of a job names a component or a circuit, not both; write two rows\n",
               "platform,job,component,circuit", "p,j,c,d");
    expect_row("2:5:built_to: built_to lies before built_from\n", "platform,make,model,built_from,built_to",
               "p,m,n,2004,2003");
    expect_row("2:5:mix_percent: mix_percent is above 100\n",
               "platform,circuit,capacity,fluid_type,mix_percent", "p,c,5,coolant,101");
    expect_row(
        "2:5:freeze_to: freeze_to is colder than -48.3 °C, the coldest that any mixture is tabled for\n",
        "platform,circuit,capacity,fluid_type,freeze_to", "p,c,5,coolant,-60");
    expect_row("2:2:first: \"remove\" is not a step, such as \"remove water-pump\"\n", "platform,first,then",
               "p,remove,fit pump");
    expect_row("2:4:steps: \"off\" is not a pair of verbs, such as \"remove fit\"\n",
               "platform,component,part_type,steps", "p,c,t,off");
    expect_row(
        "2:4:position: \"middle\" is not a position (front or rear, left or right, upper or lower, inner or "
        "outer)\n",
        "platform,component,part_type,position", "p,c,t,middle");
    expect_row("2:3:part_type: part_type must be stated\n", "brand,part_number,part_type", "A,1,\"  \"");
    expect_row("2:3:item_type: item_type must be stated\n", "brand,part_number,item_type", "A,1,");
    expect_row("2:3:rate: rate must be above 0\n", "currency,in,rate", "EUR,USD,0");
}

Test(read, values_and_units)
{
    expect_row("2 circuits platform=p circuit=coolant capacity=3785412 fluid_type=coolant-concentrate "
               "mix_percent=50000000\n",
               "platform,circuit,capacity,fluid_type,mix_percent",
               "P,Coolant,1 gal,Coolant-Concentrate,50 %");
    expect_row("2 opens platform=p component=c circuit=d share_percent=150000000 at=removed\n",
               "platform,component,circuit,share_percent", "p,c,d,150");
    expect_row("2 sequence platform=p first=loosen pulley then=remove drive belt\n", "platform,first,then",
               "p,Loosen  PULLEY,Remove Drive  Belt");
    expect_row("2 consumables platform=p component=c part_type=t quantity=3785411784 unit=mL\n",
               "platform,component,part_type,quantity,unit", "p,c,t,1 gal,mL");
    expect_row("2 consumables platform=p component=c part_type=t quantity=2000000 unit=tube\n",
               "platform,component,part_type,quantity,unit", "p,c,t,2 tube,tube");
    expect_row("2:4:quantity: \"2 kg\" cannot be counted in the unit that the row states\n",
               "platform,component,part_type,quantity,unit", "p,c,t,2 kg,mL");
    expect_row(
        "2 fastenings platform=p component=c item=i kind=sealant part_type=t quantity=50000 reuse=never "
        "unit=L torque=10033053\n",
        FASTENING ",unit,torque", "p,c,i,SEALANT,t,50 ml,Never,,7.4 lbf.ft");
    expect_row(
        "2 components platform=p component=c part_type=t quantity=1000000 unit=each wear_km=80467200000 "
        "inspect=yes steps=disconnect connect\n",
        "platform,component,part_type,wear_km,inspect,steps", "p,c,t,50000 mi,YES,Disconnect Connect");
    expect_row("2 pulleys platform=p belt=b order=1 component=c x=-12500000 y=0 diameter=130000000 side=ribs "
               "slack_mm=0\n",
               "platform,belt,order,component,x,y,diameter,side,slack_mm", "p,b,1,c,-12.5,0,13 cm,ribs,0");
}

Test(read, a_wrong_check_digit_only_warns)
{
    struct result r = read_as("brand,part_number,part_type,gtin\nA,1,t,4006381333932\n", "x.csv", NULL, 0);
    cr_expect_eq(r.report.accepted, 1);
    cr_expect_not_null(strstr(r.told, "2? gtin \"4006381333932\": "), "%s", r.told);
    forget(&r);
}

Test(read, a_row_that_is_no_row)
{
    expect_told("supplier,goods_from,charge\nN,\"0,5\nN,0\nN,1,5\n", "x.csv", NULL,
                "shipping\n2:2:goods_from: a quote is opened in this line and not closed\n"
                "3:0:: the row has 2 cells, the heading 3\n"
                "4 shipping supplier=N goods_from=1000000 charge=5000000\n");
}

Test(read, the_failure_of_a_sink_ends_it)
{
    struct result r = read_as("supplier,goods_from,charge\nN,0,5\nN,1,5\nN,2,5\n", "x.csv", NULL, 2);
    cr_expect_eq(r.status, LB_SYSTEM);
    cr_expect_str_eq(lb_error_text(&r.err), "the disk is full");
    cr_expect_str_eq(r.told, "shipping\n2 shipping supplier=N goods_from=0 charge=5000000\n");
    forget(&r);
}

Test(read, a_file_that_is_not_there)
{
    struct lb_read_report report;
    struct lb_error err = {0};
    struct lb_row_sink sink = {0};
    cr_expect_eq(lb_read_file("/no/such/file.csv", NULL, &sink, &report, &err), LB_SYSTEM);
    cr_expect_not_null(strstr(lb_error_text(&err), "/no/such/file.csv"));
    lb_error_free(&err);
    cr_expect_eq(lb_read_file("/", NULL, &sink, &report, &err), LB_SYSTEM);
    cr_expect_str_eq(lb_error_text(&err), "/ cannot be read: Is a directory");
    lb_error_free(&err);
}
