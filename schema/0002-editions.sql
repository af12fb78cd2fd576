-- Millions of rows, edition after edition. A row of a file is a row of the index: one id, the same in every table that
-- the row feeds. It is never changed: where it stands (source and line) is told by spans of ids, and a row that says
-- something else in the next edition is another row. A row that no span holds is not there. Part numbers, words and types
-- are found by `lookup`, which is derived from the rows and can be made again from them.

ALTER TABLE suppliers RENAME TO old_suppliers;
ALTER TABLE shipping RENAME TO old_shipping;
ALTER TABLE rates RENAME TO old_rates;
ALTER TABLE parts RENAME TO old_parts;
ALTER TABLE offers RENAME TO old_offers;
ALTER TABLE applications RENAME TO old_applications;
ALTER TABLE crossrefs RENAME TO old_crossrefs;
ALTER TABLE supersessions RENAME TO old_supersessions;
ALTER TABLE contents RENAME TO old_contents;
ALTER TABLE platforms RENAME TO old_platforms;
ALTER TABLE components RENAME TO old_components;
ALTER TABLE fastenings RENAME TO old_fastenings;
ALTER TABLE access RENAME TO old_access;
ALTER TABLE sequence RENAME TO old_sequence;
ALTER TABLE circuits RENAME TO old_circuits;
ALTER TABLE opens RENAME TO old_opens;
ALTER TABLE consumables RENAME TO old_consumables;
ALTER TABLE cautions RENAME TO old_cautions;
ALTER TABLE jobs RENAME TO old_jobs;
ALTER TABLE facts RENAME TO old_facts;
ALTER TABLE pulleys RENAME TO old_pulleys;
DROP INDEX suppliers_source;
DROP INDEX shipping_source;
DROP INDEX rates_source;
DROP INDEX parts_source;
DROP INDEX parts_part;
DROP INDEX parts_type_spec;
DROP INDEX offers_source;
DROP INDEX offers_part;
DROP INDEX applications_source;
DROP INDEX applications_part;
DROP INDEX applications_vehicle;
DROP INDEX crossrefs_source;
DROP INDEX crossrefs_part;
DROP INDEX crossrefs_other;
DROP INDEX supersessions_source;
DROP INDEX supersessions_part;
DROP INDEX supersessions_new;
DROP INDEX contents_source;
DROP INDEX contents_part;
DROP INDEX contents_type;
DROP INDEX platforms_source;
DROP INDEX platforms_vehicle;
DROP INDEX components_source;
DROP INDEX components_platform;
DROP INDEX fastenings_source;
DROP INDEX fastenings_platform;
DROP INDEX access_source;
DROP INDEX access_platform;
DROP INDEX sequence_source;
DROP INDEX sequence_platform;
DROP INDEX circuits_source;
DROP INDEX circuits_platform;
DROP INDEX opens_source;
DROP INDEX opens_platform;
DROP INDEX consumables_source;
DROP INDEX consumables_platform;
DROP INDEX cautions_source;
DROP INDEX cautions_platform;
DROP INDEX jobs_source;
DROP INDEX jobs_platform;
DROP INDEX facts_source;
DROP INDEX pulleys_source;

ALTER TABLE source ADD COLUMN reading TEXT NOT NULL DEFAULT ''; -- how it was read: headings, profile, encoding
-- Rows first … first + count - 1 stand on lines line, line + 1 … of the source.
CREATE TABLE span (
    first INTEGER PRIMARY KEY, count INTEGER NOT NULL, source INTEGER NOT NULL, line INTEGER NOT NULL);
-- Eight bytes a row, from row `first` on: the hash of its text, 0 where there never was a row. What the next edition of the
-- source is compared by.
CREATE TABLE edition (id INTEGER PRIMARY KEY, source INTEGER NOT NULL, first INTEGER NOT NULL, hashes BLOB NOT NULL);
-- What an offer cost before, oldest first; `until` is when the edition that changed it was imported.
CREATE TABLE price_was (
    id INTEGER PRIMARY KEY, row INTEGER NOT NULL, price INTEGER NOT NULL, currency TEXT NOT NULL, until TEXT NOT NULL);
-- Rows that a later edition no longer lists. `cells` is a JSON object of what the row said, in the index's own units.
CREATE TABLE former (
    id INTEGER PRIMARY KEY, source INTEGER NOT NULL, kind TEXT NOT NULL, part TEXT, line INTEGER NOT NULL,
    gone TEXT NOT NULL, cells TEXT NOT NULL);

-- Derived. Brands as part keys write them, and sorted (key, row id) pairs packed into blocks, run by run
-- (src/store/pairs.h). A block's first key and id tell where to look; blocks are kept apart, so that they are appended
-- and packed tight.
CREATE TABLE brand (id INTEGER PRIMARY KEY, key TEXT NOT NULL UNIQUE);
CREATE TABLE lookup_run (run INTEGER PRIMARY KEY, pairs INTEGER NOT NULL);
CREATE TABLE lookup (
    run INTEGER NOT NULL, key BLOB NOT NULL, first INTEGER NOT NULL, block INTEGER NOT NULL,
    PRIMARY KEY (run, key, first)) WITHOUT ROWID;
CREATE TABLE lookup_block (id INTEGER PRIMARY KEY, pairs BLOB NOT NULL);
-- One row. Ids of rows are never used twice, and rows and lookup are only added to: `stale` rows are in no span any more
-- (changed, gone, of a source that was dropped) and are left out by everyone who reads, until they are many and all is
-- tidied.
CREATE TABLE state (next_row INTEGER NOT NULL, stale INTEGER NOT NULL, lookup_version INTEGER NOT NULL);

CREATE TABLE suppliers (
    id INTEGER PRIMARY KEY, supplier TEXT NOT NULL, currency TEXT NOT NULL, name TEXT,
    minimum_order INTEGER, ship_days INTEGER, tax_percent INTEGER);
CREATE TABLE shipping (
    id INTEGER PRIMARY KEY, supplier TEXT NOT NULL, goods_from INTEGER NOT NULL, charge INTEGER NOT NULL);
CREATE TABLE rates (
    id INTEGER PRIMARY KEY, currency TEXT NOT NULL, "in" TEXT NOT NULL, rate INTEGER NOT NULL, date TEXT);
CREATE TABLE parts (
    id INTEGER PRIMARY KEY, brand TEXT NOT NULL, part_number TEXT NOT NULL, part_type TEXT NOT NULL,
    description TEXT, spec TEXT, unit TEXT /* NULL: each */, gtin TEXT, status TEXT /* NULL: current */, maker_part TEXT);
CREATE TABLE offers (
    id INTEGER PRIMARY KEY, supplier TEXT NOT NULL, brand TEXT NOT NULL, part_number TEXT NOT NULL,
    price INTEGER NOT NULL, currency TEXT NOT NULL, supplier_code TEXT,
    pack_quantity INTEGER NOT NULL, minimum_packs INTEGER NOT NULL, stock INTEGER, lead_days INTEGER,
    core_deposit INTEGER, valid_to TEXT);
CREATE TABLE applications (
    id INTEGER PRIMARY KEY, make_key TEXT NOT NULL, model_key TEXT NOT NULL,
    brand TEXT NOT NULL, part_number TEXT NOT NULL, make TEXT NOT NULL, model TEXT NOT NULL,
    built_from TEXT, built_to TEXT, "when" TEXT, position TEXT, quantity INTEGER);
CREATE TABLE crossrefs (
    id INTEGER PRIMARY KEY, part TEXT NOT NULL, other TEXT NOT NULL,
    brand TEXT NOT NULL, part_number TEXT NOT NULL, other_brand TEXT NOT NULL, other_number TEXT NOT NULL,
    relation TEXT NOT NULL, note TEXT);
CREATE TABLE supersessions (
    id INTEGER PRIMARY KEY, part TEXT NOT NULL, new TEXT NOT NULL,
    brand TEXT NOT NULL, part_number TEXT NOT NULL, new_brand TEXT NOT NULL, new_number TEXT NOT NULL,
    quantity INTEGER NOT NULL, "group" TEXT, date TEXT);
CREATE TABLE contents (
    id INTEGER PRIMARY KEY, part TEXT NOT NULL, item TEXT,
    brand TEXT NOT NULL, part_number TEXT NOT NULL, item_type TEXT NOT NULL,
    item_brand TEXT, item_number TEXT, item_spec TEXT, quantity INTEGER NOT NULL);
CREATE TABLE platforms (
    id INTEGER PRIMARY KEY, make_key TEXT NOT NULL, model_key TEXT NOT NULL,
    platform TEXT NOT NULL, make TEXT NOT NULL, model TEXT NOT NULL,
    built_from TEXT, built_to TEXT, "when" TEXT);
CREATE TABLE components (
    id INTEGER PRIMARY KEY, platform TEXT NOT NULL, component TEXT NOT NULL, part_type TEXT NOT NULL, name TEXT,
    quantity INTEGER NOT NULL, unit TEXT, spec TEXT, position TEXT, "when" TEXT,
    wear_km INTEGER, wear_months INTEGER, inspect TEXT, steps TEXT);
CREATE TABLE fastenings (
    id INTEGER PRIMARY KEY, platform TEXT NOT NULL, component TEXT NOT NULL, item TEXT NOT NULL, kind TEXT NOT NULL,
    part_type TEXT NOT NULL, quantity INTEGER NOT NULL, unit TEXT, reuse TEXT NOT NULL, spec TEXT, joint TEXT,
    torque INTEGER, angle INTEGER, tool TEXT, at TEXT, "when" TEXT, note TEXT);
CREATE TABLE access (
    id INTEGER PRIMARY KEY, platform TEXT NOT NULL, component TEXT NOT NULL, needs TEXT NOT NULL, state TEXT NOT NULL,
    "to" TEXT, "when" TEXT);
CREATE TABLE sequence (
    id INTEGER PRIMARY KEY, platform TEXT NOT NULL, "first" TEXT NOT NULL, "then" TEXT NOT NULL, "when" TEXT, note TEXT);
CREATE TABLE circuits (
    id INTEGER PRIMARY KEY, platform TEXT NOT NULL, circuit TEXT NOT NULL, capacity INTEGER NOT NULL, fluid_type TEXT NOT NULL,
    spec TEXT, mix_percent INTEGER, freeze_to INTEGER, diluent_type TEXT, diluent_spec TEXT, "when" TEXT);
CREATE TABLE opens (
    id INTEGER PRIMARY KEY, platform TEXT NOT NULL, component TEXT NOT NULL, circuit TEXT NOT NULL, share_percent INTEGER NOT NULL,
    at TEXT, "when" TEXT);
CREATE TABLE consumables (
    id INTEGER PRIMARY KEY, platform TEXT NOT NULL, component TEXT NOT NULL, part_type TEXT NOT NULL, quantity INTEGER NOT NULL,
    unit TEXT NOT NULL, spec TEXT, at TEXT, "when" TEXT, note TEXT);
CREATE TABLE cautions (
    id INTEGER PRIMARY KEY, platform TEXT NOT NULL, component TEXT NOT NULL, text TEXT NOT NULL, "when" TEXT);
CREATE TABLE jobs (
    id INTEGER PRIMARY KEY, platform TEXT NOT NULL, job TEXT NOT NULL, component TEXT, circuit TEXT, action TEXT NOT NULL, "when" TEXT);
CREATE TABLE facts (
    id INTEGER PRIMARY KEY, "key" TEXT NOT NULL, where_to_look TEXT NOT NULL, "values" TEXT, platform TEXT);
CREATE TABLE pulleys (
    id INTEGER PRIMARY KEY, platform TEXT NOT NULL, belt TEXT NOT NULL, "order" INTEGER NOT NULL, component TEXT NOT NULL,
    x INTEGER NOT NULL, y INTEGER NOT NULL, diameter INTEGER NOT NULL, side TEXT NOT NULL,
    slack_mm INTEGER, "when" TEXT);

-- One number for all that one line of a file fed.
CREATE TABLE old_row (id INTEGER PRIMARY KEY, source INTEGER NOT NULL, line INTEGER NOT NULL, UNIQUE (source, line));
INSERT INTO old_row (source, line)
    SELECT source, line FROM old_suppliers
UNION
    SELECT source, line FROM old_shipping
UNION
    SELECT source, line FROM old_rates
UNION
    SELECT source, line FROM old_parts
UNION
    SELECT source, line FROM old_offers
UNION
    SELECT source, line FROM old_applications
UNION
    SELECT source, line FROM old_crossrefs
UNION
    SELECT source, line FROM old_supersessions
UNION
    SELECT source, line FROM old_contents
UNION
    SELECT source, line FROM old_platforms
UNION
    SELECT source, line FROM old_components
UNION
    SELECT source, line FROM old_fastenings
UNION
    SELECT source, line FROM old_access
UNION
    SELECT source, line FROM old_sequence
UNION
    SELECT source, line FROM old_circuits
UNION
    SELECT source, line FROM old_opens
UNION
    SELECT source, line FROM old_consumables
UNION
    SELECT source, line FROM old_cautions
UNION
    SELECT source, line FROM old_jobs
UNION
    SELECT source, line FROM old_facts
UNION
    SELECT source, line FROM old_pulleys
    ORDER BY 1, 2;
INSERT INTO span (first, count, source, line)
    SELECT min(id), count(*), source, min(line) FROM old_row GROUP BY source, line - id ORDER BY 1;
INSERT INTO suppliers (id, supplier, currency, name, minimum_order, ship_days, tax_percent)
    SELECT (SELECT id FROM old_row r WHERE r.source = o.source AND r.line = o.line), supplier, currency, name, minimum_order, ship_days, tax_percent
    FROM old_suppliers o;
INSERT INTO shipping (id, supplier, goods_from, charge)
    SELECT (SELECT id FROM old_row r WHERE r.source = o.source AND r.line = o.line), supplier, goods_from, charge
    FROM old_shipping o;
INSERT INTO rates (id, currency, "in", rate, date)
    SELECT (SELECT id FROM old_row r WHERE r.source = o.source AND r.line = o.line), currency, "in", rate, date
    FROM old_rates o;
INSERT INTO parts (id, brand, part_number, part_type, description, spec, unit, gtin, status, maker_part)
    SELECT (SELECT id FROM old_row r WHERE r.source = o.source AND r.line = o.line), brand, part_number, part_type, description, spec, nullif(unit, 'each'), gtin, nullif(status, 'current'), maker_part
    FROM old_parts o;
INSERT INTO offers (id, supplier, brand, part_number, price, currency, supplier_code, pack_quantity, minimum_packs, stock, lead_days, core_deposit, valid_to)
    SELECT (SELECT id FROM old_row r WHERE r.source = o.source AND r.line = o.line), supplier, brand, part_number, price, currency, supplier_code, pack_quantity, minimum_packs, stock, lead_days, core_deposit, valid_to
    FROM old_offers o;
INSERT INTO applications (id, make_key, model_key, brand, part_number, make, model, built_from, built_to, "when", position, quantity)
    SELECT (SELECT id FROM old_row r WHERE r.source = o.source AND r.line = o.line), make_key, model_key, brand, part_number, make, model, built_from, built_to, "when", position, quantity
    FROM old_applications o;
INSERT INTO crossrefs (id, part, other, brand, part_number, other_brand, other_number, relation, note)
    SELECT (SELECT id FROM old_row r WHERE r.source = o.source AND r.line = o.line), part, other, brand, part_number, other_brand, other_number, relation, note
    FROM old_crossrefs o;
INSERT INTO supersessions (id, part, new, brand, part_number, new_brand, new_number, quantity, "group", date)
    SELECT (SELECT id FROM old_row r WHERE r.source = o.source AND r.line = o.line), part, new, brand, part_number, new_brand, new_number, quantity, "group", date
    FROM old_supersessions o;
INSERT INTO contents (id, part, item, brand, part_number, item_type, item_brand, item_number, item_spec, quantity)
    SELECT (SELECT id FROM old_row r WHERE r.source = o.source AND r.line = o.line), part, item, brand, part_number, item_type, item_brand, item_number, item_spec, quantity
    FROM old_contents o;
INSERT INTO platforms (id, make_key, model_key, platform, make, model, built_from, built_to, "when")
    SELECT (SELECT id FROM old_row r WHERE r.source = o.source AND r.line = o.line), make_key, model_key, platform, make, model, built_from, built_to, "when"
    FROM old_platforms o;
INSERT INTO components (id, platform, component, part_type, name, quantity, unit, spec, position, "when", wear_km, wear_months, inspect, steps)
    SELECT (SELECT id FROM old_row r WHERE r.source = o.source AND r.line = o.line), platform, component, part_type, name, quantity, unit, spec, position, "when", wear_km, wear_months, inspect, steps
    FROM old_components o;
INSERT INTO fastenings (id, platform, component, item, kind, part_type, quantity, unit, reuse, spec, joint, torque, angle, tool, at, "when", note)
    SELECT (SELECT id FROM old_row r WHERE r.source = o.source AND r.line = o.line), platform, component, item, kind, part_type, quantity, unit, reuse, spec, joint, torque, angle, tool, at, "when", note
    FROM old_fastenings o;
INSERT INTO access (id, platform, component, needs, state, "to", "when")
    SELECT (SELECT id FROM old_row r WHERE r.source = o.source AND r.line = o.line), platform, component, needs, state, "to", "when"
    FROM old_access o;
INSERT INTO sequence (id, platform, "first", "then", "when", note)
    SELECT (SELECT id FROM old_row r WHERE r.source = o.source AND r.line = o.line), platform, "first", "then", "when", note
    FROM old_sequence o;
INSERT INTO circuits (id, platform, circuit, capacity, fluid_type, spec, mix_percent, freeze_to, diluent_type, diluent_spec, "when")
    SELECT (SELECT id FROM old_row r WHERE r.source = o.source AND r.line = o.line), platform, circuit, capacity, fluid_type, spec, mix_percent, freeze_to, diluent_type, diluent_spec, "when"
    FROM old_circuits o;
INSERT INTO opens (id, platform, component, circuit, share_percent, at, "when")
    SELECT (SELECT id FROM old_row r WHERE r.source = o.source AND r.line = o.line), platform, component, circuit, share_percent, at, "when"
    FROM old_opens o;
INSERT INTO consumables (id, platform, component, part_type, quantity, unit, spec, at, "when", note)
    SELECT (SELECT id FROM old_row r WHERE r.source = o.source AND r.line = o.line), platform, component, part_type, quantity, unit, spec, at, "when", note
    FROM old_consumables o;
INSERT INTO cautions (id, platform, component, text, "when")
    SELECT (SELECT id FROM old_row r WHERE r.source = o.source AND r.line = o.line), platform, component, text, "when"
    FROM old_cautions o;
INSERT INTO jobs (id, platform, job, component, circuit, action, "when")
    SELECT (SELECT id FROM old_row r WHERE r.source = o.source AND r.line = o.line), platform, job, component, circuit, action, "when"
    FROM old_jobs o;
INSERT INTO facts (id, "key", where_to_look, "values", platform)
    SELECT (SELECT id FROM old_row r WHERE r.source = o.source AND r.line = o.line), "key", where_to_look, "values", platform
    FROM old_facts o;
INSERT INTO pulleys (id, platform, belt, "order", component, x, y, diameter, side, slack_mm, "when")
    SELECT (SELECT id FROM old_row r WHERE r.source = o.source AND r.line = o.line), platform, belt, "order", component, x, y, diameter, side, slack_mm, "when"
    FROM old_pulleys o;

DROP TABLE old_suppliers;
DROP TABLE old_shipping;
DROP TABLE old_rates;
DROP TABLE old_parts;
DROP TABLE old_offers;
DROP TABLE old_applications;
DROP TABLE old_crossrefs;
DROP TABLE old_supersessions;
DROP TABLE old_contents;
DROP TABLE old_platforms;
DROP TABLE old_components;
DROP TABLE old_fastenings;
DROP TABLE old_access;
DROP TABLE old_sequence;
DROP TABLE old_circuits;
DROP TABLE old_opens;
DROP TABLE old_consumables;
DROP TABLE old_cautions;
DROP TABLE old_jobs;
DROP TABLE old_facts;
DROP TABLE old_pulleys;
INSERT INTO state VALUES ((SELECT coalesce(max(id), 0) + 1 FROM old_row), 0, 0); -- 0: the lookup is to be made
DROP TABLE old_row;

CREATE INDEX span_source ON span(source);
CREATE INDEX edition_source ON edition(source);
CREATE INDEX price_was_row ON price_was(row);
CREATE INDEX former_source ON former(source);
CREATE INDEX former_part ON former(part, source);
CREATE INDEX applications_vehicle ON applications(make_key, model_key);
CREATE INDEX crossrefs_part ON crossrefs(part);
CREATE INDEX crossrefs_other ON crossrefs(other);
CREATE INDEX supersessions_part ON supersessions(part);
CREATE INDEX supersessions_new ON supersessions(new);
CREATE INDEX contents_part ON contents(part);
CREATE INDEX contents_type ON contents(item_type);
CREATE INDEX platforms_vehicle ON platforms(make_key, model_key);
CREATE INDEX components_platform ON components(platform);
CREATE INDEX fastenings_platform ON fastenings(platform);
CREATE INDEX access_platform ON access(platform);
CREATE INDEX sequence_platform ON sequence(platform);
CREATE INDEX circuits_platform ON circuits(platform);
CREATE INDEX opens_platform ON opens(platform);
CREATE INDEX consumables_platform ON consumables(platform);
CREATE INDEX cautions_platform ON cautions(platform);
CREATE INDEX jobs_platform ON jobs(platform);
