CREATE TABLE access (
    id INTEGER PRIMARY KEY, platform TEXT NOT NULL, component TEXT NOT NULL, needs TEXT NOT NULL, state TEXT NOT NULL,
    "to" TEXT, "when" TEXT);
CREATE TABLE applications (
    id INTEGER PRIMARY KEY, make_key TEXT NOT NULL, model_key TEXT NOT NULL,
    brand TEXT NOT NULL, part_number TEXT NOT NULL, make TEXT NOT NULL, model TEXT NOT NULL,
    built_from TEXT, built_to TEXT, "when" TEXT, position TEXT, quantity INTEGER);
CREATE TABLE brand (id INTEGER PRIMARY KEY, key TEXT NOT NULL UNIQUE);
CREATE TABLE cautions (
    id INTEGER PRIMARY KEY, platform TEXT NOT NULL, component TEXT NOT NULL, text TEXT NOT NULL, "when" TEXT);
CREATE TABLE circuits (
    id INTEGER PRIMARY KEY, platform TEXT NOT NULL, circuit TEXT NOT NULL, capacity INTEGER NOT NULL, fluid_type TEXT NOT NULL,
    spec TEXT, mix_percent INTEGER, freeze_to INTEGER, diluent_type TEXT, diluent_spec TEXT, "when" TEXT);
CREATE TABLE components (
    id INTEGER PRIMARY KEY, platform TEXT NOT NULL, component TEXT NOT NULL, part_type TEXT NOT NULL, name TEXT,
    quantity INTEGER NOT NULL, unit TEXT, spec TEXT, position TEXT, "when" TEXT,
    wear_km INTEGER, wear_months INTEGER, inspect TEXT, steps TEXT);
CREATE TABLE consumables (
    id INTEGER PRIMARY KEY, platform TEXT NOT NULL, component TEXT NOT NULL, part_type TEXT NOT NULL, quantity INTEGER NOT NULL,
    unit TEXT NOT NULL, spec TEXT, at TEXT, "when" TEXT, note TEXT);
CREATE TABLE contents (
    id INTEGER PRIMARY KEY, part TEXT NOT NULL, item TEXT,
    brand TEXT NOT NULL, part_number TEXT NOT NULL, item_type TEXT NOT NULL,
    item_brand TEXT, item_number TEXT, item_spec TEXT, quantity INTEGER NOT NULL);
CREATE TABLE crossrefs (
    id INTEGER PRIMARY KEY, part TEXT NOT NULL, other TEXT NOT NULL,
    brand TEXT NOT NULL, part_number TEXT NOT NULL, other_brand TEXT NOT NULL, other_number TEXT NOT NULL,
    relation TEXT NOT NULL, note TEXT);
CREATE TABLE edition (id INTEGER PRIMARY KEY, source INTEGER NOT NULL, first INTEGER NOT NULL, hashes BLOB NOT NULL);
CREATE TABLE facts (
    id INTEGER PRIMARY KEY, "key" TEXT NOT NULL, where_to_look TEXT NOT NULL, "values" TEXT, platform TEXT);
CREATE TABLE fastenings (
    id INTEGER PRIMARY KEY, platform TEXT NOT NULL, component TEXT NOT NULL, item TEXT NOT NULL, kind TEXT NOT NULL,
    part_type TEXT NOT NULL, quantity INTEGER NOT NULL, unit TEXT, reuse TEXT NOT NULL, spec TEXT, joint TEXT,
    torque INTEGER, angle INTEGER, tool TEXT, at TEXT, "when" TEXT, note TEXT);
CREATE TABLE fitting (
    vehicle INTEGER PRIMARY KEY REFERENCES vehicle(id) ON DELETE CASCADE,
    stamp TEXT NOT NULL,   -- of the index and the vehicle that it was made from
    parts BLOB NOT NULL);
CREATE TABLE fleet (id INTEGER PRIMARY KEY, name TEXT NOT NULL UNIQUE COLLATE NOCASE);
CREATE TABLE former (
    id INTEGER PRIMARY KEY, source INTEGER NOT NULL, kind TEXT NOT NULL, part TEXT, line INTEGER NOT NULL,
    gone TEXT NOT NULL, cells TEXT NOT NULL);
CREATE TABLE jobs (
    id INTEGER PRIMARY KEY, platform TEXT NOT NULL, job TEXT NOT NULL, component TEXT, circuit TEXT, action TEXT NOT NULL, "when" TEXT);
CREATE TABLE kit (
    id INTEGER PRIMARY KEY,
    name TEXT NOT NULL UNIQUE COLLATE NOCASE,
    vehicle INTEGER NOT NULL REFERENCES vehicle(id), fleet INTEGER REFERENCES fleet(id) ON DELETE CASCADE, place INTEGER);
CREATE TABLE kit_decision (
    kit INTEGER NOT NULL REFERENCES kit(id) ON DELETE CASCADE,
    line_key TEXT NOT NULL,
    decision TEXT NOT NULL CHECK (decision IN ('buy', 'have', 'reuse', 'drop')),
    brand TEXT, part_number TEXT,
    PRIMARY KEY (kit, line_key)) WITHOUT ROWID;
CREATE TABLE kit_lock (
    kit INTEGER PRIMARY KEY REFERENCES kit(id) ON DELETE CASCADE,
    locked TEXT NOT NULL,
    text TEXT NOT NULL);
CREATE TABLE kit_target (
    kit INTEGER NOT NULL REFERENCES kit(id) ON DELETE CASCADE,
    "order" INTEGER NOT NULL,
    kind TEXT NOT NULL CHECK (kind IN ('job', 'replace')),
    name TEXT NOT NULL,
    PRIMARY KEY (kit, "order")) WITHOUT ROWID;
CREATE TABLE log (
    id INTEGER PRIMARY KEY,
    vehicle INTEGER NOT NULL REFERENCES vehicle(id) ON DELETE CASCADE,
    day INTEGER NOT NULL,
    km INTEGER,                          -- what the odometer showed; NULL: nobody looked
    swapped INTEGER NOT NULL DEFAULT 0,  -- 1: another odometer counts from here
    done TEXT,                           -- the job or component
    kit TEXT, note TEXT);
CREATE TABLE log_component (
    log INTEGER NOT NULL REFERENCES log(id) ON DELETE CASCADE,
    component TEXT NOT NULL,
    PRIMARY KEY (log, component)) WITHOUT ROWID;
CREATE TABLE log_part (
    id INTEGER PRIMARY KEY,
    log INTEGER NOT NULL REFERENCES log(id) ON DELETE CASCADE,
    part TEXT NOT NULL, brand TEXT NOT NULL, part_number TEXT NOT NULL,
    quantity INTEGER, unit TEXT,
    batch TEXT);
CREATE TABLE lookup (
    run INTEGER NOT NULL, key BLOB NOT NULL, first INTEGER NOT NULL, block INTEGER NOT NULL,
    PRIMARY KEY (run, key, first)) WITHOUT ROWID;
CREATE TABLE lookup_block (id INTEGER PRIMARY KEY, pairs BLOB NOT NULL);
CREATE TABLE lookup_run (run INTEGER PRIMARY KEY, pairs INTEGER NOT NULL);
CREATE TABLE offers (
    id INTEGER PRIMARY KEY, supplier TEXT NOT NULL, brand TEXT NOT NULL, part_number TEXT NOT NULL,
    price INTEGER NOT NULL, currency TEXT NOT NULL, supplier_code TEXT,
    pack_quantity INTEGER NOT NULL, minimum_packs INTEGER NOT NULL, stock INTEGER, lead_days INTEGER,
    core_deposit INTEGER, valid_to TEXT);
CREATE TABLE opens (
    id INTEGER PRIMARY KEY, platform TEXT NOT NULL, component TEXT NOT NULL, circuit TEXT NOT NULL, share_percent INTEGER NOT NULL,
    at TEXT, "when" TEXT);
CREATE TABLE order_line (
    id INTEGER PRIMARY KEY,
    "order" INTEGER NOT NULL REFERENCES orders(id) ON DELETE CASCADE,
    part TEXT NOT NULL, brand TEXT NOT NULL, part_number TEXT NOT NULL, unit TEXT NOT NULL,
    supplier_code TEXT,
    packs INTEGER NOT NULL, pack_quantity INTEGER NOT NULL,
    price INTEGER NOT NULL, deposit INTEGER NOT NULL,   -- a pack, in the currency of the order
    came INTEGER NOT NULL DEFAULT 0,                    -- as it should be
    wrong INTEGER NOT NULL DEFAULT 0, damaged INTEGER NOT NULL DEFAULT 0,
    short INTEGER NOT NULL DEFAULT 0,                   -- will not come
    first_came TEXT);
CREATE TABLE orders (
    id INTEGER PRIMARY KEY,
    supplier TEXT NOT NULL, label TEXT NOT NULL,   -- as rows refer to it; what people call it
    currency TEXT NOT NULL,
    goods INTEGER NOT NULL, shipping INTEGER NOT NULL, tax INTEGER NOT NULL,   -- as expected
    ordered TEXT NOT NULL,
    expected INTEGER,   -- day; NULL: nobody says
    file TEXT);
CREATE TABLE parts (
    id INTEGER PRIMARY KEY, brand TEXT NOT NULL, part_number TEXT NOT NULL, part_type TEXT NOT NULL,
    description TEXT, spec TEXT, unit TEXT /* NULL: each */, gtin TEXT, status TEXT /* NULL: current */, maker_part TEXT);
CREATE TABLE platforms (
    id INTEGER PRIMARY KEY, make_key TEXT NOT NULL, model_key TEXT NOT NULL,
    platform TEXT NOT NULL, make TEXT NOT NULL, model TEXT NOT NULL,
    built_from TEXT, built_to TEXT, "when" TEXT);
CREATE TABLE preference (
    part_type TEXT PRIMARY KEY,
    premium INTEGER NOT NULL CHECK (premium > 0)   -- millionths of a percent point
) WITHOUT ROWID;
CREATE TABLE price_was (
    id INTEGER PRIMARY KEY, row INTEGER NOT NULL, price INTEGER NOT NULL, currency TEXT NOT NULL, until TEXT NOT NULL);
CREATE TABLE pulleys (
    id INTEGER PRIMARY KEY, platform TEXT NOT NULL, belt TEXT NOT NULL, "order" INTEGER NOT NULL, component TEXT NOT NULL,
    x INTEGER NOT NULL, y INTEGER NOT NULL, diameter INTEGER NOT NULL, side TEXT NOT NULL,
    slack_mm INTEGER, "when" TEXT);
CREATE TABLE rates (
    id INTEGER PRIMARY KEY, currency TEXT NOT NULL, "in" TEXT NOT NULL, rate INTEGER NOT NULL, date TEXT);
CREATE TABLE rule (
    id INTEGER PRIMARY KEY,
    platform TEXT NOT NULL, component TEXT NOT NULL, part_type TEXT NOT NULL,
    quantity INTEGER NOT NULL CHECK (quantity > 0), unit TEXT NOT NULL,
    spec TEXT NOT NULL DEFAULT '',
    missed TEXT NOT NULL,   -- day, ISO 8601
    kit TEXT NOT NULL,      -- in which it was missing
    UNIQUE (platform, component, part_type, spec));
CREATE TABLE rules (
    id INTEGER PRIMARY KEY, platform TEXT NOT NULL, component TEXT NOT NULL, part_type TEXT NOT NULL, quantity INTEGER NOT NULL,
    unit TEXT NOT NULL, missed TEXT NOT NULL, spec TEXT, kit TEXT, "when" TEXT, rule INTEGER);
CREATE TABLE sequence (
    id INTEGER PRIMARY KEY, platform TEXT NOT NULL, "first" TEXT NOT NULL, "then" TEXT NOT NULL, "when" TEXT, note TEXT);
CREATE TABLE shelf (
    part TEXT PRIMARY KEY, brand TEXT NOT NULL, part_number TEXT NOT NULL, part_type TEXT, unit TEXT NOT NULL,
    quantity INTEGER NOT NULL CHECK (quantity > 0),
    opened INTEGER NOT NULL DEFAULT 0,   -- some of it comes from a container that was opened
    since TEXT NOT NULL) WITHOUT ROWID;
CREATE TABLE shipping (
    id INTEGER PRIMARY KEY, supplier TEXT NOT NULL, goods_from INTEGER NOT NULL, charge INTEGER NOT NULL);
CREATE TABLE shown (
    id INTEGER PRIMARY KEY,
    kits TEXT NOT NULL UNIQUE,
    at TEXT NOT NULL,
    arrive_by INTEGER,            -- day; NULL: any
    suppliers_at_most INTEGER NOT NULL,
    seconds INTEGER NOT NULL,     -- thousandths
    currency TEXT NOT NULL, total INTEGER NOT NULL);
CREATE TABLE shown_line (
    id INTEGER PRIMARY KEY,
    shown INTEGER NOT NULL REFERENCES shown(id) ON DELETE CASCADE,
    part TEXT NOT NULL, supplier TEXT NOT NULL, supplier_code TEXT,
    packs INTEGER NOT NULL, pack_quantity INTEGER NOT NULL,
    price INTEGER NOT NULL, currency TEXT NOT NULL);
CREATE TABLE shown_supplier (
    shown INTEGER NOT NULL REFERENCES shown(id) ON DELETE CASCADE,
    "only" INTEGER NOT NULL,      -- 1: --only, 0: --without
    name TEXT NOT NULL,
    PRIMARY KEY (shown, "only", name)) WITHOUT ROWID;
CREATE TABLE source (
    id INTEGER PRIMARY KEY,
    name TEXT NOT NULL UNIQUE,       -- what people see: the path below the imported folder
    path TEXT NOT NULL UNIQUE,       -- absolute
    supplier TEXT,                   -- the one fixed for the whole file
    fingerprint TEXT NOT NULL,       -- of the bytes: an unchanged file changes nothing
    kinds TEXT NOT NULL,             -- kinds joined with '+'
    rows_read INTEGER NOT NULL,
    rows_rejected INTEGER NOT NULL,
    imported TEXT NOT NULL           -- UTC, ISO 8601
, reading TEXT NOT NULL DEFAULT '', profile TEXT NOT NULL DEFAULT '');
CREATE TABLE span (
    first INTEGER PRIMARY KEY, count INTEGER NOT NULL, source INTEGER NOT NULL, line INTEGER NOT NULL);
CREATE TABLE spelling (id INTEGER PRIMARY KEY, length INTEGER NOT NULL, words BLOB NOT NULL);
CREATE TABLE state (next_row INTEGER NOT NULL, stale INTEGER NOT NULL, lookup_version INTEGER NOT NULL, titles INTEGER NOT NULL DEFAULT 0, title_words INTEGER NOT NULL DEFAULT 0);
CREATE TABLE supersessions (
    id INTEGER PRIMARY KEY, part TEXT NOT NULL, new TEXT NOT NULL,
    brand TEXT NOT NULL, part_number TEXT NOT NULL, new_brand TEXT NOT NULL, new_number TEXT NOT NULL,
    quantity INTEGER NOT NULL, "group" TEXT, date TEXT);
CREATE TABLE suppliers (
    id INTEGER PRIMARY KEY, supplier TEXT NOT NULL, currency TEXT NOT NULL, name TEXT,
    minimum_order INTEGER, ship_days INTEGER, tax_percent INTEGER);
CREATE TABLE supply (
    id INTEGER PRIMARY KEY,
    kit INTEGER NOT NULL REFERENCES kit(id) ON DELETE CASCADE,
    line_key TEXT NOT NULL,
    part TEXT NOT NULL, brand TEXT NOT NULL, part_number TEXT NOT NULL,
    beside INTEGER NOT NULL DEFAULT 0,           -- 1: goes together with the part that answers the line
    order_line INTEGER REFERENCES order_line(id) ON DELETE CASCADE,   -- NULL: from the shelf
    quantity INTEGER NOT NULL,                   -- here, lost and still on its way
    here INTEGER NOT NULL DEFAULT 0,
    lost INTEGER NOT NULL DEFAULT 0,             -- wrong, damaged or short
    returned INTEGER NOT NULL DEFAULT 0);
CREATE TABLE supply_box (
    kit INTEGER NOT NULL REFERENCES kit(id) ON DELETE CASCADE,
    line_key TEXT NOT NULL,
    part TEXT NOT NULL,
    quantity INTEGER NOT NULL,   -- of what the line needs
    PRIMARY KEY (kit, line_key, part)) WITHOUT ROWID;
CREATE TABLE synonyms (id INTEGER PRIMARY KEY, term TEXT NOT NULL, means TEXT NOT NULL, note TEXT);
CREATE TABLE vehicle (
    id INTEGER PRIMARY KEY,
    name TEXT NOT NULL UNIQUE COLLATE NOCASE,
    make TEXT NOT NULL, model TEXT NOT NULL, built TEXT, vin TEXT);
CREATE TABLE vehicle_fact (
    vehicle INTEGER NOT NULL REFERENCES vehicle(id) ON DELETE CASCADE,
    key TEXT NOT NULL, value TEXT NOT NULL,
    PRIMARY KEY (vehicle, key)) WITHOUT ROWID;
CREATE TABLE word (word TEXT PRIMARY KEY, titles INTEGER NOT NULL) WITHOUT ROWID;
CREATE INDEX access_platform ON access(platform);
CREATE INDEX applications_vehicle ON applications(make_key, model_key);
CREATE INDEX cautions_platform ON cautions(platform);
CREATE INDEX circuits_platform ON circuits(platform);
CREATE INDEX components_platform ON components(platform);
CREATE INDEX consumables_platform ON consumables(platform);
CREATE INDEX contents_part ON contents(part);
CREATE INDEX contents_type ON contents(item_type);
CREATE INDEX crossrefs_other ON crossrefs(other);
CREATE INDEX crossrefs_part ON crossrefs(part);
CREATE INDEX edition_source ON edition(source);
CREATE INDEX fastenings_platform ON fastenings(platform);
CREATE INDEX former_part ON former(part, source);
CREATE INDEX former_source ON former(source);
CREATE INDEX jobs_platform ON jobs(platform);
CREATE INDEX log_part_log ON log_part(log);
CREATE INDEX log_vehicle ON log(vehicle, day);
CREATE INDEX opens_platform ON opens(platform);
CREATE INDEX order_line_order ON order_line("order");
CREATE INDEX order_line_part ON order_line(part);
CREATE INDEX platforms_vehicle ON platforms(make_key, model_key);
CREATE INDEX price_was_row ON price_was(row);
CREATE INDEX rules_platform ON rules(platform);
CREATE INDEX sequence_platform ON sequence(platform);
CREATE INDEX shown_line_shown ON shown_line(shown);
CREATE INDEX span_source ON span(source);
CREATE INDEX spelling_length ON spelling(length);
CREATE INDEX supersessions_new ON supersessions(new);
CREATE INDEX supersessions_part ON supersessions(part);
CREATE INDEX supply_kit ON supply(kit, line_key);
CREATE INDEX supply_order_line ON supply(order_line);
