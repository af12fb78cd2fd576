-- The owner's own rows about buying: what lies on the shelf, what was shown, ordered and came, whose parts are preferred.
-- A part is named by its key (src/catalog/partkey.h) and as it was written then, so that it can be told when no catalogue
-- lists it any more. Quantities are millionths of the unit that the part is counted in (each, L, g, mm, or a word of its
-- own); money is minor units; days are days since 1970-01-01; times are UTC, ISO 8601. A line of a kit is named by what it
-- is for, as in kit_decision.

CREATE TABLE shelf (
    part TEXT PRIMARY KEY, brand TEXT NOT NULL, part_number TEXT NOT NULL, part_type TEXT, unit TEXT NOT NULL,
    quantity INTEGER NOT NULL CHECK (quantity > 0),
    opened INTEGER NOT NULL DEFAULT 0,   -- some of it comes from a container that was opened
    since TEXT NOT NULL) WITHOUT ROWID;

-- How much dearer the vehicle maker's own part of a type may be before another is taken.
CREATE TABLE preference (
    part_type TEXT PRIMARY KEY,
    premium INTEGER NOT NULL CHECK (premium > 0)   -- millionths of a percent point
) WITHOUT ROWID;

-- One parcel.
CREATE TABLE orders (
    id INTEGER PRIMARY KEY,
    supplier TEXT NOT NULL, label TEXT NOT NULL,   -- as rows refer to it; what people call it
    currency TEXT NOT NULL,
    goods INTEGER NOT NULL, shipping INTEGER NOT NULL, tax INTEGER NOT NULL,   -- as expected
    ordered TEXT NOT NULL,
    expected INTEGER,   -- day; NULL: nobody says
    file TEXT);         -- where its list and its mail go, without .csv and .txt, as long as they wait for their names
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
CREATE INDEX order_line_part ON order_line(part);
CREATE INDEX order_line_order ON order_line("order");

-- What a kit's line is answered by: so much of an order line, or of what lay on the shelf.
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
    returned INTEGER NOT NULL DEFAULT 0);        -- packs whose deposit was given back
CREATE INDEX supply_kit ON supply(kit, line_key);
CREATE INDEX supply_order_line ON supply(order_line);
-- What the box of a part that was ordered holds for a line.
CREATE TABLE supply_box (
    kit INTEGER NOT NULL REFERENCES kit(id) ON DELETE CASCADE,
    line_key TEXT NOT NULL,
    part TEXT NOT NULL,
    quantity INTEGER NOT NULL,   -- of what the line needs
    PRIMARY KEY (kit, line_key, part)) WITHOUT ROWID;

-- The basket that was shown last for a set of kits (their ids, ascending, joined with a blank), how it was asked for, and
-- what it would buy.
CREATE TABLE shown (
    id INTEGER PRIMARY KEY,
    kits TEXT NOT NULL UNIQUE,
    at TEXT NOT NULL,
    arrive_by INTEGER,            -- day; NULL: any
    suppliers_at_most INTEGER NOT NULL,
    seconds INTEGER NOT NULL,     -- thousandths
    currency TEXT NOT NULL, total INTEGER NOT NULL);
CREATE TABLE shown_supplier (
    shown INTEGER NOT NULL REFERENCES shown(id) ON DELETE CASCADE,
    "only" INTEGER NOT NULL,      -- 1: --only, 0: --without
    name TEXT NOT NULL,
    PRIMARY KEY (shown, "only", name)) WITHOUT ROWID;
CREATE TABLE shown_line (
    id INTEGER PRIMARY KEY,
    shown INTEGER NOT NULL REFERENCES shown(id) ON DELETE CASCADE,
    part TEXT NOT NULL, supplier TEXT NOT NULL, supplier_code TEXT,
    packs INTEGER NOT NULL, pack_quantity INTEGER NOT NULL,
    price INTEGER NOT NULL, currency TEXT NOT NULL);   -- a pack, as the offer has it
CREATE INDEX shown_line_shown ON shown_line(shown);

-- How a source was read, as a profile: what an order to its supplier is written by. '': by lastbolt's own column names.
ALTER TABLE source ADD COLUMN profile TEXT NOT NULL DEFAULT '';
